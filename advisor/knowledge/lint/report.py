"""What the lint hands over."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.knowledge.base import Problem
from advisor.knowledge.shapes import Evidence, Standing
from advisor.records import dataclass


@dataclass(frozen=True)
class Tally:
    """What there is in a rule base, counted.

    Attributes:
        materials: materials.
        measures: household measures.
        methods: methods.
        notices: texts for the gardener, by kind.
        questions: questions.
        sources: entries of the bibliography, by standing.
        values: figures (low, typical, high), by the best standing among the sources each cites.
        indirect: figures whose best source prints the value of its kind as a whole, or one it was worked out from.
        undated: sources that were read and show no year.
        readings: published values that the figures rest on.
        rules: rules, by the best standing among the sources each cites.
        by_evidence: rules, by the evidence they claim.
        by_group: rules, by group.
    """

    materials: int
    measures: int
    methods: int
    notices: Mapping[str, int]
    questions: int
    sources: Mapping[Standing, int]
    values: Mapping[Standing, int]
    indirect: int
    undated: int
    readings: int
    rules: Mapping[Standing, int]
    by_evidence: Mapping[Evidence, int]
    by_group: Mapping[str, int]

    @property
    def values_in_all(self) -> int:
        return sum(self.values.values())

    @property
    def values_without_source(self) -> int:
        """Values that rest on an estimate of our own alone."""
        return self.values["none"]

    @property
    def values_from_memory(self) -> int:
        """Values whose best source was recalled and is to be confirmed."""
        return self.values["memory"]

    @property
    def values_of_common_practice(self) -> int:
        """Values that rest on what the trade does, with no publication to point to."""
        return self.values["practice"]

    @property
    def rules_in_all(self) -> int:
        return sum(self.rules.values())


@dataclass(frozen=True)
class Report:
    """Every fault, every remark, and the tally. Faults are to be mended; remarks are to be thought about."""

    faults: tuple[Problem, ...]
    remarks: tuple[Problem, ...]
    tally: Tally

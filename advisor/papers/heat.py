"""The heat of a heap foreseen, as a paper with its chart."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.counsel.heat_shapes import HeatAnswer
from advisor.papers.charts import charts_of
from advisor.papers.paper import Paper
from advisor.papers.sections import Section


def paper(answer: HeatAnswer) -> Paper:
    """The forecast as a paper; the chart comes after what is read first."""
    first, *rest = sections(answer)
    return Paper("How hot the heap can get", (first, *charts_of(answer), *rest))


def sections(answer: HeatAnswer) -> Iterator[Section]:
    """The parts of the answer that have something to say, in the order they are read."""
    found = [
        Section("In short", (answer.verdict,)),
        Section("Your readings", answer.read),
        Section("Its course", answer.course),
        Section("When to turn", answer.turning),
        Section("What if", tuple(change.line for change in answer.changes)),
        Section("How sure this is", answer.doubts),
        Section("Take care", answer.cautions, care=True),
    ]
    yield from (section for section in found if section.lines)

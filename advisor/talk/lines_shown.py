"""Lines put before the person outside the plan, so that they can be asked why: those of answers about materials."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field, replace

from advisor.counsel.plan import Line, Plan
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.talk import answers
from advisor.talk.asking import Asked
from advisor.talk.replies import Reply
from advisor.units import Units


@dataclass(frozen=True)
class LinesShown:
    """The lines of the last answer about materials. One answer may be about several, one after another.

    Attributes:
        lines: by their names.
        kept: those that are told when more is asked for.
        now: whether they were shown by the line that is being answered.
        before: whether by the one before it.
    """

    lines: Mapping[str, Line] = field(default_factory=dict)
    kept: tuple[Line, ...] = ()
    now: bool = False
    before: bool = False

    def next_line(self) -> LinesShown:
        """The same, when something else is being said."""
        return replace(self, before=self.now, now=False)

    def about(
        self, materials: Sequence[str], method: str, knowledge: Knowledge, engine: Engine, units: Units
    ) -> tuple[LinesShown, Reply]:
        """With an answer about a material, or several that a word may mean; its lines go on from those there are."""
        found = answers.about_materials(materials, method, knowledge, engine, units)
        before = self.lines if self.now else {}
        named = [
            line.model_copy(update={"id": f"u{len(before) + n}"})
            for n, line in enumerate((*found.shown, *found.kept), 1)
        ]
        shown, kept = tuple(named[: len(found.shown)]), tuple(named[len(found.shown) :])
        lines = {**before, **{line.id: line for line in named}}
        return replace(self, lines=lines, kept=kept, now=True), Reply("answer", found.first, shown)

    def why(self, about: str, plan: Plan | None, others: Mapping[str, Line], put: Asked | None) -> list[Reply]:
        """Why a line, a question, or what stands; a bare "why" behind an answer about materials is about those."""
        if not about and self.before:
            by_rules = [line for line in self.lines.values() if any(because.rule for because in line.why)]
            return [answers.why_line(line) for line in by_rules]
        return [answers.why(about, plan, {**others, **self.lines}, put)]

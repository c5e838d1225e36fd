"""Lines put before the person outside the plan, so that they can be asked why: those of answers about materials."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.counsel.plan import Line, Plan
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.talk import answers
from advisor.talk.asking import Asked
from advisor.talk.replies import Reply
from advisor.units import Units


class LinesShown:
    """The lines of the last answer about materials. One answer may be about several, one after another."""

    def __init__(self, knowledge: Knowledge, engine: Engine) -> None:
        self.knowledge, self.engine = knowledge, engine
        self.forget()

    def forget(self) -> None:
        """There are none any more."""
        self.lines: dict[str, Line] = {}
        self.kept: tuple[Line, ...] = ()  # told when more is asked for
        self._now, self._before = False, False

    def next_line(self) -> None:
        """Something else is being said."""
        self._before, self._now = self._now, False

    def about(self, materials: Sequence[str], method: str, units: Units) -> Reply:
        """An answer about a material, or several that a word may mean; its lines go on from those of this answer."""
        found = answers.about_materials(materials, method, self.knowledge, self.engine, units)
        before = self.lines if self._now else {}
        named = [
            line.model_copy(update={"id": f"u{len(before) + n}"})
            for n, line in enumerate((*found.shown, *found.kept), 1)
        ]
        shown = tuple(named[: len(found.shown)])
        self.kept = tuple(named[len(found.shown) :])
        self.lines, self._now = {**before, **{line.id: line for line in named}}, True
        return Reply("answer", found.first, shown)

    def why(self, about: str, plan: Plan | None, others: Mapping[str, Line], put: Asked | None) -> list[Reply]:
        """Why a line, a question, or what stands; a bare "why" behind an answer about materials is about those."""
        if not about and self._before:
            by_rules = [line for line in self.lines.values() if any(because.rule for because in line.why)]
            return [answers.why_line(line) for line in by_rules]
        return [answers.why(about, plan, {**others, **self.lines}, put)]

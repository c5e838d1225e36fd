"""A danger that was told and may last: what is said next belongs to it and plans nothing."""

from __future__ import annotations

from dataclasses import replace

from advisor.counsel.danger import meanwhile_reply, past_reply
from advisor.hearing.shapes import Heard, HeardDanger
from advisor.knowledge.answers import shipped_answers
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.talk.replies import Reply
from advisor.units import Units

#: For so many lines a danger is taken to last. Our estimate: long enough to say what stands near it and who is hurt.
_LASTS = 4
#: What makes people ill by itself: fever, cough and a tight chest that are told beside it belong to it.
_SICKENS = frozenset({"fire", "fumes", "breath", "poison", "smoke", "spores"})
#: Whoever asks one of these of the talk itself has left the matter.
_LEAVES = frozenset({"undo", "redo", "save", "load", "help", "start_over", "leave"})


@dataclass(frozen=True, slots=True)
class StandingDanger:
    """The gravest danger that was told last, and for how many lines more it is taken to last; none by default.

    Whoever was reminded of it once is reminded again only by a line that tells of it.
    """

    danger: HeardDanger | None = None
    left: int = 0
    reminded: bool = False

    def goes_on(self, heard: Heard) -> bool:
        """Whether the gravest danger that a line tells is the one that stands, or the illness that comes of it."""
        if self.danger is None or not heard.dangers:
            return False
        told = heard.dangers[0]
        return told.name == self.danger.name or (told.kind == "spores" and self.danger.kind in _SICKENS)

    def hears(self, heard: Heard, knowledge: Knowledge, units: Units) -> tuple[StandingDanger, tuple[Reply, ...]]:
        """What stands after one line more, and what there is to say to the line; nothing if it is of another matter."""
        if heard.dangers and not self.goes_on(heard):
            return StandingDanger(heard.dangers[0], _LASTS), ()
        if self.danger is None or _LEAVES & set(heard.acts):
            return StandingDanger(), ()
        if heard.over:
            return StandingDanger(), (Reply("answer", past_reply(self.danger, knowledge.danger_answers, units)),)
        after = replace(self, left=self.left - 1, reminded=True) if self.left > 1 else StandingDanger()
        if self.reminded and not heard.dangers:
            return after, ()
        lines = meanwhile_reply(self.danger, knowledge.danger_answers, units)
        if any(question.topic in shipped_answers() for question in heard.asked):
            return after, ()
        return after, (Reply("caution", "\n".join(lines)),) if lines else ()

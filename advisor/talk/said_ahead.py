"""What was said on a sheet before it was asked, and fills a blank once it comes."""

from __future__ import annotations

from dataclasses import replace

from advisor.household.tokens import shown
from advisor.records import dataclass
from advisor.talk.replies import Reply


@dataclass(frozen=True, slots=True)
class SaidAhead:
    """Words that wait for their blank.

    Attributes:
        in_mind: said on a sheet before it was asked.
        noted: of that, what was said to be borne in mind.
        opened_with: said when the sheet was opened.
    """

    in_mind: tuple[str, ...] = ()
    noted: tuple[str, ...] = ()
    opened_with: tuple[str, ...] = ()

    def without(self, text: str) -> SaidAhead:
        """The same without some words, which have filled a blank."""
        in_mind = tuple(piece for piece in self.in_mind if piece != text)
        return replace(self, in_mind=in_mind, opened_with=tuple(piece for piece in self.opened_with if piece != text))

    def told(self, *, on_a_sheet: bool) -> tuple[SaidAhead, list[Reply]]:
        """What is borne in mind and was not said to be, once; at the end of a sheet, what was never asked about."""
        if not self.in_mind:
            return self, []
        named = ", ".join(f"“{shown(piece)}”" for piece in self.in_mind)
        if not on_a_sheet:
            said = [Reply("lost", f"I did not get to ask about {named}.")]
            return replace(self, in_mind=(), noted=()), said
        told = [Reply("heard", f"I bear in mind {named}.")] if self.in_mind != self.noted else []
        return replace(self, noted=self.in_mind), told

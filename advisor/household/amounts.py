"""What people say they have: "3 sacks dry leaves", "two and a half barrows of horse manure", "grass, 2 barrows".

A phrase is cut into chunks that cover all of it, each with its place, so that nothing said is lost: what is no
amount, name or rate is handed back as left over. `read_list` reads several phrases, `read_phrase` one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from advisor.household.phrase import Chunk, Phrase, chunk, phrase_at
from advisor.household.quantities import Piece
from advisor.household.splitting import parts
from advisor.household.tokens import Token, tokenize
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

__all__ = ["Chunk", "Phrase", "read_list", "read_phrase", "split_list"]


def split_list(text: str, knowledge: Knowledge | None = None) -> tuple[str, ...]:
    """The items of a list: parted by commas, semicolons, "and", "plus", "+", full stops and new lines.

    "Two and a half", "between 2 and 3" and "hoof and horn" stay whole; with the rule base given, so does every
    name in it that holds an "and" or a comma.
    """
    tokens = tokenize(text)
    return tuple(text[tokens[start].start : tokens[end - 1].end] for start, end, _ in parts(tokens, knowledge))


def read_phrase(text: str, knowledge: Knowledge) -> Phrase:
    """One phrase about one material, such as "3 sacks dry leaves" or "about 5 kg of kitchen scraps a week".

    A second amount in it, with all behind it, is left over.

    Raises:
        HouseholdError: the amount is below zero, or more than anybody has.
    """
    tokens = tokenize(text)
    if not tokens:
        return Phrase("", None, "", (0, 0))
    phrase, end = phrase_at(text, tokens, knowledge)
    if end < len(tokens):
        rest = chunk(text, tokens, Piece("left", end, len(tokens)))
        span = (phrase.span[0], tokens[-1].end)
        return replace(phrase, said=text[span[0] : span[1]], span=span, chunks=(*phrase.chunks, rest))
    return phrase


@dataclass(frozen=True, slots=True)
class _Item:
    """A phrase of a list, with its tokens and the sign or word before it."""

    phrase: Phrase
    start: int
    end: int
    parting: str

    @property
    def name_only(self) -> bool:
        return bool(self.phrase.name) and self.phrase.quantity is None and not self.phrase.trouble

    @property
    def amount_only(self) -> bool:
        return not self.phrase.name and self.phrase.quantity is not None


def read_list(text: str, knowledge: Knowledge) -> tuple[Phrase, ...]:
    """Every phrase of a list, in order, with spans into the text.

    An amount that stands apart from its name is put to it: "grass, 2 barrows", or "a barrow and two buckets of
    grass", which are two phrases about grass.

    Raises:
        HouseholdError: an amount is below zero, or more than anybody has.
    """
    tokens = tokenize(text)
    items: list[_Item] = []
    for start, end, parting in parts(tokens, knowledge):
        while start < end:
            phrase, used = phrase_at(text, tokens[start:end], knowledge)
            items.append(_Item(phrase, start, start + used, parting))
            start, parting = start + used, ""
    return tuple(item.phrase for item in _named_later(_joined(text, tokens, items, knowledge)))


def _joined(text: str, tokens: Sequence[Token], items: Sequence[_Item], knowledge: Knowledge) -> list[_Item]:
    """With "grass, 2 barrows" and "2 barrows, grass" made one phrase again."""
    found: list[_Item] = []
    for item in items:
        before = found[-1] if found else None
        pair = before is not None and (
            (before.name_only and item.amount_only) or (before.amount_only and item.name_only)
        )
        if before is not None and pair and item.parting in (",", ""):
            phrase, used = phrase_at(text, tokens[before.start : item.end], knowledge)
            if phrase.quantity is not None and before.start + used == item.end:
                found[-1] = _Item(phrase, before.start, item.end, before.parting)
                continue
        found.append(item)
    return found


def _named_later(items: list[_Item]) -> list[_Item]:
    """With the name of "two buckets of grass" given to "a barrow" when an "and" joins them."""
    for at in range(len(items) - 2, -1, -1):
        item, following = items[at], items[at + 1]
        joined = following.parting in ("and", "plus", "+", "&")
        if joined and item.amount_only and following.phrase.name and following.phrase.quantity is not None:
            items[at] = replace(item, phrase=replace(item.phrase, name=following.phrase.name))
    return items

"""A part of an amount that was just named: "3 sacks of leaves, 2 of them oak", "4 bags of hay, half of it straw"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from advisor.hearing.cutting import Sentence
from advisor.hearing.shapes import HeardAmount
from advisor.household.counts import Count, count_at
from advisor.household.names import materials_index
from advisor.household.shapes import Quantity
from advisor.household.tokens import singular

if TYPE_CHECKING:
    from advisor.hearing.stock import Item, Stock

_POINTERS = frozenset({"them", "it", "those", "that", "these", "which"})
_LINKS = frozenset({"is", "are", "was", "were", "being", "a", "the"})
_MOST_WORDS = 4  # in what the part is called
_NOTHING = 1e-9


def parted(stock: Stock, items: Sequence[Item], sentence: Sentence) -> Iterator[HeardAmount]:
    """What the items of a sentence tell, with the parts of their amounts taken from them."""
    parts = list(_parts(stock, sentence)) if any(item.counted is not None for item in items) else []
    for place, item in enumerate(items):
        if any(start <= item.start < end for start, _, _, end in parts):
            continue
        whole = stock.heard(item)
        behind = items[place + 1].start if place + 1 < len(items) else sentence.end
        own = [part for part in parts if item.end <= part[0] <= behind]
        own = [part for part in parts if item.end <= part[0] and not _between(items, item, part[0], parts)]
        pieces: list[HeardAmount] = []
        for part in own:
            whole, pieces = _taken_from(stock, item, whole, pieces, part)
        if not (pieces and whole.quantity is not None and whole.quantity.high <= _NOTHING):
            yield whole
        yield from pieces


def _between(items: Sequence[Item], item: Item, at: int, parts: Sequence[tuple[int, Count, int, int]]) -> bool:
    """Whether another amount stands between one and a part."""
    return any(
        item.end <= other.start < at and not any(start <= other.start < end for start, _, _, end in parts)
        for other in items
    )


def _parts(stock: Stock, sentence: Sentence) -> Iterator[tuple[int, Count, int, int]]:
    """Each part: where it begins, how much, and from where to where it is named."""
    words, spoken = stock.finder.line.words, stock.finder.spoken
    at = sentence.start
    while at < sentence.end:
        found = _part(stock, at, sentence.end) if spoken.begins(at) else None
        if found is None:
            at += 1
            continue
        count, start = found
        end = start
        while end < min(sentence.end, start + _MOST_WORDS) and not words[end].mark and words[end].form != "and":
            end += 1
        while end > start and _called(stock, "", start, end) is None and end - start > 1:
            end -= 1
        yield at, count, start, end
        at = max(end, at + 1)


def _part(stock: Stock, at: int, end: int) -> tuple[Count, int] | None:
    """How much of it, and the word at which the name begins; "of which 2 are" is the same."""
    words, spoken = stock.finder.line.words, stock.finder.spoken
    place = at + 2 if [word.form for word in words[at : at + 2]] == ["of", "which"] else at
    if place >= end or words[place].mark or not spoken.begins(place):
        return None
    counted = count_at(spoken.tokens, spoken.token(place))
    if counted is None or counted[0].none or counted[0].negative or counted[0].vague:
        return None
    behind = spoken.word(counted[1])
    if place == at:
        behind += behind < end and words[behind].form == "of"
        if behind >= end or words[behind].form not in _POINTERS:
            return None
        behind += 1
    while behind < end and words[behind].form in _LINKS:
        behind += 1
    return (counted[0], behind) if behind < end else None


def _called(stock: Stock, name: str, start: int, end: int) -> tuple[str, int] | None:
    """The material that a part is, with the word behind: a kind of the whole ("wet" leaves), or another ("straw")."""
    exact = materials_index(stock.finder.knowledge).exact
    whole = tuple(singular(word) for word in name.lower().split())
    words = stock.finder.line.words
    for last in range(end, start, -1):
        for first in range(start, last):
            keys = tuple(singular(word.form) for word in words[first:last])
            for behind in (whole, whole[-1:], ()):
                ids = exact.get((*keys, *behind), ())
                if len(ids) == 1:
                    return ids[0], last
    return None


def _taken_from(
    stock: Stock, item: Item, whole: HeardAmount, pieces: list[HeardAmount], part: tuple[int, Count, int, int]
) -> tuple[HeardAmount, list[HeardAmount]]:
    """A whole and its pieces with one more part taken; unchanged if it is none of ours, or more than the whole."""
    at, count, start, end = part
    found = _called(stock, whole.name, start, min(end + 2, len(stock.finder.line.words)))
    divided = _divided(whole.quantity, count) if whole.quantity is not None else None
    if found is None or divided is None:
        return whole, pieces
    material, last = found
    rest, share = divided
    words = stock.finder.line.words
    said = stock.finder.line.said(item.start, last)
    piece = replace(
        whole, ids=(material,), quantity=share, said=said, sure=True, start=words[at].start, end=words[last - 1].end
    )
    if material in whole.ids and len(whole.ids) == 1 and whole.sure:
        return whole, pieces
    left = tuple(id_ for id_ in whole.ids if id_ != material)
    ids = left if len(left) > 1 else whole.ids
    return replace(whole, quantity=rest, ids=ids), [*pieces, piece]


def _divided(quantity: Quantity, count: Count) -> tuple[Quantity, Quantity] | None:
    """What is left, and the part: a share of it ("half"), or so many in the same measure, which is no more than all."""
    if count.part:
        return quantity.times(1 - count.value), quantity.times(count.value)
    share = replace(quantity, count=count.value, low=count.low, high=count.high)
    if count.value > quantity.high + _NOTHING:
        return None
    rest = max(0.0, quantity.count - count.value)
    low, high = max(0.0, quantity.low - count.high), max(rest, quantity.high - count.low)
    return replace(quantity, count=rest, low=min(low, rest), high=high), share

"""How much: a count and what it counts in, whether a household measure or an exact unit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from advisor.household import words
from advisor.household.counts import Count, count_at, exactly, more_at, value_at
from advisor.household.names import Index
from advisor.household.tokens import Token, longest, singular, skip_hyphen
from advisor.household.words import Dimension, Spread
from advisor.records import dataclass

Ids = tuple[str, ...]
PieceKind = Literal["count", "measure", "packed", "of", "name", "rate", "filler", "mark", "left"]
_Unit = tuple[Dimension, Spread, int]


@dataclass(frozen=True, slots=True)
class Piece:
    """What the tokens from `start` up to `end` were read as."""

    kind: PieceKind
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Amount:
    """So many of something.

    Attributes:
        count: how many, with "big", "half-full" and the like worked in; litres or kilograms for an exact unit.
        pieces: what each stretch of tokens was read as.
        measures: ids the household measure may have; none for an exact unit, or if no measure was said.
        unit: "L" or "kg" for an exact unit.
        packed: whether the stuff was said to be pressed down, if it was said.
        trouble: why this cannot be taken as it stands.
        hint: what could be said instead.
    """

    count: Count
    pieces: tuple[Piece, ...]
    measures: Ids = ()
    unit: Dimension | None = None
    packed: bool | None = None
    trouble: str = ""
    hint: str = ""

    @property
    def start(self) -> int:
        """The first token."""
        return self.pieces[0].start

    @property
    def end(self) -> int:
        """The token after the last."""
        return self.pieces[-1].end

    @property
    def measured(self) -> bool:
        """Whether a measure or unit was said, and not only a number or a vague word."""
        return any(piece.kind == "measure" for piece in self.pieces)

    @property
    def bare(self) -> bool:
        """Whether it is a number of things and no more."""
        return not self.measures and self.unit is None


_MOST_UNIT_WORDS = 2
_MOST_SIZE_WORDS = 3
_ONE: Spread = (1.0, 1.0, 1.0)


def amount_at(tokens: Sequence[Token], at: int, measures: Index) -> Amount | None:
    """The amount whose count begins at a token; nothing if no count does.

    Args:
        tokens: what was said.
        at: where to begin.
        measures: the household measures.
    """
    numeric = tokens[at].kind == "number" or tokens[at].key in words.ONES
    if numeric and measure_at(tokens, at, measures) is not None:  # the number belongs to a "5-gallon bucket"
        return uncounted_at(tokens, at, measures)
    counted = count_at(tokens, at)
    if counted is None:
        return None
    count, end = counted
    if count.part or count.vague:
        end = _linked(tokens, end, measures)
    pieces = [Piece("count", at, end)]
    if count.none and end < len(tokens) and tokens[end].key == "of":
        return Amount(count, (*pieces, Piece("of", end, end + 1)), unit="L")
    if count.mass:  # "a little ash" is an amount, but "a little bucket" is a bucket
        little = tokens[at].key in words.ARTICLES
        sized = _measured(tokens, exactly(1.0), at + 1, [Piece("count", at, at + 1)], measures) if little else None
        return sized or _of_litres(tokens, count, pieces)
    amount = (
        _sized(tokens, count, end, pieces, measures)
        or _exact(tokens, count, end, pieces, measures)
        or _measured(tokens, count, end, pieces, measures)
    )
    if amount is not None:
        return amount
    if count.litres is not None:
        return _of_litres(tokens, count, pieces)
    if count.none:
        return Amount(count, tuple(pieces), unit="L")
    return Amount(count, tuple(pieces))


def _of_litres(tokens: Sequence[Token], count: Count, pieces: Sequence[Piece]) -> Amount:
    """A vague word by itself, as litres."""
    low, typical, high = count.litres or (count.low, count.value, count.high)
    return _with_of(tokens, Amount(Count(typical, low, high, vague=True), tuple(pieces), unit="L"))


def uncounted_at(tokens: Sequence[Token], at: int, measures: Index) -> Amount | None:
    """The household measure said without a count: "bucket of grounds" is one, "sacks of leaves" are some."""
    found = measure_at(tokens, at, measures)
    if found is None:
        return None
    return _measured(tokens, _uncounted(_is_plural(tokens[found[1] - 1])), at, [], measures)


def guessed(tokens: Sequence[Token], bare: Amount, id_: str) -> Amount:
    """A bare count read again, the word behind it taken for the measure of that id."""
    end = bare.end + 1
    pieces = (*bare.pieces, Piece("measure", bare.end, end))
    return _with_of(tokens, Amount(bare.count, pieces, (id_,)))


def measure_at(tokens: Sequence[Token], at: int, measures: Index) -> tuple[Ids, int] | None:
    """The household measure that begins at a token: the ids it may be, and the place after it."""
    found = longest(tokens, at, measures.exact, measures.longest)
    if found is not None or at >= len(tokens):
        return found
    word = singular(tokens[at].key)
    for ending in words.MEASURE_ENDINGS:
        stem = word.removesuffix(ending)
        ids = measures.exact.get((singular(stem),)) if stem != word else None
        if ids is not None:
            return ids, at + 1
    return None


def _unit_at(tokens: Sequence[Token], at: int, measures: Index | None) -> _Unit | None:
    """An exact unit, unless a household measure takes more of the words ("ton bag")."""
    found = longest(tokens, at, words.EXACT, _MOST_UNIT_WORDS)
    if found is None:
        return None
    rival = measure_at(tokens, at, measures) if measures is not None else None
    if rival is not None and rival[1] > found[1]:
        return None
    (dimension, worth), end = found
    stop = end < len(tokens) and tokens[end].key == "." and tokens[end].start == tokens[end - 1].end
    return dimension, worth, end + 1 if stop else end  # "lb." is "lb"


def _linked(tokens: Sequence[Token], at: int, measures: Index) -> int:
    """Past the "of a" between a part and its measure, if a measure follows."""
    behind = at
    while behind < len(tokens) and tokens[behind].key in words.PART_LINKS:
        behind += 1
    if behind == at or behind >= len(tokens):
        return at
    sized = longest(tokens, behind, words.SIZES, _MOST_SIZE_WORDS, str)
    place = sized[1] if sized else behind
    follows = measure_at(tokens, place, measures) is not None or _unit_at(tokens, place, None) is not None
    return behind if follows or value_at(tokens, place) is not None else at


def _sized(tokens: Sequence[Token], count: Count, at: int, pieces: list[Piece], measures: Index) -> Amount | None:
    """Containers of an exact size: "10 x 40 L bags", "a 40-litre bag", "40 L bags"."""
    times = at < len(tokens) and tokens[at].key in words.TIMES
    size = value_at(tokens, at + 1 if times else at)
    if size is not None and not times and measure_at(tokens, at, measures) is not None:
        return None  # "five-gallon buckets" have a spread of their own
    unit = _unit_at(tokens, skip_hyphen(tokens, at if size is None else size[1]), measures)
    if unit is None:
        return None
    dimension, worth, unit_end = unit
    container_end = _container_end(tokens, unit_end, measures)
    read = (*pieces, Piece("measure", at, container_end or unit_end))
    if size is not None:
        if container_end is None and not times:
            return None
        return _with_of(tokens, Amount(count.times(_scaled(worth, size[0].value)), read, unit=dimension))
    if container_end is None:
        return None
    plural = any(_is_plural(token) for token in tokens[unit_end:container_end])
    each = (count.low * worth[0], count.value * worth[1], count.high * worth[2])
    amount = _with_of(tokens, Amount(_uncounted(plural).times(each), read, unit=dimension))
    if not (count.ranged and plural):
        return amount
    unsure = "it is not clear which number is the size and which the number of them"
    return replace(amount, trouble=unsure, hint="write it as in '3 x 20 L bags'")


def _container_end(tokens: Sequence[Token], at: int, measures: Index) -> int | None:
    at = skip_hyphen(tokens, at)
    found = measure_at(tokens, at, measures)
    if found is not None:
        return _past_load(tokens, found[1])
    is_container = at < len(tokens) and singular(tokens[at].key) in words.CONTAINERS
    return _past_load(tokens, at + 1) if is_container else None


def _exact(tokens: Sequence[Token], count: Count, at: int, pieces: list[Piece], measures: Index) -> Amount | None:
    unit = _unit_at(tokens, skip_hyphen(tokens, at), measures)
    if unit is None:
        return None
    dimension, worth, end = unit
    more = more_at(tokens, end)
    if more is not None and not count.none:
        count, end = count.plus(more[0]), more[1]
    read = (*pieces, Piece("measure", at, end))
    return _with_of(tokens, Amount(count.times(worth), read, unit=dimension))


def _measured(tokens: Sequence[Token], count: Count, at: int, pieces: list[Piece], measures: Index) -> Amount | None:
    """Household measures, with words for their size and for how the stuff is pressed."""
    place = at + 1 if at < len(tokens) and tokens[at].key in words.TIMES else skip_hyphen(tokens, at)
    packed: bool | None = None
    sizes = _ONE
    found = None
    for _ in range(4):
        unit = _unit_at(tokens, place, None)
        found = measure_at(tokens, place, measures)
        if found is not None and (unit is None or found[1] > unit[2]):
            break
        found = None
        packing = longest(tokens, place, words.PACKING, _MOST_SIZE_WORDS, str)
        size = longest(tokens, place, words.SIZES, _MOST_SIZE_WORDS, str)
        if packing is not None and (size is None or packing[1] >= size[1]):
            packed, place = packing
        elif size is not None:
            sizes, place = _product(sizes, size[0]), size[1]
        else:
            break
    if found is None:
        return None
    ids, end = found
    end = _past_load(tokens, end)
    pieces = [*pieces, Piece("measure", at, end)]
    more = more_at(tokens, end)
    if more is not None and not count.none and measure_at(tokens, more[1], measures) is None:
        count, end = count.plus(more[0]), more[1]
        pieces.append(Piece("count", pieces[-1].end, end))
    amount = Amount(count.times(sizes), tuple(pieces), ids, None, packed)
    return _with_of(tokens, _each(tokens, amount))


def _past_load(tokens: Sequence[Token], at: int) -> int:
    """Past "load" or "worth" behind a measure, and past "full" where nothing but the material can follow."""
    if at >= len(tokens) or singular(tokens[at].key) not in words.AFTER_MEASURE:
        return at
    last = at + 1 >= len(tokens) or tokens[at + 1].key in words.OF or tokens[at + 1].kind == "mark"
    return at + 1 if last or tokens[at].key != "full" else at


def _each(tokens: Sequence[Token], amount: Amount) -> Amount:
    """With the size of each worked in: "3 bags of 40 L", "3 sacks (40 L each)"."""
    at = amount.end
    opening = tokens[at].key if at < len(tokens) else ""
    if opening not in ("of", "@", "at", "("):
        return amount
    size = value_at(tokens, at + 1)
    unit = _unit_at(tokens, skip_hyphen(tokens, size[1]), None) if size else None
    if size is None or unit is None:
        return amount
    dimension, worth, end = unit
    if end < len(tokens) and tokens[end].key in ("each", "apiece"):
        end += 1
    elif opening == "(":
        return amount
    if opening == "(" and end < len(tokens) and tokens[end].key == ")":
        end += 1
    count = amount.count.times(_scaled(worth, size[0].value))
    read = (*amount.pieces, Piece("measure", at, end))
    return replace(amount, count=count, pieces=read, measures=(), unit=dimension)


def _with_of(tokens: Sequence[Token], amount: Amount) -> Amount:
    """With the "of" that leads to the material."""
    at = amount.end
    if at < len(tokens) and tokens[at].key in words.OF:
        return replace(amount, pieces=(*amount.pieces, Piece("of", at, at + 1)))
    return amount


def _uncounted(plural: bool) -> Count:
    low, typical, high = words.BARE_PLURAL
    return Count(typical, low, high, vague=True) if plural else exactly(1.0)


def _scaled(spread: Spread, factor: float) -> Spread:
    return spread[0] * factor, spread[1] * factor, spread[2] * factor


def _product(one: Spread, other: Spread) -> Spread:
    return one[0] * other[0], one[1] * other[1], one[2] * other[2]


def _is_plural(token: Token) -> bool:
    return singular(token.key) != token.key

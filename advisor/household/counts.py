"""How many: plain numbers, number words, parts, ranges and vague words, read from tokens."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from advisor.household import words
from advisor.household.tokens import DASHES, Token, longest, skip_hyphen
from advisor.household.words import Spread
from advisor.records import dataclass


@dataclass(frozen=True, slots=True)
class Count:
    """So many, with the spread of what may be meant.

    Attributes:
        article: it was "a" or "an".
        part: "half", which takes an "of a" after it.
        plain: one number, without words around it.
        ranged: two numbers, as in "3-4".
        none: "no" or nought.
        negative: below zero, for the caller to refuse.
        vague: a word stood in place of a number.
        litres: for a vague word, what it is worth when no measure follows.
        mass: a vague word that cannot count measures: "a bit", "not much".
    """

    value: float
    low: float
    high: float
    article: bool = False
    part: bool = False
    plain: bool = False
    ranged: bool = False
    none: bool = False
    negative: bool = False
    vague: bool = False
    litres: Spread | None = None
    mass: bool = False

    def times(self, spread: Spread) -> Count:
        """The same, each end multiplied by its own factor."""
        low, typical, high = spread
        return replace(self, low=self.low * low, value=self.value * typical, high=self.high * high, plain=False)

    def plus(self, value: float) -> Count:
        """So much more."""
        return replace(self, low=self.low + value, value=self.value + value, high=self.high + value)


Found = tuple[Count, int]

_LINKS = frozenset({"to", "or", "till", "until", "through"})
_MOST_WORDS = 4  # in any entry of the tables of words.py used here
#: The words with which a count can begin.
_STARTS = frozenset(
    {
        *(key[0] for key in (*words.LOOSENED, *words.NOTHING, *words.VAGUE_COUNTS, *words.VAGUE_LITRES)),
        *(*words.ONES, *words.TENS, *words.PARTS, *words.ARTICLES, *words.MINUS, "between", "from"),
        *(f"{part}s" for part in words.PARTS),
    }
)


def count_at(tokens: Sequence[Token], at: int) -> Found | None:
    """The count that begins at a token, with the place after it; nothing if none does.

    Reads "3", "2,5", "1 1/2", "two and a half", "half", "three quarters", "half a dozen", "3-4",
    "2 or 3", "between 3 and 4", "about 10", "10 or so", "up to five", "a couple", "lots", "no", "-2", "a".
    """
    if at < len(tokens) and tokens[at].kind == "word" and tokens[at].key not in _STARTS:
        return None
    loosened = longest(tokens, at, words.LOOSENED, _MOST_WORDS, str)
    if loosened is not None:
        found = _unloosened(tokens, _past_stop(tokens, loosened[1]))
        if found is not None and not found[0].none:
            return found[0].times(loosened[0]), found[1]
    return _unloosened(tokens, at)


def value_at(tokens: Sequence[Token], at: int) -> Found | None:
    """One number: "3", "1 1/2", "twenty-five", "two and a half", "half a dozen", "a third"; but not "a"."""
    if at >= len(tokens):
        return None
    found = _part(tokens, at) or _whole(tokens, at)
    if found is None and tokens[at].key in words.ARTICLES:
        found = _part(tokens, at + 1) or _multiple(tokens, at + 1)
    return found


def more_at(tokens: Sequence[Token], at: int) -> tuple[float, int] | None:
    """The part added by "and a half", "and three quarters", "& 1/2"."""
    at = skip_hyphen(tokens, at)
    if at >= len(tokens) or tokens[at].key not in ("and", "&"):
        return None
    at = skip_hyphen(tokens, at + 1)
    if at < len(tokens) and tokens[at].key in words.ARTICLES:
        at = skip_hyphen(tokens, at + 1)
    part = _part(tokens, at)
    return (part[0].value, part[1]) if part is not None and part[0].part else None


def exactly(value: float) -> Count:
    """A count without spread."""
    return Count(value, value, value)


def _past_stop(tokens: Sequence[Token], at: int) -> int:
    """Past the full stop of "approx."."""
    stop = at < len(tokens) and tokens[at].key == "." and tokens[at].start == tokens[at - 1].end
    return at + 1 if stop else at


def _unloosened(tokens: Sequence[Token], at: int) -> Found | None:
    if at >= len(tokens):
        return None
    return _between(tokens, at) or _vague(tokens, at) or _negative(tokens, at) or _number(tokens, at)


def _number(tokens: Sequence[Token], at: int) -> Found | None:
    found = value_at(tokens, at)
    if found is None:
        article = tokens[at].key in words.ARTICLES
        return (replace(exactly(1.0), article=True), at + 1) if article else None
    count, end = _ranged(tokens, *found)
    after = longest(tokens, skip_hyphen(tokens, end), words.LOOSENED_AFTER, _MOST_WORDS, str)
    if after is not None and (tokens[after[1] - 1].key != "+" or tight_plus(tokens, after[1] - 1)):
        return count.times(after[0]), after[1]
    return count, end


def tight_plus(tokens: Sequence[Token], at: int) -> bool:
    """Whether a "+" belongs to the number before it: "3+ sacks", but neither "3 + 4" nor "3+4"."""
    if not 0 < at < len(tokens) - 1 or tokens[at - 1].kind != "number":
        return False
    return tokens[at - 1].end == tokens[at].start and tokens[at + 1].kind == "word"


def _ranged(tokens: Sequence[Token], count: Count, at: int) -> Found:
    """The same widened by "-4", "to 4" or "or 4" if one follows."""
    if at < len(tokens) and (tokens[at].key in DASHES or tokens[at].key in _LINKS):
        upper = value_at(tokens, at + 1)
        if upper is not None:
            return _spanned(count, upper[0]), upper[1]
    return count, at


def _spanned(one: Count, other: Count) -> Count:
    low, high = sorted((one.value, other.value))
    return Count((low + high) / 2, low, high, part=other.part, ranged=True)


def _between(tokens: Sequence[Token], at: int) -> Found | None:
    if tokens[at].key not in ("between", "from"):
        return None
    first = value_at(tokens, at + 1)
    if first is None:
        return None
    ranged = _ranged(tokens, *first)
    if ranged[0].ranged:
        return ranged
    joined = first[1] < len(tokens) and tokens[first[1]].key in ("and", "&")
    last = value_at(tokens, first[1] + 1) if joined else None
    return (_spanned(first[0], last[0]), last[1]) if last is not None else None


def _vague(tokens: Sequence[Token], at: int) -> Found | None:
    nothing = longest(tokens, at, words.NOTHING, _MOST_WORDS, str)
    if nothing is not None and skip_hyphen(tokens, nothing[1]) == nothing[1]:
        return replace(exactly(0.0), none=True), nothing[1]
    counted = longest(tokens, at, words.VAGUE_COUNTS, _MOST_WORDS, str)
    massed = longest(tokens, at, words.VAGUE_LITRES, _MOST_WORDS, str)
    if counted is not None and (massed is None or massed[1] <= counted[1]):
        low, typical, high = counted[0]
        litres = massed[0] if massed else None
        return Count(typical, low, high, part=high < 1, vague=True, litres=litres), counted[1]
    if massed is not None:
        low, typical, high = massed[0]
        return Count(typical, low, high, vague=True, litres=massed[0], mass=True), massed[1]
    return None


def _negative(tokens: Sequence[Token], at: int) -> Found | None:
    sign = tokens[at]
    after_gap = at == 0 or tokens[at - 1].end < sign.start
    before_digit = at + 1 < len(tokens) and tokens[at + 1].kind == "number" and tokens[at + 1].start == sign.end
    if sign.key in words.MINUS or (sign.key in DASHES and after_gap and before_digit):
        found = value_at(tokens, at + 1)
        if found is not None and found[0].value > 0:
            return replace(found[0], negative=True), found[1]
    return None


def _whole(tokens: Sequence[Token], at: int) -> Found | None:
    """A number in digits or words, with "dozen", "and a half" and the like behind it."""
    if at >= len(tokens):
        return None
    token = tokens[at]
    small = (token.value, at + 1) if token.kind == "number" else _below_hundred(tokens, at)
    if small is None:
        return None
    value, end = _multiplied(tokens, *small)
    behind = skip_hyphen(tokens, end)
    if behind < len(tokens) and tokens[behind].fraction and value.is_integer():
        return replace(exactly(value + tokens[behind].value), plain=True), behind + 1
    more = more_at(tokens, end)
    if more is not None:
        value, end = value + more[0], more[1]
    return replace(exactly(value), plain=True, none=value == 0), end


def _below_hundred(tokens: Sequence[Token], at: int) -> tuple[float, int] | None:
    if at >= len(tokens):
        return None
    key = tokens[at].key
    if key in words.ONES:
        return words.ONES[key], at + 1
    if key not in words.TENS:
        return None
    behind = skip_hyphen(tokens, at + 1)
    ones = words.ONES.get(tokens[behind].key, 0.0) if behind < len(tokens) else 0.0
    return (words.TENS[key] + ones, behind + 1) if 1 <= ones <= 9 else (words.TENS[key], at + 1)


def _multiple(tokens: Sequence[Token], at: int) -> Found | None:
    if at >= len(tokens) or tokens[at].key not in words.MULTIPLES:
        return None
    value, end = _multiplied(tokens, 1.0, at)
    return replace(exactly(value), plain=True), end


def _multiplied(tokens: Sequence[Token], value: float, at: int) -> tuple[float, int]:
    """With "dozen", "hundred and twenty" or "thousand" behind it."""
    for _ in range(2):
        behind = skip_hyphen(tokens, at)
        multiple = words.MULTIPLES.get(tokens[behind].key) if behind < len(tokens) else None
        if multiple is None:
            break
        value, at = value * multiple, behind + 1
        linked = at + 1 if at < len(tokens) and tokens[at].key == "and" else at
        rest = _below_hundred(tokens, linked) if multiple >= 100 else None
        if rest is not None:
            value, at = value + rest[0], rest[1]
    return value, at


def _part(tokens: Sequence[Token], at: int) -> Found | None:
    """ "Half", "a third", "three quarters", "1/2", "¾", or "half a dozen", which is six."""
    if at >= len(tokens):
        return None
    token = tokens[at]
    if token.fraction:
        return replace(exactly(token.value), part=True), at + 1
    key, end, many = token.key, at + 1, 1.0
    if end < len(tokens) and token.key in words.ONES and words.ONES[token.key] >= 1:
        behind = skip_hyphen(tokens, end)
        key, end, many = tokens[behind].key, behind + 1, words.ONES[token.key]
    elif end < len(tokens) and token.kind == "number" and tokens[end].key in ("quarters", "thirds", "fifths"):
        key, end, many = tokens[end].key, end + 1, token.value
    part = words.PARTS.get(key, words.PARTS.get(key.removesuffix("s"), 0.0))
    if part == 0 or many * part >= 1:
        return None
    dozen = end + 1 if end < len(tokens) and tokens[end].key in words.ARTICLES else end
    whole = words.MULTIPLES.get(tokens[dozen].key) if dozen < len(tokens) else None
    if whole is not None:
        return replace(exactly(many * part * whole), plain=True), dozen + 1
    return replace(exactly(many * part), part=True), end

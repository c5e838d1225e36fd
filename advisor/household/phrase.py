"""One phrase about one material, cut into chunks that cover all of it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import field, replace
from typing import Final

from advisor.errors import HouseholdError
from advisor.household import words
from advisor.household.names import Index, Match, find_material, find_measure, measures_index
from advisor.household.quantities import Amount, Piece, PieceKind, amount_at, guessed, uncounted_at
from advisor.household.rates import Rate, rate_at
from advisor.household.shapes import Per, Quantity
from advisor.household.splitting import Names, known_names, name_end
from advisor.household.tokens import DASHES, Token, adjacent, longest, shown
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

#: More than this nobody has: a slip of the pen, not an amount. In litres or kilograms, and in household measures.
MOST_EXACT: Final = 1_000_000.0
MOST_MEASURES: Final = 10_000.0


@dataclass(frozen=True, slots=True)
class Chunk:
    """A stretch of what was said, with its place in the text, and what it was read as.

    "left" is what could not be placed; "filler" is small talk ("I have") and "mark" is punctuation.
    """

    kind: PieceKind
    text: str
    span: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Phrase:
    """One thing said about one material.

    Attributes:
        said: the words, as they were said.
        quantity: how much; nothing if no usable amount was said.
        name: the words for the material; empty if there are none.
        span: where in the text this stands.
        chunks: all of it, piece by piece.
        per: how often it comes, even where no amount was said.
        none: it was said that there is none.
        vague: a word stood in place of a number, so that it is worth asking again.
        trouble: why the amount cannot be taken as it stands, in words for the person; empty if all is well.
        hint: what could be said instead.
    """

    said: str
    quantity: Quantity | None
    name: str
    span: tuple[int, int]
    chunks: tuple[Chunk, ...] = ()
    per: Per = "once"
    none: bool = False
    vague: bool = False
    trouble: str = ""
    hint: str = ""

    @property
    def left(self) -> tuple[str, ...]:
        """What was said beside amount, name and rate, and may matter."""
        return tuple(chunk.text for chunk in self.chunks if chunk.kind == "left")


_JOINING = DASHES | {"/", "&", "'", "’", "+", "%"}
_RUNS_WEIGHED = 4  # of several stretches that may be the name, so many are looked up
_MOST_WORDS = 4  # in any phrase of the tables of words.py used here

_Run = tuple[int, int]


@dataclass
class _Reading:
    """What has been found of a phrase; `end` is the token at which the next phrase begins."""

    pieces: list[Piece] = field(default_factory=list)
    runs: list[_Run] = field(default_factory=list)
    rates: list[Rate] = field(default_factory=list)
    packed: bool | None = None
    end: int = 0


def phrase_at(text: str, tokens: Sequence[Token], knowledge: Knowledge) -> tuple[Phrase, int]:
    """The phrase that the tokens begin with, and the number of tokens it takes up: all, unless a second amount follows.

    Raises:
        HouseholdError: the amount is below zero, or more than anybody has.
    """
    amount = _amount(text, tokens, knowledge)
    reading = _around(tokens, amount, knowledge)
    named = _named(text, tokens, reading.runs, amount, knowledge)
    reading.pieces += [Piece("name" if run == named else "left", *run) for run in reading.runs]
    chunks = tuple(chunk(text, tokens, piece) for piece in sorted(reading.pieces, key=lambda piece: piece.start))
    name = _text(text, tokens, *named) if named else _name_in_measure(text, tokens, amount, knowledge)
    span = (tokens[0].start, tokens[reading.end - 1].end)
    rate = reading.rates[0] if reading.rates else None
    per = rate.per if rate is not None and rate.per is not None else "once"
    phrase = Phrase(text[span[0] : span[1]], None, name, span, chunks, per)
    if amount is not None:
        phrase = measured(text, tokens, amount, reading.rates, reading.packed, phrase, knowledge)
    return phrase, reading.end


def measured(
    text: str,
    tokens: Sequence[Token],
    amount: Amount,
    rates: Sequence[Rate],
    packed: bool | None,
    phrase: Phrase,
    knowledge: Knowledge,
) -> Phrase:
    """A phrase with its amount, as the rates and the packing around it leave it.

    Raises:
        HouseholdError: the amount is more than anybody has.
    """
    if packed is not None:
        amount = replace(amount, packed=packed)
    phrase = replace(phrase, none=amount.count.high == 0, vague=amount.count.vague)
    trouble, hint = _trouble(text, tokens, amount, phrase, rates, knowledge)
    quantity = None if trouble else _quantity(amount, rates[0] if rates else None, phrase.said, knowledge)
    return replace(phrase, quantity=quantity, trouble=trouble, hint=hint)


def chunk(text: str, tokens: Sequence[Token], piece: Piece) -> Chunk:
    """A piece of the tokens as a chunk of the text."""
    span = (tokens[piece.start].start, tokens[piece.end - 1].end)
    return Chunk(piece.kind, text[span[0] : span[1]], span)


# ---------------------------------------------------------------- the amount


def _amount(text: str, tokens: Sequence[Token], knowledge: Knowledge) -> Amount | None:
    """The amount: the first that has a measure; failing that, a vague word, a measure alone, a number alone."""
    measures = measures_index(knowledge)
    opening = _opening_end(tokens)
    measureless: Amount | None = None
    bare: Amount | None = None
    at = 0
    while at < len(tokens):
        found = amount_at(tokens, at, measures)
        if found is not None and found.count.negative and not found.count.article:
            raise HouseholdError(
                "an amount cannot be less than nothing", where=f"'{shown(_text(text, tokens, 0, len(tokens)))}'"
            )
        if found is not None and found.measured and _stands(tokens, found, opening):
            return found
        rate = rate_at(tokens, at)
        if rate is not None:
            at = rate.end
        elif found is None or found.count.article or not _stands(tokens, found, opening):
            at += 1
        else:
            if found.bare:
                bare = bare or found
            else:
                measureless = measureless or found
            at = found.end
    if measureless is not None:
        return measureless
    if bare is not None:
        return _corrected(tokens, bare, knowledge)
    if opening == len(tokens) or find_material(_text(text, tokens, opening, len(tokens)), knowledge).kind == "exact":
        return None
    return uncounted_at(tokens, opening, measures)


def _stands(tokens: Sequence[Token], found: Amount, opening: int) -> bool:
    """Whether this is said of the whole phrase: "no" is so at its beginning, or at its very end ("manure: none")."""
    if not found.count.none or found.count.plain:
        return True
    return found.start <= opening or all(token.kind == "mark" for token in tokens[found.end :])


def _corrected(tokens: Sequence[Token], bare: Amount, knowledge: Knowledge) -> Amount:
    """A bare count, with the word behind it taken for a measure if it is a slip of the pen for one."""
    if bare.end + 1 >= len(tokens) or tokens[bare.end].kind != "word":
        return bare
    match = find_measure(tokens[bare.end].text, knowledge)
    return guessed(tokens, bare, match.id) if match.kind == "close" else bare


# ---------------------------------------------------------------- what stands around it


def _around(tokens: Sequence[Token], amount: Amount | None, knowledge: Knowledge) -> _Reading:
    reading = _Reading()
    start, end = (amount.start, amount.end) if amount is not None else (0, 0)
    names = known_names(knowledge)
    _walk(tokens, 0, start, reading, names, None)
    if amount is not None:
        reading.pieces += amount.pieces
    measures = measures_index(knowledge) if amount is not None else None
    reading.end = _walk(tokens, end, len(tokens), reading, names, measures)
    return reading


def _walk(tokens: Sequence[Token], at: int, end: int, reading: _Reading, names: Names, measures: Index | None) -> int:
    """Sort the tokens up to `end` into rates, marks and runs of words; with measures given, stop at an amount."""
    begun = at
    while at < end:
        named = name_end(tokens, at, names.every, names)
        if named > at + 1:  # what looks like a rate or an amount is a part of a known name
            at = min(end, named)
            continue
        if measures is not None and _begins_another(tokens, at, measures):
            break
        rate = rate_at(tokens, at)
        if rate is not None and rate.end <= end:
            _close(tokens, begun, at, reading, names)
            reading.rates.append(rate)
            reading.pieces.append(Piece("rate", at, rate.end))
            at = begun = rate.end
        elif _breaks(tokens, at):
            _close(tokens, begun, at, reading, names)
            reading.pieces.append(Piece("mark", at, at + 1))
            at = begun = at + 1
        else:
            at += 1
    _close(tokens, begun, at, reading, names)
    return at


def _begins_another(tokens: Sequence[Token], at: int, measures: Index) -> bool:
    """Whether a second amount begins here; "a box" may be part of a name, "2 boxes" is not."""
    another = amount_at(tokens, at, measures)
    return another is not None and another.measured and not another.count.article and not another.count.none


def _breaks(tokens: Sequence[Token], at: int) -> bool:
    if tokens[at].kind != "mark":
        return False
    return tokens[at].key not in _JOINING or (tokens[at].key not in "&+" and not adjacent(tokens, at))


def _close(tokens: Sequence[Token], start: int, end: int, reading: _Reading, names: Names) -> None:
    """Put away a run of words, with small talk, stray marks and "packed" taken off its ends."""
    while start < end and name_end(tokens, start, names.every, names) == start:
        packing = longest(tokens, start, words.PACKING, _MOST_WORDS, str)
        if packing is not None and packing[1] <= end:
            reading.packed = packing[0]
            reading.pieces.append(Piece("packed", start, packing[1]))
            start = packing[1]
            continue
        kind = _opening_kind(tokens[start])
        if kind is None:
            break
        reading.pieces.append(Piece(kind, start, start + 1))
        start += 1
    while start < end:
        mark = tokens[end - 1].kind == "mark"
        size = 1 if mark else _closing_words(tokens, start, end)
        if size == 0:
            break
        reading.pieces.append(Piece("mark" if mark else "filler", end - size, end))
        end -= size
    if start < end:
        reading.runs.append((start, end))


def _opening_kind(token: Token) -> PieceKind | None:
    if token.kind == "mark":
        return "mark"
    if token.key == "of":
        return "of"
    return "filler" if token.key in words.OPENING else None


def _closing_words(tokens: Sequence[Token], start: int, end: int) -> int:
    for size in range(min(_MOST_WORDS, end - start), 0, -1):
        if tuple(token.key for token in tokens[end - size : end]) in words.CLOSING:
            return size
    return 0


def _opening_end(tokens: Sequence[Token]) -> int:
    at = 0
    while at < len(tokens) and (tokens[at].kind == "mark" or tokens[at].key in words.OPENING):
        at += 1
    return at


# ---------------------------------------------------------------- the name


def _named(
    text: str, tokens: Sequence[Token], runs: Sequence[_Run], amount: Amount | None, knowledge: Knowledge
) -> _Run | None:
    """The run that names the material: the best known of them, or the one that follows the amount."""
    after = [run for run in runs if amount is None or run[0] >= amount.end]
    before = [run for run in runs if run not in after]
    likely = [*after, *reversed(before)][:_RUNS_WEIGHED]
    if len(likely) < 2:
        return likely[0] if likely else None
    order = ("exact", "close", "ask", "unknown")
    return min(likely, key=lambda run: order.index(find_material(_text(text, tokens, *run), knowledge).kind))


def _name_in_measure(text: str, tokens: Sequence[Token], amount: Amount | None, knowledge: Knowledge) -> str:
    """The material told by its measure alone: "3 straw bales", "a bale of shavings"."""
    for piece in amount.pieces if amount is not None else ():
        if piece.kind != "measure" or piece.end - piece.start < 2:
            continue
        of = next((at for at in range(piece.start, piece.end - 1) if tokens[at].key == "of"), None)
        start, end = (piece.start, piece.end - 1) if of is None else (of + 1, piece.end)
        if find_material(_text(text, tokens, start, end), knowledge).kind == "exact":
            return _text(text, tokens, start, end)
    return ""


def _text(text: str, tokens: Sequence[Token], start: int, end: int) -> str:
    return text[tokens[start].start : tokens[end - 1].end]


# ---------------------------------------------------------------- the quantity


def _quantity(amount: Amount, rate: Rate | None, said: str, knowledge: Knowledge) -> Quantity:
    times = rate.times if rate is not None else 1.0
    count = amount.count
    low, typical, high = (_tidy(end * times) for end in (count.low, count.value, count.high))
    most = MOST_EXACT if amount.unit is not None else MOST_MEASURES
    if not (math.isfinite(high) and high <= most):
        raise HouseholdError("this is more than any garden holds", where=f"'{shown(said)}'")
    measure = amount.unit or amount.measures[0]
    pressed = amount.unit is None and knowledge.measures[measure].packed
    packed = amount.packed if amount.packed is not None else pressed
    per = rate.per if rate is not None and rate.per is not None else "once"
    return Quantity(typical, low, high, measure, per, packed)


def _tidy(value: float) -> float:
    """Without the noise of binary fractions: nine digits are more than anybody measures."""
    return float(f"{value:.9g}")


def _trouble(
    text: str,
    tokens: Sequence[Token],
    amount: Amount,
    phrase: Phrase,
    rates: Sequence[Rate],
    knowledge: Knowledge,
) -> tuple[str, str]:
    """Why an amount cannot be taken as it stands, and what could be said; both empty if it can."""
    if amount.trouble:
        return amount.trouble, amount.hint
    if len(rates) > 1:
        return "it is told twice how often it comes", "say it once"
    if rates and rates[0].per is None:
        return "what comes once a year comes at once", "say how much there is now, or how much comes a week or a month"
    if len(amount.measures) > 1:
        names = " or ".join(knowledge.measures[id_].name for id_ in amount.measures)
        return "the measure may be one of several", f"say {names}"
    return _bare_trouble(text, tokens, amount, phrase, knowledge) if amount.bare else ("", "")


def _bare_trouble(
    text: str, tokens: Sequence[Token], amount: Amount, phrase: Phrase, knowledge: Knowledge
) -> tuple[str, str]:
    instead = "say it in buckets, sacks, litres or kg"
    unit = longest(tokens, amount.end, words.OTHER_UNITS, 2)
    if unit is not None:
        said = _text(text, tokens, amount.end, unit[1])
        return f"'{shown(said)}' is {unit[0]}, not a volume or a weight", instead
    match = find_material(phrase.name, knowledge) if phrase.name else Match("unknown")
    if not match.found and amount.end < len(tokens) and tokens[amount.end].kind == "word":
        word = tokens[amount.end].text
        of = amount.end + 1 < len(tokens) and tokens[amount.end + 1].key == "of"
        near = find_measure(word, knowledge)
        if of or near.kind == "ask":
            return f"no measure '{shown(word)}'", _did_you_mean(near, knowledge) or instead
    count = _text(text, tokens, amount.start, amount.end)
    return f"'{shown(count)}' counts things and is not a volume", instead


def _did_you_mean(match: Match, knowledge: Knowledge) -> str:
    if match.kind != "ask":
        return ""
    names = " or ".join(knowledge.measures[id_].name for id_ in match.candidates[:3])
    return f"did you mean {names}?"

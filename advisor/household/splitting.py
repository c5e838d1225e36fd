"""Where one item of a list ends and the next begins."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.household import words
from advisor.household.counts import count_at, more_at, tight_plus
from advisor.household.names import Index, Key, materials_index, measures_index
from advisor.household.quantities import measure_at
from advisor.household.tokens import DASHES, Token, adjacent, longest, singular
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

Part = tuple[int, int, str]


@dataclass(frozen=True, slots=True)
class Names:
    """Names of materials as keys: all of them, those that hold an "and" or a comma, and the words of the longest."""

    every: frozenset[Key]
    joined: frozenset[Key]
    longest: int


_PARTING_MARKS = frozenset(",;\n!?•·")
_BULLETS = frozenset("*•·◦▪") | DASHES
_BRACKETS = {"(": ")", "[": "]"}
_WITHIN_NAMES = DASHES | frozenset("(),/'’.")
_AFTER_NAME = words.EACH | frozenset(words.ADVERBS) | {"and", "plus"}
_MOST_PARTING_WORDS = 3


def parts(tokens: Sequence[Token], knowledge: Knowledge | None) -> list[Part]:
    """The items of a list: first token, the token after the last, and the sign or word that stood before it.

    What stands in brackets is not parted, nor is a name of the rule base that holds an "and" or a comma.
    """
    kept = _held_together(tokens, knowledge)
    found: list[Part] = []
    start, parting, at = 0, "", 0
    while at < len(tokens):
        end = at if at in kept else _parting_end(tokens, at)
        if end == at:
            at += 1
            continue
        _add(found, tokens, start, at, parting)
        parting = tokens[at].key
        start = at = end
    _add(found, tokens, start, len(tokens), parting)
    return found


def _add(found: list[Part], tokens: Sequence[Token], start: int, end: int, parting: str) -> None:
    while start < end and tokens[start].key in _BULLETS and not _touches_next(tokens, start):
        start += 1
    if start < end:
        found.append((start, end, parting))


def _touches_next(tokens: Sequence[Token], at: int) -> bool:
    return at + 1 < len(tokens) and tokens[at].end == tokens[at + 1].start


def _parting_end(tokens: Sequence[Token], at: int) -> int:
    """The token after a parting sign or word, or the same token if it parts nothing."""
    key = tokens[at].key
    if key in _PARTING_MARKS:
        return at + 1
    if key == "+":
        return at if tight_plus(tokens, at) else at + 1
    if key == "&":
        return at if adjacent(tokens, at) else at + 1
    if key == ".":
        return at + 1 if _ends_sentence(tokens, at) else at
    found = longest(tokens, at, dict.fromkeys(words.PARTING, True), _MOST_PARTING_WORDS, str)
    return found[1] if found is not None else at


def _ends_sentence(tokens: Sequence[Token], at: int) -> bool:
    if _touches_next(tokens, at):
        return False
    before = singular(tokens[at - 1].key) if at else ""
    return not ((before,) in words.EXACT or (before,) in words.LOOSENED or before in ("cu", "fl", "imp"))


def _held_together(tokens: Sequence[Token], knowledge: Knowledge | None) -> set[int]:
    """The tokens that part nothing: those inside brackets, numbers and names."""
    kept: set[int] = set()
    names = known_names(knowledge)
    measures = measures_index(knowledge) if knowledge is not None else None
    bracket: tuple[int, str] | None = None
    for at, token in enumerate(tokens):
        if bracket is None and token.key in _BRACKETS:
            bracket = at, _BRACKETS[token.key]
        elif bracket is not None and token.key == bracket[1]:
            kept.update(range(bracket[0], at + 1))
            bracket = None
        if at in kept:
            continue
        counted = count_at(tokens, at)
        if counted is not None:
            kept.update(range(at, counted[1]))
        elif _adds_part(tokens, at, measures):
            kept.add(at)
        kept.update(range(at, name_end(tokens, at, names.joined, names)))
    return kept


def _adds_part(tokens: Sequence[Token], at: int, measures: Index | None) -> bool:
    """Whether this is the "and" of "a bucket and a half of grass"."""
    more = more_at(tokens, at) if tokens[at].key in ("and", "&") and at > 0 else None
    if more is None:
        return False
    end = more[1]
    closes = end >= len(tokens) or tokens[end].key in words.OF or tokens[end].key in _PARTING_MARKS
    if measures is None:
        return closes
    before = (singular(tokens[at - 1].key),) in words.EXACT or measure_at(tokens[:at], at - 1, measures)
    if not before:
        return False
    another = longest(tokens, end, words.EXACT, 2) or measure_at(tokens, end, measures)
    return closes or not (another or tokens[end].key in words.ARTICLES)


def name_end(tokens: Sequence[Token], at: int, keys: frozenset[Key], names: Names) -> int:
    """The token after the longest name among the keys that begins here, or the same token.

    A name with a comma must be followed by an end: "corn cobs, dry" is a name, not so in "corn cobs, dry leaves".
    """
    key: list[str] = []
    comma = False
    end = here = at
    while here < len(tokens) and len(key) < names.longest:
        token = tokens[here]
        here += 1
        if token.kind == "mark" and token.key != "&":
            if not key or token.key not in _WITHIN_NAMES:
                break
            comma = comma or token.key == ","
            continue
        key.append("and" if token.key == "&" else singular(token.key))
        if tuple(key) in keys and not (comma and (tuple(key) not in names.joined or _goes_on(tokens, here))):
            end = here
    return end


def _goes_on(tokens: Sequence[Token], at: int) -> bool:
    return at < len(tokens) and tokens[at].kind == "word" and tokens[at].key not in _AFTER_NAME


def known_names(knowledge: Knowledge | None) -> Names:
    """The names of the rule base, and a few of the trade that hold an "and"."""
    if knowledge is None:
        return Names(words.JOINED_NAMES, words.JOINED_NAMES, 4)
    index = materials_index(knowledge)
    return Names(index.names, index.joined | words.JOINED_NAMES, max(index.longest, 4))

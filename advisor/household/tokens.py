"""Words cut into tokens with their places, so that nothing said is ever lost.

Numbers are read here ("2,5", "1,000", "1/2", "1½"); what they count is read in counts.py and quantities.py.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from typing import Literal, TypeVar

from advisor.records import dataclass
from advisor.safe_text import one_line

_Value = TypeVar("_Value")


@dataclass(frozen=True, slots=True)
class Token:
    """A word, a number or a single mark.

    `key` is the text without accents and capitals. `value` is the worth of a number, and `fraction` says that it
    was written as a proper fraction.
    """

    kind: Literal["word", "number", "mark"]
    text: str
    start: int
    end: int
    key: str
    value: float = 0.0
    fraction: bool = False


#: Signs that can stand for a hyphen or a minus.
DASHES = frozenset("-‐‑‒–—−")

_APOSTROPHES = frozenset("'’ʼ")
_LETTERS = re.compile(r"[^\W\d_]+")
_CUBED_OR_SQUARED = frozenset("23²³")
_POWERED = frozenset({"m", "dm", "cm", "mm", "ft", "yd", "in"})


def tokenize(text: str) -> tuple[Token, ...]:
    """Cut a text into tokens. Every character but a blank lies in one; the end of a line is a mark of its own."""
    tokens: list[Token] = []
    at = 0
    while at < len(text):
        sign = text[at]
        if sign == "\n":
            tokens.append(Token("mark", sign, at, at + 1, sign))
            at += 1
        elif sign.isspace():
            at += 1
        elif sign.isdecimal() or _vulgar(sign) is not None or _starts_decimal(text, at):
            end, value, fraction = _number(text, at)
            tokens.append(Token("number", text[at:end], at, end, fold(text[at:end]), value, fraction))
            at = end
        elif _is_letter(sign):
            end = _word_end(text, at)
            tokens.append(Token("word", text[at:end], at, end, fold(text[at:end])))
            at = end
        else:
            tokens.append(Token("mark", sign, at, at + 1, sign))
            at += 1
    return tuple(tokens)


def fold(text: str) -> str:
    """A text without accents and capitals, with plain apostrophes: "Crème" is "creme", "m³" is "m3"."""
    if text.isascii():
        return text.lower()
    plain = unicodedata.normalize("NFKD", text)
    kept = "".join("'" if sign in _APOSTROPHES else sign for sign in plain if not unicodedata.combining(sign))
    return kept.casefold()


_IRREGULAR: Mapping[str, str] = {
    "leaves": "leaf",
    "loaves": "loaf",
    "halves": "half",
    "shelves": "shelf",
    "feet": "foot",
    "geese": "goose",
    "mice": "mouse",
    "bakkies": "bakkie",
    "cookies": "cookie",
    "brownies": "brownie",
    "wheelies": "wheelie",
    "gas": "gas",
    "molasses": "molasses",
    "hours": "hour",
}


@lru_cache(maxsize=8192)
def singular(word: str) -> str:
    """The singular of a folded English noun; other words come back as they are, or shortened always alike."""
    word = word.removesuffix("'s").removesuffix("'")
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    if len(word) > 4 and word.endswith(("ches", "shes", "sses", "xes", "zes", "oes")):
        return word[:-2]
    if len(word) > 2 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return word[:-1]
    return word


def shown(text: str, limit: int = 60) -> str:
    """Somebody's words, safe to quote in a one-line message: no control or direction signs, not too long."""
    return one_line(text, limit)


def adjacent(tokens: Sequence[Token], at: int) -> bool:
    """Whether the token at `at` touches both its neighbours, as a hyphen does."""
    return (
        0 < at < len(tokens) - 1 and tokens[at - 1].end == tokens[at].start and tokens[at].end == tokens[at + 1].start
    )


def skip_hyphen(tokens: Sequence[Token], at: int) -> int:
    """The place after a hyphen that joins two tokens, or the same place."""
    return at + 1 if at < len(tokens) and tokens[at].key in DASHES and adjacent(tokens, at) else at


def longest(
    tokens: Sequence[Token],
    at: int,
    table: Mapping[tuple[str, ...], _Value],
    words: int,
    normal: Callable[[str], str] = singular,
) -> tuple[_Value, int] | None:
    """The longest entry of a table that the tokens spell from `at`, with the place after it.

    Hyphens between words, and the full stop of an abbreviation, do not count.

    Args:
        tokens: what was said.
        at: where to begin.
        table: entries by their words.
        words: the number of words in the longest key.
        normal: the form of a word that keys are in.
    """
    found: tuple[_Value, int] | None = None
    key: list[str] = []
    here = at
    while here < len(tokens) and len(key) < words:
        token = tokens[here]
        here += 1
        if token.kind == "mark" and key:
            stops = token.key == "." and tokens[here - 2].kind == "word" and tokens[here - 2].end == token.start
            if stops or (token.key in DASHES and adjacent(tokens, here - 1)):
                continue
            break
        key.append(normal(token.key) if token.kind == "word" else token.key)
        if tuple(key) in table:
            found = table[tuple(key)], here
    return found


def _is_letter(sign: str) -> bool:
    return sign.isalpha() or (not sign.isascii() and unicodedata.category(sign).startswith("M"))


def _word_end(text: str, at: int) -> int:
    end = at
    while end < len(text):
        letters = _LETTERS.match(text, end)
        if letters is not None:
            end = letters.end()
        elif _is_letter(text[end]) or (text[end] in _APOSTROPHES and _is_letter(text[end + 1 : end + 2])):
            end += 1
        else:
            break
    if end < len(text) and text[end] in _CUBED_OR_SQUARED and fold(text[at:end]) in _POWERED:
        after = text[end + 1 : end + 2]
        if not (after.isalnum() or _vulgar(after) is not None):
            return end + 1
    return end


def _vulgar(sign: str) -> float | None:
    if len(sign) != 1 or sign.isascii() or not unicodedata.name(sign, "").startswith("VULGAR FRACTION"):
        return None
    return unicodedata.numeric(sign)


def _starts_decimal(text: str, at: int) -> bool:
    if text[at] != "." or not text[at + 1 : at + 2].isdecimal():
        return False
    return at == 0 or not text[at - 1].isalnum()


def _digits_end(text: str, at: int) -> int:
    while at < len(text) and text[at].isdecimal():
        at += 1
    return at


def _number(text: str, at: int) -> tuple[int, float, bool]:
    """End, value, and whether it is a proper fraction.

    A comma before exactly three digits parts thousands ("1,000"); before any other number of digits, or after
    a nought, it is a decimal comma ("2,5", "0,250").
    """
    vulgar = _vulgar(text[at])
    if vulgar is not None:
        return at + 1, vulgar, True
    end = _digits_end(text, at)
    digits = text[at:end]
    first = digits
    while text[end : end + 1] == ",":
        group = _digits_end(text, end + 1)
        if group - end != 4 or not 1 <= len(first) <= 3 or first == "0":
            break
        digits += text[end + 1 : group]
        end = group
    point = text[end : end + 1]
    after = _digits_end(text, end + 1)
    is_decimal = bool(point) and point in ".," and after > end + 1 and not (point == "," and digits != first)
    if is_decimal:
        return after, float(f"{digits or '0'}.{text[end + 1 : after]}"), False
    return _with_fraction(text, end, float(digits))


def _with_fraction(text: str, end: int, whole: float) -> tuple[int, float, bool]:
    vulgar = _vulgar(text[end : end + 1])
    if vulgar is not None:
        return end + 1, whole + vulgar, False
    if text[end : end + 1] in ("/", "⁄"):
        after = _digits_end(text, end + 1)
        below = float(text[end + 1 : after]) if after > end + 1 else 0.0
        if below > 0:
            return after, whole / below, whole < below
    return end, whole, False

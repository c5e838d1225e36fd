"""A line of text made ready to be read: cleaned, cut into words, sentences and clauses, each with its place."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, replace

from advisor.household.tokens import DASHES, Token, fold, singular, tokenize
from advisor.talk.reading.lexicon import Lexicon

#: Nobody says more than this in one go: what is longer was pasted, and is read so far.
LONGEST = 2000

_QUOTES = frozenset("\"'“”„‟‘’‚‛`´«»‹›*_~")
_SELECTORS = frozenset("︎️")  # they choose the look of the sign before them
_ENDS = frozenset(".!?;\n…。！？؟")
_ASKS = frozenset("?？؟")
_PARTS = frozenset(",:()[]/|•·+&،、")
_ABBREVIATED = frozenset({"approx", "ca", "cu", "fl", "imp", "lb", "oz", "gal", "ft", "sq", "eg", "ie"})


@dataclass(frozen=True, slots=True)
class Word:
    """A word, a number or a mark of a line.

    Attributes:
        form: in the normal form of the phrase lexicon.
        key: in the form in which materials and measures are indexed.
        start: place of its first character in the cleaned text.
        end: place after its last one.
        token: number of the token it was made from; "don't" is two words of one token.
        slip: whether it was put right; then it is never passed over as small talk.
        mark: whether it is a mark, which no phrase runs over unless it is written there.
    """

    form: str
    key: str
    start: int
    end: int
    token: int
    mark: bool
    slip: bool = False


@dataclass(frozen=True, slots=True)
class Sentence:
    """Words from `start` up to `end`; `asks` if a question mark stands behind them."""

    start: int
    end: int
    asks: bool


@dataclass(frozen=True)
class Line:
    """What was said, cut up. Spans count characters of `text`; `places` leads back to the text as it was typed."""

    text: str
    places: tuple[int, ...] | None
    tokens: tuple[Token, ...]
    words: tuple[Word, ...]
    forms: tuple[str, ...]
    word_of: tuple[int, ...]  # for each token, and for the end, the first word at or after it
    sentences: tuple[Sentence, ...]

    def span(self, start: int, end: int) -> tuple[int, int]:
        """The characters from one word up to another."""
        return self.words[start].start, self.words[end - 1].end

    def said(self, start: int, end: int) -> str:
        """What was written there."""
        first, last = self.span(start, end)
        return self.text[first:last]


def cut(text: str, lexicon: Lexicon) -> Line:
    """Cut a text up."""
    clean, places = _cleaned(text)
    tokens = tuple(_put_right(token, lexicon) for token in tokenize(clean))
    words = _words(tokens, lexicon)
    word_of = []
    at = 0
    for token in range(len(tokens) + 1):
        while at < len(words) and words[at].token < token:
            at += 1
        word_of.append(at)
    return Line(
        clean, places, tokens, words, tuple(word.form for word in words), tuple(word_of), _sentences(words, tokens)
    )


def bounds(line: Line, sentence: Sentence, parting: frozenset[str]) -> tuple[tuple[int, int], ...]:
    """For each word of a sentence, the clause it stands in: from its first word up to the place after its last.

    Commas, colons, brackets and dashes part clauses, and so do the words of `parting`.
    """
    found: list[tuple[int, int]] = []
    start = sentence.start
    for at in range(sentence.start, sentence.end + 1):
        if at == sentence.end or line.words[at].mark or line.forms[at] in parting:
            found += [(start, at)] * (at - start)
            if at < sentence.end:
                found.append((at, at + 1))
            start = at + 1
    return tuple(found)


# ---------------------------------------------------------------- cleaning


def _cleaned(text: str) -> tuple[str, tuple[int, ...] | None]:
    """The text without signs that cannot be seen, and where each character of it stood; no places if none went."""
    if text.isascii() and text.isprintable():
        return text, None
    kept: list[str] = []
    places: list[int] = []
    for place, sign in enumerate(text):
        plain = _plain(sign)
        if plain:
            kept.append(plain)
            places.append(place)
    if len(kept) == len(text):
        return "".join(kept), None
    return "".join(kept), (*places, len(text))


def _plain(sign: str) -> str:
    if sign in "\n\u2028\u2029\x85":
        return "\n"
    if sign in _SELECTORS:
        return ""
    category = unicodedata.category(sign)
    if category == "Cf":
        return ""
    return " " if category[0] == "C" and category != "Cn" else sign


# ---------------------------------------------------------------- words


def _words(tokens: Sequence[Token], lexicon: Lexicon) -> tuple[Word, ...]:
    found: list[Word] = []
    for number, token in enumerate(tokens):
        if token.kind == "mark":
            if not _is_soft(tokens, number):
                word = "and" if token.key == "&" else token.key
                found.append(Word(word, word, token.start, token.end, number, token.key != "&"))
            continue
        if _is_numbering(tokens, number):
            continue
        if token.kind == "number":
            found.append(Word(token.key, token.key, token.start, token.end, number, False))
            continue
        forms = lexicon.spelling.normal(token.key)
        key = singular(token.key)
        for form in forms:
            whole = len(forms) == 1 and lexicon.spelling.knows(key)
            slip = token.key != fold(token.text)
            found.append(Word(form, key if whole else form, token.start, token.end, number, False, slip))
    return tuple(found)


def _is_numbering(tokens: Sequence[Token], at: int) -> bool:
    """Whether a number counts the lines of a list: the 2 in "2. a bucket of coffee"."""
    if tokens[at].kind != "number" or not tokens[at].value.is_integer() or at + 2 >= len(tokens):
        return False
    first = at == 0 or tokens[at - 1].key == "\n"
    dotted = tokens[at + 1].key in (".", ")") and tokens[at + 1].start == tokens[at].end
    return first and dotted and tokens[at + 2].start > tokens[at + 1].end and tokens[at + 2].key != "\n"


def _put_right(token: Token, lexicon: Lexicon) -> Token:
    """The token, its key put right if it is a slip of the pen for a word we know."""
    spelling = lexicon.spelling
    if token.kind != "word":
        return token
    forms = spelling.normal(token.key)
    if len(forms) > 1 or spelling.knows(forms[0]):
        return token
    meant = spelling.corrected(forms[0]) or (spelling.corrected(token.key) if token.key != forms[0] else "")
    return replace(token, key=meant) if meant else token


def _is_soft(tokens: Sequence[Token], at: int) -> bool:
    """Whether a mark may stand inside a phrase: a hyphen within a word, or a quotation mark."""
    token = tokens[at]
    if token.key in _QUOTES:
        return True
    if token.key not in DASHES or not 0 < at < len(tokens) - 1:
        return False
    before, after = tokens[at - 1], tokens[at + 1]
    return before.end == token.start and token.end == after.start and "word" in (before.kind, after.kind)


# ---------------------------------------------------------------- sentences


def _sentences(words: Sequence[Word], tokens: Sequence[Token]) -> tuple[Sentence, ...]:
    found: list[Sentence] = []
    start = at = 0
    while at < len(words):
        if not _ends(words, tokens, at):
            at += 1
            continue
        end = at
        asks = False
        while at < len(words) and words[at].mark and words[at].form in _ENDS:
            asks = asks or words[at].form in _ASKS
            at += 1
        if end > start:
            found.append(Sentence(start, end, asks))
        start = at
    if start < len(words):
        found.append(Sentence(start, len(words), False))
    return tuple(found)


def _ends(words: Sequence[Word], tokens: Sequence[Token], at: int) -> bool:
    word = words[at]
    if not word.mark or word.form not in _ENDS:
        return False
    if word.form != ".":
        return True
    touches = word.token + 1 < len(tokens) and tokens[word.token + 1].start == word.end
    abbreviates = at > 0 and words[at - 1].form in _ABBREVIATED and words[at - 1].end == word.start
    return not touches and not abbreviates

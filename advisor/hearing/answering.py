"""Whether a line answers the question that stands open, and which of its options it picks."""

from __future__ import annotations

from advisor.hearing.finding import Finder
from advisor.hearing.shapes import Asked

_ORDINALS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "last": -1}
_SMALL = frozenset(
    [
        "the",
        "a",
        "an",
        "of",
        "is",
        "it",
        "its",
        "i",
        "it's",
        "think",
        "guess",
        "suppose",
        "say",
        "would",
        "said",
        "reckon",
        "maybe",
        "probably",
        "just",
        "um",
        "er",
        "well",
        "number",
        "option",
        "no.",
        "please",
        "one",
        "s",
        "that",
        "this",
        "more",
        "like",
        "kind",
        "sort",
        "bit",
        "'s",
        "to",
        "be",
        "id",
    ]
)


def picked(finder: Finder, asked: Asked) -> tuple[int, ...]:
    """Numbers, from 1, of the options that a line picks, if the whole line is an answer; none otherwise.

    A number counts only if nothing else is said; a digit inside a longer line, a ratio, a size or a date picks nothing.
    """
    if not asked.options:
        return ()
    forms = [word.form for word in finder.line.words if not word.mark]
    said = _bare(" ".join(forms))
    for number, option in enumerate(asked.options, 1):
        if said == _bare(option.lower()):
            return (number,)
    bare = [form for form in forms if form not in _SMALL]
    numbers = [_number(form, len(asked.options)) for form in bare if form not in ("and", "&")]
    if numbers and all(numbers):
        return tuple(number for number in numbers if number)
    if "first" in forms or "second" in forms or "last" in forms:
        if {"all", "bar"} <= set(forms) or {"all", "but"} <= set(forms) or {"all", "except"} <= set(forms):
            out = {_number(form, len(asked.options)) for form in bare}
            return tuple(number for number in range(1, len(asked.options) + 1) if number not in out)
    return _by_words(finder, asked)


def _number(form: str, many: int) -> int:
    """The option that a word numbers; 0 if it numbers none."""
    number = int(form) if form.isdigit() else _ORDINALS.get(form, 0)
    number = many if number == -1 else number
    return number if 1 <= number <= many else 0


def _bare(text: str) -> str:
    return " ".join(word for word in text.replace(",", " ").replace(".", " ").split() if word not in _SMALL)


def _by_words(finder: Finder, asked: Asked) -> tuple[int, ...]:
    """The one option whose telling words the line holds; none if there are several, or the line says more."""
    english = finder.vocabulary.english
    said = {word.lemma for word in finder.line.words if not word.mark and word.form not in _SMALL}
    telling = [
        {english.lemma(word) for word in _bare(option.lower()).split() if word.isalpha()} for option in asked.options
    ]
    common = set.intersection(*telling) if len(telling) > 1 else set()
    shares = [len(said & (words - common)) / max(1, len(words - common)) for words in telling]
    best = max(shares)
    if not said or best == 0:
        return ()
    winners = [number for number, share in enumerate(shares, 1) if share == best]
    covered = len(said & telling[winners[0] - 1]) / len(said)
    return (winners[0],) if len(winners) == 1 and covered >= 1 / 3 else ()

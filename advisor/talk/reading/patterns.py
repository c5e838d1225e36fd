"""The notation of rules/phrases.toml, and its matching against words.

    we keep (hens | ducks)      one of several
    [the | my] heap             one of several, or nothing
    (no | not any) {vermin}     one of the phrases of a list
    <count> {hens}              a place: here, how many

A pattern matches a stretch of words from its first to its last; what stands around it is the business of others.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

#: The normal forms of a word as written in a pattern: "don't" is two words, plurals are singular.
Normal = Callable[[str], tuple[str, ...]]

#: What may stand at a place: given its name and where it begins, each end with what was read there.
Fill = Callable[[str, int], Sequence[tuple[int, Any]]]

#: What was read at each place of a pattern, in order.
Captures = tuple[tuple[str, Any], ...]


class PatternError(ValueError):
    """A pattern cannot be read. `column` counts from 1."""

    def __init__(self, message: str, column: int) -> None:
        super().__init__(message)
        self.column = column


@dataclass(frozen=True, slots=True)
class Exactly:
    """One word, in its normal form."""

    word: str


@dataclass(frozen=True)
class Choice:
    """One of several patterns; none of them, too, if it is optional."""

    options: tuple[Pattern, ...]
    optional: bool

    @cached_property
    def by_first(self) -> Mapping[str, tuple[Pattern, ...]]:
        """The options by what they may begin with; those that may begin with a place under the empty word."""
        found: dict[str, list[Pattern]] = {}
        for option in self.options:
            spelled = firsts(option)
            free = any(first.startswith("<") for first in spelled) or min_words(option) == 0
            for first in {""} if free else spelled:
                found.setdefault(first, []).append(option)
        return {first: tuple(options) for first, options in found.items()}


@dataclass(frozen=True, slots=True)
class Place:
    """Something that is not spelled out: an amount, a material."""

    name: str


Pattern = tuple[Exactly | Choice | Place, ...]

_CLOSING = {"(": ")", "[": "]"}
_SIGNS = "()[]|{}<>"


def parse(text: str, lists: Mapping[str, tuple[Pattern, ...]], normal: Normal) -> Pattern:
    """A pattern from its notation.

    Args:
        text: the notation.
        lists: what `{name}` stands for.
        normal: gives the normal forms of a word.

    Raises:
        PatternError: the notation is broken, or names a list that is not there.
    """
    reader = _Reader(text, lists, normal)
    pattern = reader.sequence("")
    if not pattern:
        raise PatternError("there is nothing in it", 1)
    if min_words(pattern) == 0:
        raise PatternError("it would match no words at all", 1)
    return pattern


class _Reader:
    def __init__(self, text: str, lists: Mapping[str, tuple[Pattern, ...]], normal: Normal) -> None:
        self.text = text
        self.lists = lists
        self.normal = normal
        self.at = 0

    def sequence(self, until: str) -> Pattern:
        """Parts up to one of the signs in `until`, which is left standing, or to the end."""
        parts: list[Exactly | Choice | Place] = []
        while self.at < len(self.text):
            sign = self.text[self.at]
            if sign.isspace():
                self.at += 1
            elif sign in until:
                return tuple(parts)
            elif sign in "([":
                parts.append(self.choice(sign))
            elif sign == "{":
                parts.append(self.list())
            elif sign == "<":
                parts.append(Place(self.enclosed(">")))
            elif sign in _SIGNS:
                raise PatternError(f"a stray '{sign}'", self.at + 1)
            else:
                parts += [Exactly(word) for word in self.normal(self.word())]
        if until:
            raise PatternError(f"'{until[-1]}' is missing", len(self.text) + 1)
        return tuple(parts)

    def choice(self, opening: str) -> Choice:
        start = self.at + 1
        closing = _CLOSING[opening]
        options = []
        while True:
            self.at += 1
            options.append(self.sequence("|" + closing))
            if not options[-1]:
                raise PatternError("an empty choice", start)
            if self.text[self.at] == closing:
                self.at += 1
                return Choice(tuple(options), opening == "[")

    def list(self) -> Choice:
        column = self.at + 1
        name = self.enclosed("}")
        if name not in self.lists:
            raise PatternError(f"no list '{name}'", column)
        return Choice(self.lists[name], False)

    def enclosed(self, closing: str) -> str:
        end = self.text.find(closing, self.at)
        if end < 0:
            raise PatternError(f"'{closing}' is missing", self.at + 1)
        inside = self.text[self.at + 1 : end].strip()
        self.at = end + 1
        return inside

    def word(self) -> str:
        start = self.at
        while self.at < len(self.text) and not (self.text[self.at].isspace() or self.text[self.at] in _SIGNS):
            self.at += 1
        return self.text[start : self.at]


def min_words(pattern: Pattern) -> int:
    """The number of words or places that the shortest match takes."""
    least = 0
    for part in pattern:
        if not isinstance(part, Choice):
            least += 1
        elif not part.optional:
            least += min(min_words(option) for option in part.options)
    return least


def firsts(pattern: Pattern) -> frozenset[str]:
    """What a match may begin with: words, and places as "<name>"."""
    found: set[str] = set()
    for part in pattern:
        if isinstance(part, Choice):
            found.update(first for option in part.options for first in firsts(option))
            if part.optional or any(min_words(option) == 0 for option in part.options):
                continue
        else:
            found.add(part.word if isinstance(part, Exactly) else f"<{part.name}>")
        break
    return frozenset(found)


def needs(pattern: Pattern) -> tuple[frozenset[str], ...]:
    """Sets of words of each of which one must be there, or the pattern cannot match."""
    found = []
    for part in pattern:
        if isinstance(part, Exactly):
            found.append(frozenset({part.word}))
        elif isinstance(part, Choice) and not part.optional:
            options = [frozenset(words_of(option)) for option in part.options]
            if all(options) and not any(set(places_of(option)) for option in part.options):
                found.append(frozenset().union(*options))
    return tuple(found)


def words_of(pattern: Pattern) -> Iterator[str]:
    """Every word spelled out in a pattern."""
    for part in pattern:
        if isinstance(part, Exactly):
            yield part.word
        elif isinstance(part, Choice):
            for option in part.options:
                yield from words_of(option)


def places_of(pattern: Pattern) -> Iterator[str]:
    """The name of every place in a pattern."""
    for part in pattern:
        if isinstance(part, Place):
            yield part.name
        elif isinstance(part, Choice):
            for option in part.options:
                yield from places_of(option)


def match(pattern: Pattern, words: Sequence[str], at: int, fill: Fill) -> tuple[int, Captures] | None:
    """The longest match that begins at a word: the place after it, and what its places hold.

    Args:
        pattern: what to look for.
        words: normal forms of what was said.
        at: where to begin.
        fill: reads what stands at a place.
    """
    return max(_matches(pattern, 0, words, at, fill, ()), key=lambda found: found[0], default=None)


def _matches(
    pattern: Pattern, part_at: int, words: Sequence[str], at: int, fill: Fill, captures: Captures
) -> Iterator[tuple[int, Captures]]:
    if part_at == len(pattern):
        yield at, captures
        return
    part = pattern[part_at]
    if isinstance(part, Exactly):
        if at < len(words) and words[at] == part.word:
            yield from _matches(pattern, part_at + 1, words, at + 1, fill, captures)
    elif isinstance(part, Place):
        for end, value in fill(part.name, at):
            yield from _matches(pattern, part_at + 1, words, end, fill, (*captures, (part.name, value)))
    else:
        word = words[at] if at < len(words) else ""
        for option in (*part.by_first.get(word, ()), *part.by_first.get("", ())):
            for end, inner in _matches(option, 0, words, at, fill, captures):
                yield from _matches(pattern, part_at + 1, words, end, fill, inner)
        if part.optional:
            yield from _matches(pattern, part_at + 1, words, at, fill, captures)

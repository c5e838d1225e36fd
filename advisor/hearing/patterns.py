"""Ways of saying, as rules/words/ writes them, made ready to be found in a line.

a word            the word in any form ("smell" is also "smelt", "smelling"); =smelt is that form alone
one|another       either
(really|very much)  may be left out
[hot|very warm]   one of these must be said
...               up to four words of any kind
<smell>           a class of words from a table [class], or a thing found by its form: <number> <count> <litres>
                  <length> <measure> <material>; <number:15:90> and <length:0:10> (in metres) have bounds
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import field
from typing import NamedTuple

from advisor.hearing.cutting import Word
from advisor.hearing.english import English
from advisor.records import dataclass

#: Words of any kind that "..." may stand for.
GAP = 4

Finder = Callable[[str, int], "tuple[int, ...]"]

#: The words with which something can begin, and the names of things found before that can begin it.
Starts = tuple[frozenset[str], frozenset[str]]


class PatternError(ValueError):
    """A way of saying that cannot be read."""


class Element(NamedTuple):
    """One place of a way of saying: words any of which fits, a class, a gap, or what may be left out."""

    lemmas: frozenset[str] = frozenset()
    forms: frozenset[str] = frozenset()
    name: str = ""
    gap: bool = False
    optional: tuple[tuple[Element, ...], ...] = ()
    choice: tuple[tuple[Element, ...], ...] = ()

    def fits(self, word: Word) -> bool:
        """Whether a word stands in this place."""
        return word.lemma in self.lemmas or word.form in self.forms


@dataclass(frozen=True)
class Grammar:
    """What it takes to read ways of saying: lemmas, names of classes, and the elements made so far.

    Attributes:
        starts: the words and the things found with which each class can begin, once they are known.
        first: the same of beginnings that name no class, since many ways begin alike.
    """

    english: English
    classes: Set[str]
    starts: Mapping[str, Starts] = field(default_factory=dict)
    made: dict[str, Element] = field(default_factory=dict)
    first: dict[str, Starts] = field(default_factory=dict)

    def __getstate__(self) -> dict[str, object]:
        """What is kept of it: not what was made so far, which is quicker made again where it is needed."""
        return {**vars(self), "made": {}, "first": {}}

    def element(self, part: str, text: str) -> Element:
        """One place of a way of saying; many ways share theirs. Raises PatternError as `Way.elements`."""
        found = self.made.get(part)
        if found is None:
            found = self.made[part] = _element(part, self, text)
        return found


class Way:
    """A way of saying something, read when a line first holds its beginning, since most lines need few of them.

    Attributes:
        text: as it was written.
    """

    __slots__ = ("_elements", "_needs", "grammar", "text")

    def __init__(self, text: str, grammar: Grammar) -> None:
        self.text = text
        self.grammar = grammar
        self._elements: tuple[Element, ...] = ()
        self._needs: tuple[frozenset[str], ...] | None = None

    def __reduce__(self) -> tuple[type[Way], tuple[str, Grammar]]:
        return Way, (self.text, self.grammar)

    @property
    def elements(self) -> tuple[Element, ...]:
        """Its places, in order.

        Raises:
            PatternError: a bracket is not closed, a class is not known, or it holds no word that must be said.
        """
        if not self._elements:
            elements = tuple(self.grammar.element(part, self.text) for part in _parts(self.text))
            if all(element.gap or element.optional for element in elements):
                raise PatternError(f'"{self.text}" holds no word that must be said')
            if elements[0].gap or elements[-1].gap:
                raise PatternError(f'"{self.text}" begins or ends with a gap')
            self._elements = elements
        return self._elements

    @property
    def needs(self) -> tuple[frozenset[str], ...]:
        """Sets of words, and of things found as "<number>", one of each of which is in every line where it stands.

        The smallest set, which fewest lines hold, comes first. Raises PatternError as `elements`.
        """
        if self._needs is None:
            self._needs = tuple(sorted(set(_needed(self.elements, self.grammar.starts)), key=len))
        return self._needs

    @property
    def beginning(self) -> str:
        """Its text up to the first place that must be there."""
        begun = _BEGINNING.match(self.text.lower())
        return begun.group() if begun is not None else ""


def _needed(elements: Iterable[Element], starts: Mapping[str, Starts]) -> Iterator[frozenset[str]]:
    """Of each place that must be there, what it can begin with."""
    for element in elements:
        if element.choice:
            needs = [min(_needed(choice, starts), key=len, default=_ANYTHING) for choice in element.choice]
            if _ANYTHING not in needs:
                yield frozenset().union(*needs)
        elif element.name:
            words, names = starts.get(element.name, (_ANYTHING, frozenset([element.name])))
            yield words | {found(name) for name in names}
        elif not (element.gap or element.optional):
            yield element.lemmas | element.forms


def found(name: str) -> str:
    """How a thing that is found by its form stands among the words that a line holds: "<number>"."""
    return f"<{name.partition(':')[0]}>"


_ANYTHING: frozenset[str] = frozenset()

_MUST = r"\[[^\[\]]*\]|<[^<>]*>|[^\s()\[\]]+|[()\[\]]"
_PART = re.compile(rf"\([^()]*\)|{_MUST}")
_BEGINNING = re.compile(rf"\s*(\([^()]*\)\s*)*({_MUST})?")


def _parts(text: str) -> list[str]:
    return _PART.findall(text.lower())


def _element(part: str, grammar: Grammar, text: str) -> Element:
    if part == "...":
        return Element(gap=True)
    if part in ("(", ")", "[", "]"):
        raise PatternError(f'"{text}" has a bracket that is not closed')
    if part.startswith(("(", "[")):
        choices = _merged([tuple(grammar.element(one, text) for one in said.split()) for said in _choices(part[1:-1])])
        return Element(optional=choices) if part.startswith("(") else Element(choice=choices)
    if part.startswith("<"):
        name = part.strip("<>")
        if name.partition(":")[0] not in grammar.classes:
            raise PatternError(f'"{text}" names <{name}>, which is no class')
        return Element(name=name)
    if part.startswith("|") or part.endswith("|"):
        raise PatternError(f'"{text}" has a bar without a word on each side; words of two go into [square brackets]')
    lemmas, forms = set(), set()
    for word in part.split("|"):
        if word.startswith("="):
            forms.add(word[1:])
        else:
            lemmas.add(grammar.english.lemma(word))
            forms.add(word)
    if forms & {"is", "has"}:
        forms.add("'s")  # "the lid's cracked"
    return Element(frozenset(lemmas), frozenset(forms))


def _choices(text: str) -> list[str]:
    """What stands between the bars of a bracket; words between two bars without a blank are one choice each."""
    return [choice for choice in text.split("|") if choice.strip()]


def _merged(choices: Sequence[tuple[Element, ...]]) -> tuple[tuple[Element, ...], ...]:
    """Choices with all that are one word in one place, since that is looked at once."""
    single = [choice for choice in choices if len(choice) == 1 and (choice[0].lemmas or choice[0].forms)]
    if len(single) < 2:
        return tuple(choices)
    lemmas = frozenset(word for (one,) in single for word in one.lemmas)
    forms = frozenset(word for (one,) in single for word in one.forms)
    return ((Element(lemmas, forms),), *(choice for choice in choices if choice not in single))


def ends(way: Way, words: Sequence[Word], at: int, last: int, things: Finder) -> int:
    """The longest place up to which a way of saying reaches from a word, or 0 if it does not stand there."""
    elements = way.elements
    for number, element in enumerate(elements):
        lemmas, forms = element.lemmas, element.forms
        if not lemmas and not forms:
            return max(_reached(elements[number:], (at,), words, last, things), default=0)
        if at >= last or (words[at].lemma not in lemmas and words[at].form not in forms):
            return 0
        at += 1
    return at


def _reached(
    elements: tuple[Element, ...], starts: Iterable[int], words: Sequence[Word], last: int, things: Finder
) -> Iterable[int]:
    """Every place behind the elements, if they begin at one of some places."""
    for element in elements:
        if element.lemmas or element.forms:  # a word, as most are
            lemmas, forms = element.lemmas, element.forms
            starts = [at + 1 for at in starts if at < last and (words[at].lemma in lemmas or words[at].form in forms)]
            if not starts:
                return ()
            continue
        behind: set[int] = set()
        for at in starts:
            if element.optional:
                behind.add(at)
                for choice in element.optional:
                    behind.update(_reached(choice, (at,), words, last, things))
            elif element.choice:
                for choice in element.choice:
                    behind.update(_reached(choice, (at,), words, last, things))
            elif element.gap:
                behind.update(_over_a_gap(words, at, last))
            elif at < last:
                behind.update(end for end in things(element.name, at) if end <= last)
        if not behind:
            return ()
        starts = behind
    return starts


#: "..." reaches over none of these: "worms are not dying" is not "worms ... dying".
_NO_GAP = frozenset({"not", "never", "no", "nothing", "if", "without", "neither", "nor"})


def _over_a_gap(words: Sequence[Word], at: int, last: int) -> Iterator[int]:
    for behind in range(at, min(at + GAP, last) + 1):
        yield behind
        if behind < last and words[behind].form in _NO_GAP:
            return


def first_words(way: Way, classes: Mapping[str, Sequence[Way]], known: dict[str, Starts]) -> Starts:
    """The words by which a way of saying can begin, and the names of things found before that can begin it.

    Args:
        known: the same of classes that were looked at already, by their names.

    Raises:
        PatternError: as `Way.elements`.
    """
    grammar, begun = way.grammar, way.beginning
    found = grammar.first.get(begun)
    if found is None:
        elements = [grammar.element(part, way.text) for part in _parts(begun)]
        found = _first(elements, classes, known)
        if "<" not in begun:  # of a class that is being looked at not everything is known yet
            grammar.first[begun] = found
    return found


def _first(elements: Iterable[Element], classes: Mapping[str, Sequence[Way]], known: dict[str, Starts]) -> Starts:
    """The words and the names by which some places of a way of saying can begin, as `first_words`."""
    words: set[str] = set()
    names: set[str] = set()
    for element in elements:
        for choice in (*element.optional, *element.choice):
            inner_words, inner_names = _first(choice, classes, known)
            words |= inner_words
            names |= inner_names
        if element.name in classes:
            inner_words, inner_names = class_starts(element.name, classes, known)
            words |= inner_words
            names |= inner_names
        elif element.name:
            names.add(element.name)
        words |= element.lemmas | element.forms
        if not element.optional:
            break
    return frozenset(words), frozenset(names)


def class_starts(name: str, classes: Mapping[str, Sequence[Way]], known: dict[str, Starts]) -> Starts:
    """The words, and the names of things found before, with which the ways of a class can begin."""
    if name not in known:
        known[name] = (frozenset(), frozenset())  # a class that holds itself begins with nothing more
        begun = [first_words(way, classes, known) for way in classes[name]]
        words = frozenset(word for found, _ in begun for word in found)
        known[name] = words, frozenset(one for _, found in begun for one in found)
    return known[name]

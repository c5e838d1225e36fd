"""Ways of saying, as rules/words/ writes them, made ready to be found in a line.

a word            the word in any form ("smell" is also "smelt", "smelling"); =smelt is that form alone
one|another       either
(really|very much)  may be left out
[hot|very warm]   one of these must be said
...               up to four words of any kind
<smell>           a class of words from a table [class], or a thing found by its form: <number> <count> <litres> <length>
                  <measure> <material>; <number:15:90> and <length:0:10> (in metres) have bounds
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass

from advisor.hearing.cutting import Word
from advisor.hearing.english import English

#: Words of any kind that "..." may stand for.
GAP = 4

Finder = Callable[[str, int], "tuple[int, ...]"]


class PatternError(ValueError):
    """A way of saying that cannot be read."""


@dataclass(frozen=True, slots=True)
class Element:
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


@dataclass(frozen=True, slots=True)
class Way:
    """A way of saying something.

    Attributes:
        elements: its places, in order.
        text: as it was written.
        needs: sets of words, one of each of which is in every line where it stands.
    """

    elements: tuple[Element, ...]
    text: str
    needs: tuple[frozenset[str], ...] = ()


def parse(text: str, english: English, classes: Set[str], made: dict[str, Element]) -> Way:
    """Make a way of saying ready.

    Args:
        classes: the names of the classes there are.
        made: the elements made so far, by their text; many ways share them.

    Raises:
        PatternError: a bracket is not closed, a class is not known, or it holds no word.
    """
    elements = tuple(_made(part, english, classes, text, made) for part in _parts(text))
    if all(element.gap or element.optional for element in elements):
        raise PatternError(f'"{text}" holds no word that must be said')
    if elements[0].gap or elements[-1].gap:
        raise PatternError(f'"{text}" begins or ends with a gap')
    needs = tuple(element.lemmas | element.forms for element in elements if element.lemmas or element.forms)
    return Way(elements, text, needs)


_PART = re.compile(r"\([^()]*\)|\[[^\[\]]*\]|<[^<>]*>|[^\s()\[\]]+|[()\[\]]")


def _parts(text: str) -> list[str]:
    return _PART.findall(text.lower())


def _made(part: str, english: English, known: Set[str], text: str, made: dict[str, Element]) -> Element:
    found = made.get(part)
    if found is None:
        found = made[part] = _element(part, english, known, text)
    return found


def _element(part: str, english: English, known: Set[str], text: str) -> Element:
    if part == "...":
        return Element(gap=True)
    if part in ("(", ")", "[", "]"):
        raise PatternError(f'"{text}" has a bracket that is not closed')
    if part.startswith(("(", "[")):
        choices = tuple(
            tuple(_element(one, english, known, text) for one in choice.split()) for choice in _choices(part[1:-1])
        )
        return Element(optional=choices) if part.startswith("(") else Element(choice=choices)
    if part.startswith("<"):
        name = part.strip("<>")
        if name.partition(":")[0] not in known:
            raise PatternError(f'"{text}" names <{name}>, which is no class')
        return Element(name=name)
    lemmas, forms = set(), set()
    for word in part.split("|"):
        if word.startswith("="):
            forms.add(word[1:])
        else:
            lemmas.add(english.lemma(word))
            forms.add(word)
    return Element(frozenset(lemmas), frozenset(forms))


def _choices(text: str) -> list[str]:
    """What stands between the bars of a bracket; words that lie between two bars without a blank are one choice each."""
    return [choice for choice in text.split("|") if choice.strip()]


def ends(way: Way, words: Sequence[Word], at: int, last: int, things: Finder) -> int:
    """The longest place up to which a way of saying reaches from a word, or 0 if it does not stand there."""
    return max(_reached(way.elements, (at,), words, last, things), default=0)


def _reached(
    elements: tuple[Element, ...], starts: Iterable[int], words: Sequence[Word], last: int, things: Finder
) -> Iterable[int]:
    """Every place behind the elements, if they begin at one of some places."""
    for element in elements:
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
                if element.name:
                    behind.update(end for end in things(element.name, at) if end <= last)
                elif words[at].lemma in element.lemmas or words[at].form in element.forms:
                    behind.add(at + 1)
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


def first_words(way: Way, classes: Mapping[str, Sequence[Way]]) -> tuple[frozenset[str], frozenset[str]]:
    """The words by which a way of saying can begin, and the names of things found before that can begin it."""
    words: set[str] = set()
    names: set[str] = set()
    for element in way.elements:
        inner = (
            classes.get(element.name, ())
            if element.name
            else tuple(Way(one, "") for one in (*element.optional, *element.choice))
        )
        for begun in inner:
            inner_words, inner_names = first_words(begun, classes)
            words |= inner_words
            names |= inner_names
        if element.name and element.name not in classes:
            names.add(element.name)
        words |= element.lemmas | element.forms
        if not element.optional:
            break
    return frozenset(words), frozenset(names)

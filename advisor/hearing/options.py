"""Options of an open question picked by their own words, or by their numbers."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.hearing.english import listed
from advisor.hearing.finding import Finder
from advisor.records import dataclass

#: Numbers of options by the words for them; -1 is the last.
ORDINALS = {"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8}
ORDINALS |= {"1st": 1, "2nd": 2, "3rd": 3, "4th": 4, "5th": 5, "6th": 6, "last": -1, "one": 1, "two": 2, "three": 3}
ORDINALS |= {"four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "former": 1, "latter": -1}
_ONLY_BEFORE = listed("one option kind choice answer")
_BETWEEN_NUMBERS = listed("and & or plus the number option please think probably maybe then")
#: Words that tell nothing of which option is meant.
SMALL = listed(
    "the a an of is it its i think guess suppose say would said reckon maybe probably just um er well number option "
    "no. please one s that this more like kind kinda sort bit 's to be id my me in on at and or with out so some about "
    "do does are was has have there you your we kind-of really very quite choice answer id go for "
    "behind before beside near between against"
)


@dataclass(frozen=True)
class Option:
    """An option cut up: as it is worded, and other words for it."""

    own: Finder
    also: tuple[Finder, ...] = ()

    @property
    def wordings(self) -> tuple[Finder, ...]:
        """Its own wording, then the others."""
        return (self.own, *self.also)


def named_in(finder: Finder, options: Sequence[Option], *, many: bool) -> tuple[int, ...]:
    """The option whose words a line is, or the only one that begins with them; the options of a list; numbers."""
    said = forms_of(finder)
    for form in (forms_of, telling):
        for number, option in enumerate(options, 1):
            if form(finder) and any(form(finder) == form(wording) for wording in option.wordings):
                return (number,)
    exact = numbered_in(finder, len(options))
    if exact and (many or len(exact) == 1):
        return exact
    begun = [number for number, option in enumerate(options, 1) if said and forms_of(option.own)[: len(said)] == said]
    if len(begun) == 1 and telling(finder):
        return (begun[0],)
    return _listed(said, options) if many else ()


def _listed(said: list[str], options: Sequence[Option]) -> tuple[int, ...]:
    """All the options of a list in their own words, which may hold an "and"; none if it holds anything else."""
    words = [(forms_of(option.own), number) for number, option in enumerate(options, 1)]
    words.sort(key=lambda pair: -len(pair[0]))
    found: list[int] = []
    at = 0
    while at < len(said):
        if found and said[at] in ("and", "&", "plus"):
            at += 1
            continue
        match = next(((own, number) for own, number in words if own and said[at : at + len(own)] == own), None)
        if match is None:
            return ()
        found.append(match[1])
        at += len(match[0])
    return tuple(dict.fromkeys(found))


def forms_of(finder: Finder) -> list[str]:
    """The words of a text, without its marks."""
    return [word.form for word in finder.line.words if not word.mark]


def telling(finder: Finder) -> list[str]:
    """The words of a text that tell something."""
    return [form for form in forms_of(finder) if form not in SMALL]


def numbered_in(finder: Finder, many: int) -> tuple[int, ...]:
    """Options picked by number or ordinal, if nothing else is said: "2", "1 and 3", "the second one but smaller"."""
    words = [word.form for word in finder.line.words]
    forms = [form for form in words if form.isalnum() or form == "&"]
    start = 0
    while start < len(forms) and forms[start] in SMALL and forms[start] not in ORDINALS:
        start += 1
    found: list[int] = []
    for place, form in enumerate(forms[start:], start):
        number = int(form) if form.isdecimal() and len(form) < 3 else ORDINALS.get(form, 0)
        number = many if number == -1 else number
        if form in _BETWEEN_NUMBERS:
            continue
        if found and form in _ONLY_BEFORE:
            continue
        if found and form in ("but", "except") and forms[place - 1] in _ONLY_BEFORE | ORDINALS.keys():
            break
        if not 1 <= number <= many or (form == "one" and place > start):
            return ()
        found.append(number)
    joined = any(mark in words for mark in (":", "/", "x", "."))
    return () if joined and len(found) > 1 else tuple(dict.fromkeys(found))

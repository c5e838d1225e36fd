"""A line of a diary as it is read: its facts, the vessels it names, days, and figures as they were told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from advisor.hearing.cutting import cut
from advisor.hearing.finding import Finder
from advisor.hearing.hear import hear
from advisor.hearing.measured import (
    LengthTold,
    as_before_told,
    beds_told,
    days_told,
    filled_told,
    is_age,
    lengths_told,
    measures_told,
    outdoors_told,
    parts_line,
    places_told,
    temperatures_told,
)
from advisor.hearing.reading_days import DayTold
from advisor.hearing.readings import Figure
from advisor.hearing.shapes import Fact, Heard
from advisor.hearing.times import times
from advisor.hearing.vessels import BROWNS, VesselNamed, vessels_named
from advisor.hearing.vocabulary import vocabulary_for
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

_ARTICLES = frozenset({"the", "my", "our", "a", "an", "his", "her", "their", "this", "that", "your"})
#: What a vessel is called by its kind, in words that deeds are heard of.
_PLAINLY = {"bay": "heap", "fermented bucket": "bucket", BROWNS: "heap"}
_LONGEST_STATE = 4  # words
#: A denial of one part of a line says nothing of the next: "no smell, bedding just right".
_DENIES = frozenset({"no", "not", "never", "without", "none", "nothing"})
_AS_IT_WAS = frozenset({"sign.progress", "sign.looks"})


@dataclass(frozen=True, slots=True)
class DiaryLine:
    """A line of a diary as it is read.

    Attributes:
        heard: its facts, amounts and the rest.
        vessels: those it names, in order.
        figures: temperatures, far-off ones as well.
        lengths: depths and heights.
        filled: how full it is said to be, from 0 to 1, with its characters.
        measures: amounts by a measure, whatever they are of: the number, "L", "kg" or a measure, and their characters.
        days: when it was, in order.
        ages: days on which a vessel was begun, by how old it is said to be.
        breaks: characters at which one part of the line ends and another begins.
        places: where in a vessel something was read: "middle", "edge", "top" or "bottom", with its characters.
        outdoors: characters of words which say that a figure beside them is of the weather: "33 degrees out".
        beds: what compost is said to go on, with its characters: "onion bed".
        as_before: characters of words which say that it is as it was when it was told of last: "no change".
    """

    heard: Heard
    vessels: tuple[VesselNamed, ...]
    figures: tuple[Figure, ...]
    lengths: tuple[LengthTold, ...]
    filled: tuple[tuple[float, int, int], ...]
    measures: tuple[tuple[float, str, int, int], ...]
    days: tuple[DayTold, ...]
    ages: tuple[date, ...]
    breaks: tuple[int, ...]
    places: tuple[tuple[str, int, int], ...]
    as_before: tuple[tuple[int, int], ...] = ()
    beds: tuple[tuple[str, int, int], ...] = ()
    outdoors: tuple[tuple[int, int], ...] = ()

    def part(self, at: int) -> int:
        """The number of the part of the line in which a character stands."""
        return sum(end <= at for end in self.breaks)


def diary_line(text: str, knowledge: Knowledge, today: date, known: Sequence[tuple[str, str]] = ()) -> DiaryLine:
    """Read a line of a diary. All places in what is returned are those of its `heard.text`.

    Names of vessels are read first, and stand in what is heard as the plain word for their kind: "covered shed bin 2"
    is heard as "covered the bin".

    Args:
        today: the day from which "yesterday" counts.
        known: names and kinds of the vessels there are.

    Raises:
        RuleBaseError: a file of rules/words/ is not in order.
    """
    words = vocabulary_for(knowledge)
    first = Finder(cut(text, words.english), words, knowledge)
    plain, vessels = _plain(first, vessels_named(first, known))
    finder = Finder(cut(plain, words.english), words, knowledge)
    line = finder.line.words
    marks = (line[at].start for at in range(len(line)) if parts_line(finder, at))
    days = tuple(days_told(finder, today))
    heard = replace(hear(_plain_days(plain, days), knowledge, today=today), text=plain)
    return DiaryLine(
        replace(heard, facts=(*heard.facts, *_states(finder, heard, vessels, knowledge, today))),
        vessels,
        tuple(temperatures_told(finder, heard, [one.end for one in vessels], days, today)),
        tuple(lengths_told(finder)),
        tuple(filled_told(finder)),
        tuple(measures_told(finder)),
        days,
        tuple(when.last for when in times(finder, today) if is_age(finder, when)),
        tuple(sorted({*marks, *(line[one.start].start for one in finder.line.clauses if 0 < one.start < len(line))})),
        tuple(places_told(finder)),
        tuple((line[at].start, line[end - 1].end) for at, end in as_before_told(finder)),
        tuple(beds_told(finder)),
        tuple(outdoors_told(finder)),
    )


def _plain_days(text: str, days: Sequence[DayTold]) -> str:
    """The text with "yesterday" for days that would be heard as more: "the day before yesterday", "on the 30th"."""
    for one in days:
        start = one.start - len("on ") if text[: one.start].casefold().endswith(" on ") else one.start
        said, length = text[one.start : one.end].casefold(), one.end - start
        if "before" in said or (any(sign.isdigit() for sign in said) and length >= len("yesterday")):
            text = f"{text[:start]}{'yesterday'.ljust(length)}{text[one.end :]}"
    return text


def _plain(finder: Finder, vessels: Sequence[VesselNamed]) -> tuple[str, tuple[VesselNamed, ...]]:
    """The text with each name of a vessel as the plain word for its kind, and the vessels with their places in it."""
    text, words = finder.line.text, finder.line.words
    parts: list[str] = []
    moved: list[VesselNamed] = []
    behind = 0
    for one in vessels:
        parts.append(text[behind : one.start])
        start = sum(map(len, parts))
        said = text[one.start : one.end]
        if one.name or one.kind == BROWNS or " " in said or said.casefold() == "bokashi":
            before = next((word.form for word in reversed(words) if word.end <= one.start), "")
            said = f"{'' if before in _ARTICLES else 'the '}{_PLAINLY.get(one.kind, one.kind)}"
        parts.append(said)
        moved.append(replace(one, start=start, end=start + len(said), said=text[one.start : one.end]))
        behind = one.end
    return "".join((*parts, text[behind:])), tuple(moved)


def _states(
    finder: Finder, heard: Heard, vessels: Sequence[VesselNamed], knowledge: Knowledge, today: date
) -> Iterator[Fact]:
    """What the parts of a line tell that say nothing as they stand: a diary has "north heap cold, bit dry"."""
    text, words = finder.line.text, finder.line.words
    as_before = [(words[at].start, words[end - 1].end) for at, end in as_before_told(finder)]
    facts = [one for one in heard.facts if not any(low < one.end and one.start < high for low, high in as_before)]
    ends = [at for at in range(len(words)) if parts_line(finder, at) or words[at].form in ("and", "but")]
    for first, last in zip((0, *(at + 1 for at in ends)), (*ends, len(words)), strict=True):
        if first >= last:
            continue
        start, end = words[first].start, words[last - 1].end
        named = next((one for one in vessels if one.start == start), None)
        start = named.end if named is not None else start
        part = text[start:end].lstrip()
        start = end - len(part)
        denies = any(words[at].form in _DENIES for at in range(first, last))
        spans = [
            *((one.start, one.end) for one in facts if denies or one.stance != "denied"),
            *((one.start, one.end) for one in heard.amounts),
        ]
        idle = not any(start <= low < end or (low < end < high) for low, high in spans)
        if not idle or not 0 < len(part.split()) <= _LONGEST_STATE or not part[0].isalpha():
            continue
        thing = next((one for one in reversed(vessels) if one.end <= start), None)
        kind = f"the {_PLAINLY.get(thing.kind, thing.kind) if thing is not None else 'heap'}"
        for fact in _state(part, kind, knowledge, today):
            if not any(
                one.name == fact.name and one.start < end and start < one.end
                for one in facts
                if denies or one.stance != "denied"
            ):
                yield replace(fact, start=min(end, start + fact.start), end=min(end, start + fact.end))


def _state(part: str, kind: str, knowledge: Knowledge, today: date) -> list[Fact]:
    """What a part of a line tells if its missing words are put in; places are those within the part.

    Args:
        part: "bit dry", "bedding dry" or "spun".
        kind: what it is told of: "the heap".
    """
    noun, _, rest = part.partition(" ")
    noun = noun.removesuffix("'s")  # "bedding's just right"
    for lead, said in ((f"{kind} is ", part), (f"the {noun} is ", rest.lstrip())):
        told = hear(f"{lead}{said}", knowledge, today=today).told if said else ()
        shift = len(part) - len(said) - len(lead)
        seen = [one for one in told if one.name.startswith("sign.") and one.end > len(lead)]
        seen = [one for one in seen if one.name not in _AS_IT_WAS]  # "still" is no standstill
        if seen:
            return [replace(one, start=max(0, one.start + shift), end=one.end + shift) for one in seen]
    done = hear(f"{part} {kind}", knowledge, today=today).told  # "tumbler spun" is what was done to it
    return [one for one in done if one.name.startswith("deed.") and one.start < len(part)]

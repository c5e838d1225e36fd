"""What people say, and what it means: rules/phrases.toml, read, checked against the rule base and made ready."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal

from pydantic import ValidationError

from advisor.errors import RuleBaseError
from advisor.household import words as amount_words
from advisor.household.names import key_words, materials_index, measures_index
from advisor.knowledge.base import Knowledge, Problem
from advisor.knowledge.conditions import Value
from advisor.knowledge.hints import hint
from advisor.places import rules_folder
from advisor.talk.intents import Door, Request
from advisor.talk.reading.patterns import Pattern, PatternError, firsts, needs, parse, places_of, words_of
from advisor.talk.reading.phrases import PLACES, AnswerText, Frame, FrameText, Group, PhraseFile, PhraseText
from advisor.talk.reading.spelling import Spelling

FILE = "phrases.toml"

#: Answers that cannot be among "all of them".
_SHORT_ANSWERS = (("yes", "yes"), ("yes", "y"), ("no", "no"), ("no", "n"), ("none", "no"), ("none", "n"))
_WORD = re.compile(r"[^\W_]+(?:'[^\W_]+)?")
_NEITHER = frozenset({"none", "unsure"})

#: Where an entry may be read: wherever it stands, where its clause says nothing else, or where its question is open.
How = Literal["say", "alone", "asked", "asked-alone"]


@dataclass(frozen=True, slots=True)
class Answers:
    """An answer to a question. With `either`, it is one of the values, and which is not clear."""

    attribute: str
    values: tuple[Value, ...]
    either: bool = False
    place: str = ""  # the place of the pattern that holds the value, or a second value for `second`
    second: str = ""  # the attribute that the place answers, if it is not the same


@dataclass(frozen=True, slots=True)
class Requests:
    """Something asked of the talk."""

    request: Request


@dataclass(frozen=True, slots=True)
class Doors:
    """What the person came for."""

    door: Door


@dataclass(frozen=True, slots=True)
class Frames:
    """A sentence with places for materials or for more sentences."""

    frame: Frame


@dataclass(frozen=True, slots=True)
class Signs:
    """Something seen, smelt or felt of a heap: an attribute of `sign` and its word, or no more than trouble."""

    attribute: str = ""
    value: str = ""


@dataclass(frozen=True, slots=True)
class Asides:
    """Words that say nothing of their own and belong to what stands beside them; some say that it is put right."""

    corrects: bool = False


Meaning = Answers | Requests | Doors | Frames | Signs | Asides


@dataclass(frozen=True, slots=True)
class Entry:
    """One pattern with its meaning and the conditions under which it is read."""

    pattern: Pattern
    meaning: Meaning
    how: How
    in_questions: bool = True
    beside: bool = False
    first: bool = False
    needs: tuple[frozenset[str], ...] = ()  # of each of these, a word must be in the sentence


@dataclass(frozen=True)
class Lexicon:
    """Everything in phrases.toml, made ready."""

    spelling: Spelling
    by_first: Mapping[str, tuple[Entry, ...]]
    by_place: tuple[Entry, ...]  # patterns that begin with a place
    small_talk: frozenset[str]
    idle: frozenset[str]  # words before a name that do not change what it is
    states: frozenset[str]  # words behind a name that belong before it: "leaves, soaking wet"
    more: frozenset[str]
    on_top: tuple[tuple[str, ...], ...]
    common: frozenset[str]
    parting: frozenset[str]
    asking: frozenset[str]
    offered: Mapping[str, Mapping[tuple[str, ...], str]]  # for each question, the answers in the words of the screen
    shy: frozenset[str]  # names that stand for a material only with an amount, or alone
    heads: frozenset[str]  # last words of names: what a thing is, and not of what kind
    groups: Mapping[tuple[str, ...], Group]
    implied: Mapping[str, str]  # the material of a measure that holds only one
    ordinals: Mapping[str, int]
    near: Mapping[str, Mapping[str, tuple[str, ...]]]  # other words for what the sheets offer, by attribute and value


def lexicon(knowledge: Knowledge) -> Lexicon:
    """The lexicon that goes with a rule base, made once.

    Raises:
        RuleBaseError: rules/phrases.toml is not in order.
    """
    return _lexicon(_Same(knowledge))


class _Same:
    """A rule base as a key of a cache, equal only to itself."""

    __slots__ = ("knowledge",)

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge

    def __hash__(self) -> int:
        return id(self.knowledge)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.knowledge is other.knowledge


@lru_cache(maxsize=4)
def _lexicon(same: _Same) -> Lexicon:
    found, problems = read_phrases(rules_folder(), same.knowledge)
    if problems:
        raise RuleBaseError(tuple(str(problem) for problem in problems))
    return found


def read_phrases(folder: Path, knowledge: Knowledge) -> tuple[Lexicon, tuple[Problem, ...]]:
    """The lexicon of a folder, and every fault in its file. What is faulty is left out."""
    maker = _Maker(knowledge)
    try:
        raw = tomllib.loads((folder / FILE).read_text(encoding="utf-8"))
        text = PhraseFile.model_validate(raw)
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        maker.fault("", f"cannot be read: {error}")
        text = PhraseFile()
    except ValidationError as error:
        for fault in error.errors():
            maker.fault(".".join(str(part) for part in fault["loc"]), fault["msg"].removeprefix("Value error, "))
        text = PhraseFile()
    return maker.made(text), tuple(maker.problems)


class _Maker:
    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge
        self.problems: list[Problem] = []
        self.spelling = Spelling({})
        self.lists: dict[str, tuple[Pattern, ...]] = {}

    def fault(self, place: str, message: str) -> None:
        self.problems.append(Problem("phrases", f"rules/{FILE}", place, message))

    # ------------------------------------------------------------ the whole

    def made(self, text: PhraseFile) -> Lexicon:
        self.spelling = Spelling(text.spelling)
        for name, said in text.lists.items():
            self.lists[name] = self.patterns(said, f"lists.{name}")
        asked = [question.attribute for question in (*self.knowledge.questions, *self.knowledge.sign_questions)]
        entries = [entry for part in self.entries(text, asked) for entry in part]
        by_first: dict[str, list[Entry]] = {}
        by_place: list[Entry] = []
        for entry in entries:
            spelled = firsts(entry.pattern)
            if any(first.startswith("<") for first in spelled):
                by_place.append(replace(entry, needs=needs(entry.pattern)))
            for first in spelled:
                if not first.startswith("<"):
                    by_first.setdefault(first, []).append(entry)
        small_talk = self.words(text.small_talk.words)
        spelled_out = {word for entry in entries for word in words_of(entry.pattern)}
        offered = {name: self.offered(name) for name in asked}
        on_screen = {word for labels in offered.values() for said in labels for word in said}
        self.learn(text, spelled_out | small_talk, on_screen)
        for measure, material in text.implied.items():
            self.known(measure, self.knowledge.measures, f"implied.{measure}")
            self.known(material, self.knowledge.materials, f"implied.{measure}")
        return Lexicon(
            spelling=self.spelling,
            by_first={first: tuple(found) for first, found in by_first.items()},
            by_place=tuple(by_place),
            small_talk=small_talk,
            idle=self.words(text.small_talk.idle),
            states=self.words(text.small_talk.states),
            more=self.words(text.small_talk.more),
            on_top=tuple(self.spelling.phrase(said) for said in (*text.small_talk.more, *text.small_talk.on_top)),
            common=self.words(text.common.words),
            parting=self.words(text.small_talk.parting),
            asking=self.words(text.small_talk.asking),
            offered=offered,
            shy=frozenset(" ".join(key_words(name)) for name in text.small_talk.shy),
            heads=frozenset(key[-1] for key in materials_index(self.knowledge).exact),
            groups=self.groups(text.group),
            implied=text.implied,
            ordinals={word: number for number, listed in enumerate(text.ordinals, 1) for word in listed},
            near=self.near(text),
        )

    def near(self, text: PhraseFile) -> Mapping[str, Mapping[str, tuple[str, ...]]]:
        """Other words for what the sheets offer, of what is declared."""
        declared = {
            f"{kind}.{name}": each for kind, of in self.knowledge.kinds.items() for name, each in of.attributes.items()
        }
        for attribute, values in text.near.items():
            self.known(attribute, declared, f"near.{attribute}")
            for value in values if attribute in declared and declared[attribute].words else ():
                self.known(value, declared[attribute].words, f"near.{attribute}.{value}")
        return text.near

    def entries(self, text: PhraseFile, asked: Sequence[str]) -> Iterator[Iterable[Entry]]:
        for number, answer in enumerate(text.answer, 1):
            yield self.answer(answer, f"answer {number} ({answer.attribute})")
        for request in text.request:
            yield self.each(request, Requests(request.request), f"request {request.request}")
        for door in text.door:
            yield self.each(door, Doors(door.door), f"door {door.door}")
        for frame in text.frame:
            yield self.frame(frame)
        for number, sign in enumerate(text.sign, 1):
            yield self.each(sign, Signs(), f"sign {number}")
        yield self.signs()
        yield self.each(PhraseText(say=text.small_talk.asides), Asides(), "small_talk.asides")
        yield self.each(PhraseText(say=text.small_talk.correcting), Asides(corrects=True), "small_talk.correcting")
        for name in asked:
            yield self.labels(name)

    def learn(self, text: PhraseFile, spelled_out: set[str], on_screen: set[str]) -> None:
        """Teach the speller every word there is."""
        ours = set(materials_index(self.knowledge).vocabulary | measures_index(self.knowledge).vocabulary)
        ours |= spelled_out
        tables: tuple[Mapping[tuple[str, ...], object], ...] = (
            amount_words.LOOSENED,
            amount_words.LOOSENED_AFTER,
            amount_words.VAGUE_COUNTS,
            amount_words.VAGUE_LITRES,
            amount_words.SIZES,
            amount_words.PACKING,
            amount_words.EXACT,
            amount_words.OTHER_UNITS,
            amount_words.NOTHING,
        )
        ours |= {word for table in tables for phrase in table for word in phrase}
        ours |= {*amount_words.ONES, *amount_words.TENS, *amount_words.MULTIPLES, *amount_words.PARTS}
        ours |= {*amount_words.PERIODS, *amount_words.ADVERBS, *amount_words.CONTAINERS, *amount_words.OPENING}
        ours = {form for word in ours for form in (word, *self.spelling.normal(word))}
        others = {form for word in text.common.words for form in self.spelling.normal(word)}
        self.spelling.learn(ours, others | on_screen)

    # ------------------------------------------------------------ patterns

    def patterns(self, said: Sequence[str], place: str) -> tuple[Pattern, ...]:
        return tuple(pattern for text in said if (pattern := self.pattern(text, place)) is not None)

    def pattern(self, text: str, place: str) -> Pattern | None:
        try:
            found = parse(text, self.lists, self.spelling.normal)
        except PatternError as error:
            self.fault(f'{place}, column {error.column} of "{text}"', str(error))
            return None
        for name in places_of(found):
            if name.split()[0] not in PLACES:
                self.fault(f'{place}: "{text}"', f"no place <{name}>; {hint(name, PLACES)}")
                return None
        return found

    def words(self, listed: Iterable[str]) -> frozenset[str]:
        return frozenset(form for word in listed for form in self.spelling.normal(word))

    def each(self, text: PhraseText, meaning: Meaning, place: str, in_questions: bool = True) -> Iterator[Entry]:
        listed: tuple[tuple[How, tuple[str, ...]], ...] = (
            ("say", text.say),
            ("alone", text.alone),
            ("asked", text.asked),
            ("asked-alone", text.asked_alone),
        )
        for how, said in listed:
            for pattern in self.patterns(said, place):
                yield Entry(pattern, meaning, how, in_questions, text.beside, text.first)

    # ------------------------------------------------------------ each kind

    def answer(self, text: AnswerText, place: str) -> Iterator[Entry]:
        for name in filter(None, (text.attribute, text.second)):
            if not self.attribute_is_known(name, place):
                return
        values = text.values or text.either or ((text.value,) if text.value else ())
        allowed = self.words_of(text.attribute)
        for value in values:
            if value not in allowed:
                self.fault(place, f"is never '{value}'; {hint(str(value), allowed)}")
                return
        meaning = Answers(text.attribute, values, bool(text.either), text.place, text.second)
        yield from self.each(text, meaning, place, text.in_questions)

    def attribute_is_known(self, name: str, place: str) -> bool:
        kind, _, attribute = name.partition(".")
        known = [
            f"{kind_name}.{attribute_name}"
            for kind_name, declared in self.knowledge.kinds.items()
            for attribute_name, detail in declared.attributes.items()
            if detail.origin == "answer"
        ]
        if f"{kind}.{attribute}" in known:
            return True
        self.fault(place, f"no such answer; {hint(name, known)}")
        return False

    def words_of(self, name: str) -> Mapping[str, str]:
        kind, _, attribute = name.partition(".")
        return self.knowledge.kinds[kind].attributes[attribute].words

    def labels(self, name: str) -> Iterator[Entry]:
        """The answers offered, in their own words, and "yes" and "no" where they are answers."""
        for value, label in self.words_of(name).items():
            meaning = Answers(name, (value,))
            for said in {label.partition("(")[0].partition(":")[0], value.replace("-", " ")}:
                parts = tuple(part.strip(",;.") for part in said.split())
                pattern = self.pattern(" ".join(part for part in parts if part not in ("a", "an", "the")), name)
                if pattern is not None:
                    yield Entry(pattern, meaning, "asked")
        allowed = self.words_of(name)
        for word, listed in _SHORT_ANSWERS:
            if word in allowed:
                for pattern in self.lists.get(listed, ()):
                    yield Entry(pattern, Answers(name, (word,)), "asked-alone")
        every = tuple(word for word in allowed if word not in _NEITHER)
        if self.holds_many(name):
            for pattern in self.lists.get("all", ()):
                yield Entry(pattern, Answers(name, every), "asked-alone")

    def offered(self, name: str) -> Mapping[tuple[str, ...], str]:
        """The answers offered, each as the words of its label without marks."""
        found = {}
        for value, label in self.words_of(name).items():
            found[tuple(form for word in _WORD.findall(label) for form in self.spelling.normal(word))] = value
        return found

    def holds_many(self, name: str) -> bool:
        kind, _, attribute = name.partition(".")
        return self.knowledge.kinds[kind].attributes[attribute].many

    def signs(self) -> Iterator[Entry]:
        """What people call each sign, from rules/sign-words.toml."""
        for attribute, table in self.knowledge.sign_words.items():
            for value, phrases in table.items():
                for pattern in self.patterns(phrases, f"sign.{attribute}"):
                    yield Entry(pattern, Signs(f"sign.{attribute}", value), "asked")

    def frame(self, text: FrameText) -> Iterator[Entry]:
        yield from self.each(text, Frames(text.frame), f"frame {text.frame}")

    def groups(self, listed: Sequence[Group]) -> Mapping[tuple[str, ...], Group]:
        found = {}
        for group in listed:
            for id_ in group.readings:
                self.known(id_, self.knowledge.materials, f"group {group.say[0]}")
            for name in group.say:
                found[key_words(name)] = group
        return found

    def known(self, name: str, table: Mapping[str, Any], place: str) -> None:
        if name not in table:
            self.fault(place, f"no '{name}'; {hint(name, table)}")

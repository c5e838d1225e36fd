"""What a way of saying of rules/words/ can mean, and the whole vocabulary of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from functools import cached_property
from typing import NamedTuple

from advisor.hearing.english import English
from advisor.hearing.patterns import Starts, Way, first_words
from advisor.records import dataclass


@dataclass(frozen=True, slots=True)
class Concept:
    """A fact that a line may state.

    Attributes:
        name: of the table.
        facts: what it states, as ("sign.smell", "ammonia").
        denied: what its denial states ("not warm" is cold); nothing for most.
        lacking: what "not ... enough" states ("not wet enough" is dry).
        of: the things of which it can be said; anything that is no other thing if empty.
        never_of: things of which it is not this fact.
        bad: whether it tells of a trouble; otherwise it is an observation.
        deed: whether it is something done.
        general: whether it says nothing more once another value of its fact is told: "it stinks of ammonia".
    """

    name: str
    facts: tuple[tuple[str, str], ...]
    denied: tuple[tuple[str, str], ...] = ()
    lacking: tuple[tuple[str, str], ...] = ()
    of: frozenset[str] = frozenset()
    never_of: frozenset[str] = frozenset()
    bad: bool = True
    deed: bool = False
    general: bool = False


@dataclass(frozen=True, slots=True)
class Danger:
    """Something that can hurt somebody.

    Attributes:
        kind: what it is a case of: fire, smoke, gas, spores, poison ...
        groups: how many sets of ways there are, one of each of which must be said in the line.
        unless: ways that make it none.
        anyhow: the numbers of the sets that count past, supposed or asked after too: what made somebody ill is past.
    """

    name: str
    kind: str
    groups: int = 0
    unless: tuple[Way, ...] = ()
    anyhow: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Part:
    """One of the sets of ways of a danger that is told by several: its number, from 0."""

    danger: Danger
    number: int

    @property
    def whole(self) -> Danger:
        """What all the sets tell together."""
        return self.danger


@dataclass(frozen=True, slots=True)
class Mention:
    """A danger by its name, as it is asked after or feared; to name it does not tell that it is there."""

    danger: Danger


@dataclass(frozen=True, slots=True)
class Trigger:
    """Words that change the stance of what stands before or behind them in their clause, or of the whole sentence.

    Attributes:
        stance: what it makes of a fact.
        scope: "behind" or "before" it in its clause, the whole "clause", "back" to where its sentence begins, what
            begins before it ends in its "sentence", or the whole "line".
    """

    stance: str
    scope: str


@dataclass(frozen=True, slots=True)
class Frame:
    """The form of an act.

    Attributes:
        act: what kind of thing a line of this form is.
        rank: forms with a lower rank go before others.
        where: "anywhere" in a clause, at its "start", the "whole" of it (but for politeness), or in the "sentence".
        asks: whether it counts only in a question.
        needs: a class or thing that must be named in the clause; empty if none.
        unless: ways that make it none if they stand in the clause.
        topic: what is asked for; empty if it is no question of one thing.
        groups: how many sets of ways there are, one of each of which must stand somewhere in the line; what it needs
            and what makes it none may stand anywhere in the line too. 0 for a form that one way says.
    """

    act: str
    rank: int
    where: str = "anywhere"
    asks: bool = False
    needs: str = ""
    unless: tuple[Way, ...] = ()
    topic: str = ""
    groups: int = 0


@dataclass(frozen=True, slots=True)
class FramePart:
    """One of the sets of ways of a form that is drawn from the whole line: its number, from 0."""

    frame: Frame
    number: int

    @property
    def whole(self) -> Frame:
        """What all the sets ask together."""
        return self.frame


@dataclass(frozen=True, slots=True)
class Decision:
    """A row of the table that decides what a question asks, by its form and by what the line names.

    A feature is a form of question ("whether", "either", "fragment"), "stuff" (that may go into a heap), "waste" (stuff
    that is not called by the name of a crop alone), "number", or a class or thing that is named; "a|b" is either.

    Attributes:
        act: what kind of thing the line is.
        rank: as that of a frame.
        asks: features that the asking clause must all have.
        names: features that the line must all have, but for its other questions.
        never: features of which the line must have none.
        stated: whether the row counts for a line that asks nothing by its form.
    """

    act: str
    rank: int
    asks: tuple[str, ...] = ()
    names: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    stated: bool = False


@dataclass(frozen=True, slots=True)
class Names:
    """What a name of rules/words/names.toml stands for: ids of materials, those first that are offered as readings.

    Attributes:
        trait, role: of all other materials that the word may mean; empty if it means no others.
    """

    ids: tuple[str, ...]
    trait: str = ""
    role: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """A circumstance in the words of an answer, and where its ways count.

    Attributes:
        concept: what it states; several values of a fact that can have one are either of them, and a value such as
            "<litres>" is the figure found there.
        whole: where they are all that a clause says, but for small words.
        asked: while the question they answer is open.
    """

    concept: Concept
    whole: bool = False
    asked: bool = False


@dataclass(frozen=True, slots=True)
class Door:
    """What a person comes for, or asks of the talk itself.

    Attributes:
        name: of the door or the request.
        request: whether it is a request.
        whole: whether its ways count only where they are all that a clause says, but for small words.
        first: whether they count only at the start of the talk, with nothing told and no question open.
    """

    name: str
    request: bool = False
    whole: bool = False
    first: bool = False


Meaning = Names | Told | Door | Concept | Danger | Part | Mention | Trigger | Frame | FramePart | str


class Said(NamedTuple):
    """A way of saying with what it belongs to."""

    way: Way
    of: Meaning


@dataclass(frozen=True)
class Index:
    """Ways of saying by the word, or the thing found, with which they can begin.

    Attributes:
        in_sets: whether some of them tell something only with ways of other sets (Part, FramePart).
    """

    by_word: Mapping[str, tuple[Said, ...]]
    by_thing: Mapping[str, tuple[Said, ...]]
    in_sets: bool = False
    _rarest: dict[str, tuple[tuple[frozenset[str], Said], ...]] = field(default_factory=dict, compare=False)

    def rarest(self, word: str) -> tuple[tuple[frozenset[str], Said], ...]:
        """The ways that can begin with a word, each with the smallest set of other words that it needs."""
        known = self._rarest.get(word)
        if known is None:
            known = self._rarest[word] = tuple(
                (next((need for need in said.way.needs if word not in need), frozenset([word])), said)
                for said in self.by_word.get(word, ())
            )
        return known


@dataclass(frozen=True)
class Vocabulary:
    """Everything in rules/words/, made ready."""

    english: English
    classes: Mapping[str, tuple[Way, ...]]
    class_starts: dict[str, Starts]
    concepts: Mapping[str, Concept]
    dangers: Mapping[str, Danger]
    things: Mapping[str, tuple[Way, ...]]
    concept_index: Index
    likeness_index: Index  # Concept, by the things that it is like
    danger_index: Index  # Danger, Part and Mention
    trigger_index: Index
    frame_index: Index
    sentence_index: Index
    drawn_index: Index  # FramePart
    thing_index: Index
    name_index: Index
    bare: Mapping[str, Concept]  # by the word that states it standing alone
    told_index: Index
    door_index: Index
    near: Mapping[str, Mapping[str, tuple[str, ...]]]
    implied: Mapping[str, str]
    examples: tuple[tuple[str, str, bool], ...] = ()  # (name of the concept or danger, line, whether it says it)
    topics: tuple[tuple[str, str, bool], ...] = ()  # (name of the topic, line, whether it asks for it)
    decisions: tuple[Decision, ...] = ()  # in the order in which they are tried

    @cached_property
    def _class_indexes(self) -> dict[str, Mapping[str, tuple[Way, ...]]]:
        return {}

    def class_index(self, name: str) -> Mapping[str, tuple[Way, ...]]:
        """The ways of a class by the words with which they can begin; those that a thing found can begin by ""."""
        known = self._class_indexes.get(name)
        if known is None:
            begun: dict[str, list[Way]] = {}
            for way in self.classes[name]:
                words, names = first_words(way, self.classes, self.class_starts)
                for word in (*words, *([""] if names else [])):
                    begun.setdefault(word, []).append(way)
            known = self._class_indexes[name] = {word: tuple(ways) for word, ways in begun.items()}
        return known

    @cached_property
    def general(self) -> frozenset[str]:
        """Concepts that say nothing more once another value of their fact is told."""
        return frozenset(name for name, one in self.concepts.items() if one.general)

    @cached_property
    def either(self) -> frozenset[str]:
        """Concepts that tell one of several values of a fact."""
        return frozenset(
            name for name, one in self.concepts.items() if len({fact for fact, _ in one.facts}) < len(one.facts)
        )

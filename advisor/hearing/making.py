"""The tables of rules/words/ made into the vocabulary, and every fault of form in them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from advisor.hearing.english import English, listed
from advisor.hearing.kept_lemmas import with_forms
from advisor.hearing.meanings import (
    Concept,
    Danger,
    Decision,
    Door,
    Frame,
    FramePart,
    Index,
    Mention,
    Names,
    Part,
    Said,
    Told,
    Trigger,
    Vocabulary,
)
from advisor.hearing.patterns import Grammar, PatternError, Starts, Way, class_starts, first_words

#: The folder of words among the rules.
FOLDER = "words"

#: Things that are found by their form and not by a list of words.
FOUND = ("number", "temp", "material", "measure", "time", "count", "litres", "length")

#: Where the form of an act may stand.
WHERE = ("anywhere", "start", "whole", "sentence")

#: What kinds of thing a form or a row of the table can make a line.
ACTS = listed(
    "circumstance trouble deed ask_material ask_fact ask_how ask_why ask_ready ask_soil ask_use ask_plan ask_year "
    "ask_what_now what_if swap correct undo redo save paper calendar load units help more start_over leave off"
)

_CONCEPT_KEYS = listed("fact denied lacking of never_of bad deed general says like bare examples counters")
_DANGER_KEYS = listed("kind says together mentions unless anyhow examples counters")
_FRAME_KEYS = listed("act rank where asks needs says together unless topic")
_DECISION_KEYS = listed("act rank asks names never stated")
#: Features of a line that are no class of words.
FEATURES = listed("whether either fragment stuff waste number sign place several")
_TOPIC_KEYS = frozenset({*_FRAME_KEYS, "examples", "counters"})
#: A question for one fact goes before what is told in passing, and behind questions whose form says more.
TOPIC_RANK = 56
_TRIGGER_KEYS = frozenset(["stance", "scope", "says"])
_TABLES = frozenset(
    [
        *("full", "lemmas", "class", "concept", "danger", "trigger", "frame", "topic", "thing", "name", "group"),
        *("told", "door", "request", "near", "implied", "decide"),
    ]
)
_TOLD_KEYS = listed("fact never_of says whole asked asked_whole")
#: The ways of a told circumstance: whether they must be all that is said, and whether the question must be open.
_TOLD_WAYS = (("says", False, False), ("whole", True, False), ("asked", False, True), ("asked_whole", True, True))


@dataclass
class Maker:
    """The tables of all files, gathered before any way of saying is made ready, since classes may stand in any file."""

    folder: Path
    names: frozenset[str]
    strict: bool = False
    full: dict[str, tuple[str, ...]] = field(default_factory=dict)
    lemmas: dict[str, str] = field(default_factory=dict)
    class_texts: dict[str, list[str]] = field(default_factory=dict)
    concept_tables: dict[str, tuple[str, dict[str, Any]]] = field(default_factory=dict)
    danger_tables: dict[str, tuple[str, dict[str, Any]]] = field(default_factory=dict)
    trigger_tables: list[tuple[str, dict[str, Any]]] = field(default_factory=list)
    frame_tables: list[tuple[str, dict[str, Any]]] = field(default_factory=list)
    topics: list[tuple[str, str, bool]] = field(default_factory=list)
    decision_tables: list[tuple[str, dict[str, Any]]] = field(default_factory=list)
    thing_texts: dict[str, list[str]] = field(default_factory=dict)
    name_tables: list[tuple[str, Names, list[str]]] = field(default_factory=list)
    told_tables: dict[str, tuple[str, dict[str, Any]]] = field(default_factory=dict)
    door_tables: list[tuple[str, Door, dict[str, Any]]] = field(default_factory=list)
    near: dict[str, dict[str, tuple[str, ...]]] = field(default_factory=dict)
    implied: dict[str, str] = field(default_factory=dict)
    problems: list[str] = field(default_factory=list)

    def take(self, file: str, raw: dict[str, Any]) -> None:
        for name in raw.keys() - _TABLES:
            self.fault(file, name, "no such table")
        self.full.update({word: tuple(said.split()) for word, said in raw.get("full", {}).items()})
        self.lemmas.update(raw.get("lemmas", {}))
        for name, ways in raw.get("class", {}).items():
            self.class_texts.setdefault(name, []).extend(ways)
        for name, table in raw.get("name", {}).items():
            self.keys(file, f"name.{name}", table, frozenset({"says"}))
            self.name_tables.append((file, Names((name,)), table["says"]))
        for name, table in raw.get("group", {}).items():
            self.keys(file, f"group.{name}", table, frozenset({"says", "ids", "trait", "role"}))
            group = Names(tuple(table["ids"]), table.get("trait", ""), table.get("role", ""))
            self.name_tables.append((file, group, table["says"]))
        for name, ways in raw.get("thing", {}).items():
            self.thing_texts.setdefault(name, []).extend(ways)
        for name, table in raw.get("told", {}).items():
            self.keys(file, f"told.{name}", table, _TOLD_KEYS)
            self.told_tables[f"told-{name}"] = (file, table)
        for kind in ("door", "request"):
            for table in raw.get(kind, []):
                self.keys(file, f"{kind} {table.get(kind)}", table, frozenset([kind, "says", "whole", "first"]))
                door = Door(table[kind], kind == "request", False, table.get("first", False))
                self.door_tables.append((file, door, table))
        for attribute, values in raw.get("near", {}).items():
            self.near[attribute] = {value: tuple(words) for value, words in values.items()}
        self.implied.update(raw.get("implied", {}))
        for kind, tables, allowed in (
            ("concept", self.concept_tables, _CONCEPT_KEYS),
            ("danger", self.danger_tables, _DANGER_KEYS),
        ):
            for name, table in raw.get(kind, {}).items():
                self.keys(file, f"{kind}.{name}", table, allowed)
                if name in tables:
                    self.fault(file, f"{kind}.{name}", f"stands in {tables[name][0]} already")
                tables[name] = (file, table)
        for table in raw.get("trigger", []):
            self.keys(file, "trigger", table, _TRIGGER_KEYS)
            self.trigger_tables.append((file, table))
        for table in raw.get("frame", []):
            self.keys(file, f"frame {table.get('act')}", table, _FRAME_KEYS)
            self.frame_tables.append((file, table))
        for table in raw.get("decide", []):
            self.keys(file, f"decide {table.get('act')}", table, _DECISION_KEYS)
            self.decision_tables.append((file, table))
        for name, table in raw.get("topic", {}).items():
            self.keys(file, f"topic.{name}", table, _TOPIC_KEYS)
            plain = {key: value for key, value in table.items() if key in _FRAME_KEYS}
            self.frame_tables.append((file, {"act": "ask_fact", "rank": TOPIC_RANK, **plain, "topic": name}))
            self.topics += _examples(name, table)

    def fault(self, file: str, place: str, message: str) -> None:
        self.problems.append(f"rules/{FOLDER}/{file}: {place}: {message}")

    def keys(self, file: str, place: str, table: Mapping[str, Any], allowed: frozenset[str]) -> None:
        for key in table.keys() - allowed:
            self.fault(file, place, f"no such field as {key!r}")

    # ------------------------------------------------------------ made ready

    def made(self) -> Vocabulary:
        ours = frozenset(word for word in self.literals() if word) | self.names
        self.english = with_forms(English(self.full, self.lemmas, ours), self.folder)
        self.begun: dict[str, Starts] = {}
        self.grammar = Grammar(self.english, frozenset({*self.class_texts, *self.thing_texts, *FOUND}), self.begun)
        self.classes = {name: self.ways("", f"class.{name}", texts) for name, texts in self.class_texts.items()}
        things = {name: self.ways("", f"thing.{name}", texts) for name, texts in self.thing_texts.items()}
        self.classes |= things
        concepts: dict[str, Concept] = {}
        concept_said: list[Said] = []
        likeness_said: list[Said] = []
        bare: dict[str, Concept] = {}
        dangers: dict[str, Danger] = {}
        danger_said: list[Said] = []
        examples: list[tuple[str, str, bool]] = []
        for name, (file, table) in self.concept_tables.items():
            concept = Concept(
                name,
                _facts(table.get("fact", f"told.{name}=yes")),
                _facts(table.get("denied", "")),
                _facts(table.get("lacking", "")),
                frozenset(table.get("of", ())),
                frozenset(table.get("never_of", ())),
                table.get("bad", True),
                table.get("deed", False),
                table.get("general", False),
            )
            concepts[name] = concept
            bare |= dict.fromkeys(table.get("bare", ()), concept)
            texts = [*table.get("says", ()), *_likened(table.get("like", ()))]
            concept_said += [Said(way, concept) for way in self.ways(file, name, texts)]
            likeness_said += [Said(way, concept) for way in self.ways(file, name, table.get("like", ()))]
            examples += _examples(name, table)
        for name, (file, table) in self.danger_tables.items():
            groups = table.get("together", ())
            unless = self.ways(file, name, table.get("unless", ()))
            anyhow = frozenset(table.get("anyhow", ()))
            danger = Danger(name, table.get("kind", name), len(groups), unless, anyhow)
            dangers[name] = danger
            danger_said += [Said(way, danger) for way in self.ways(file, name, table.get("says", ()))]
            danger_said += [
                Said(way, part)
                for part in (Part(danger, number) for number in range(len(groups)))
                for way in self.ways(file, name, groups[part.number])
            ]
            named = Mention(danger)
            danger_said += [Said(way, named) for way in self.ways(file, name, table.get("mentions", ()))]
            examples += _examples(name, table)
        trigger_said = [
            Said(way, Trigger(table["stance"], table.get("scope", "behind")))
            for file, table in self.trigger_tables
            for way in self.ways(file, "trigger", table["says"])
        ]
        frames = [(self.frame(file, table), file, table) for file, table in self.frame_tables]
        frame_said, sentence_said = (
            [
                Said(way, frame)
                for frame, file, table in frames
                if (frame.where == "sentence") is wide
                for way in self.ways(file, f"frame {table['act']}", table.get("says", ()))
            ]
            for wide in (False, True)
        )
        drawn_said = [
            Said(way, part)
            for frame, file, table in frames
            for part in (FramePart(frame, number) for number in range(frame.groups))
            for way in self.ways(file, f"frame {table['act']}", table["together"][part.number])
        ]
        thing_said = [Said(way, name) for name, ways in things.items() for way in ways]
        name_said = [
            Said(way, names)
            for file, names, texts in self.name_tables
            for way in self.ways(file, f"name {names.ids[0]}", texts)
        ]
        told_said: list[Said] = []
        for name, (file, table) in self.told_tables.items():
            never_of = frozenset(table.get("never_of", ()))
            concept = Concept(name, _facts(table["fact"]), never_of=never_of, bad=False)
            concepts[name] = concept
            for key, whole, asked in _TOLD_WAYS:
                told = Told(concept, whole, asked)
                told_said += [Said(way, told) for way in self.ways(file, f"told.{name}", table.get(key, ()))]
        door_said = [
            Said(way, meant)
            for file, door, table in self.door_tables
            for key, meant in (("says", door), ("whole", replace(door, whole=True)))
            for way in self.ways(file, f"door {door.name}", table.get(key, ()))
        ]
        return Vocabulary(
            self.english,
            self.classes,
            {name: class_starts(name, self.classes, self.begun) for name in self.classes},
            concepts,
            dangers,
            things,
            self.index(concept_said),
            self.index(likeness_said),
            self.index(danger_said),
            self.index(trigger_said),
            self.index(frame_said),
            self.index(sentence_said),
            self.index(drawn_said),
            self.index(thing_said),
            self.index(name_said),
            bare,
            self.index(told_said),
            self.index(door_said),
            self.near,
            self.implied,
            tuple(examples),
            tuple(self.topics),
            tuple(self.decision(file, table) for file, table in self.decision_tables),
        )

    def decision(self, file: str, table: Mapping[str, Any]) -> Decision:
        place = f"decide {table['act']}"
        if table["act"] not in ACTS:
            self.fault(file, place, "no such act")
        features = {key: tuple(table.get(key, ())) for key in ("asks", "names", "never")}
        for feature in {one for said in features.values() for text in said for one in text.split("|")}:
            if feature not in FEATURES and feature not in self.classes:
                self.fault(file, place, f"no such feature as {feature!r}")
        return Decision(table["act"], table["rank"], **features, stated=table.get("stated", False))

    def frame(self, file: str, table: Mapping[str, Any]) -> Frame:
        if table["act"] not in ACTS:
            self.fault(file, f"frame {table['act']}", "no such act")
        if table.get("where", "anywhere") not in WHERE:
            self.fault(file, f"frame {table['act']}", f"no such place as {table['where']!r}")
        return Frame(
            table["act"],
            table["rank"],
            table.get("where", "anywhere"),
            table.get("asks", table["act"].startswith("ask_")),
            table.get("needs", ""),
            self.ways(file, f"frame {table['act']}", table.get("unless", ())),
            table.get("topic", ""),
            len(table.get("together", ())),
        )

    def ways(self, file: str, place: str, texts: Iterable[str]) -> tuple[Way, ...]:
        found = []
        for text in texts:
            way = Way(text, self.grammar)
            if self.strict and (fault := _fault(way)):
                self.fault(file, place, fault)
            else:
                found.append(way)
        return tuple(found)

    def index(self, said: Sequence[Said]) -> Index:
        by_word: dict[str, list[Said]] = {}
        by_thing: dict[str, list[Said]] = {}
        for one in said:
            words, names = first_words(one.way, self.classes, self.begun)
            for word in words:
                by_word.setdefault(word, []).append(one)
            for name in names:
                by_thing.setdefault(name, []).append(one)
        return Index(
            {word: tuple(found) for word, found in by_word.items()},
            {name: tuple(found) for name, found in by_thing.items()},
            any(isinstance(one.of, Part | FramePart) for one in said),
        )

    def literals(self) -> Iterator[str]:
        """Every word that the vocabulary uses."""
        texts: list[str] = [
            text for texts in (*self.class_texts.values(), *self.thing_texts.values()) for text in texts
        ]
        texts += [text for _, _, said in self.name_tables for text in said]
        for _, table in (*self.concept_tables.values(), *self.danger_tables.values()):
            texts += [*table.get("says", ()), *table.get("like", ()), *table.get("bare", ()), *table.get("unless", ())]
            texts += table.get("mentions", ())
            texts += [text for group in table.get("together", ()) for text in group]
        for _, table in (*self.trigger_tables, *self.frame_tables):
            texts += table.get("says", ())
            texts += [text for group in table.get("together", ()) for text in group]
        for _, table in self.told_tables.values():
            texts += [text for key, _, _ in _TOLD_WAYS for text in table.get(key, ())]
        for _, _, table in self.door_tables:
            texts += [*table.get("says", ()), *table.get("whole", ())]
        whole = " ".join(texts).lower()
        for bracket in "()[]":
            whole = whole.replace(bracket, " ")
        places = set(whole.split())
        said = " ".join(place for place in places if place != "..." and not place.startswith("<"))
        yield from (word.removeprefix("=") for word in set(said.replace("|", " ").split()))


def _fault(way: Way) -> str:
    """What is wrong with a way of saying; empty if nothing is."""
    try:
        return "" if way.elements else "holds nothing"
    except PatternError as error:
        return str(error)


def _facts(text: str) -> tuple[tuple[str, str], ...]:
    found = []
    for one in filter(None, (part.strip() for part in text.split(","))):
        fact, _, value = one.partition("=")
        found.append((fact, value or "yes"))
    return tuple(found)


def _likened(names: Iterable[str]) -> Iterator[str]:
    """Ways of saying that name a smell by a thing before it: "a bad meat breath". See `likenesses` for the others."""
    for name in names:
        yield f"{name} (-) (y|ish|like|type|kind|tinged|scented) (of) [<smell>|breath|sniff]"


def _examples(name: str, table: Mapping[str, Any]) -> Iterator[tuple[str, str, bool]]:
    for key, says in (("examples", True), ("counters", False)):
        for line in table.get(key, ()):
            yield name, line, says

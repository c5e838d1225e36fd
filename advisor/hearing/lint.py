"""Faults and remarks of rules/words/ that reading it does not refuse: for `heapwright check`.

unread-words       a file or a way of saying cannot be read
same-words         two concepts claim the same words
never-wins         a way of saying stands twice in one concept
no-such-sign       a fact names a sign, an answer or a word that rules/facts.toml does not declare
not-declared       an answer's words, a word near an option or a measure names what the rule base does not have
common-word        a danger that one common word would tell or rule out, since the rest of its way may be left out
without-examples   a concept or danger without two examples and one line that must not be taken for it
without-source     an answer, a thing seen or a condition of a material that cites no source, or one that is not there
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path

from advisor.hearing.making import FOLDER
from advisor.hearing.meanings import Concept, Danger, Vocabulary
from advisor.hearing.patterns import Way
from advisor.hearing.vocabulary import read_words
from advisor.household.names import materials_index, measures_index
from advisor.knowledge.answers import cited_by_answers
from advisor.knowledge.base import Knowledge, Problem
from advisor.knowledge.hints import hint

#: The names of concepts that stand in tables of answers begin with this.
_ANSWERS = "told-"
#: The class of words that are too common to tell a danger alone.
_EVERYDAY = "danger-everyday"
#: Facts that nobody is asked for and no rule reads yet: they are said back, and kept.
_TOLD_ONLY = ("deed.", "material.", "limit.", "dislike.", "told.", "sign.vessel", "sign.neighbours", "place.sun")


def words_lint(knowledge: Knowledge, folder: Path) -> tuple[list[Problem], list[Problem]]:
    """Faults and remarks of the vocabulary and the answers of a rule base."""
    names = materials_index(knowledge).vocabulary | measures_index(knowledge).vocabulary
    vocabulary, unread = read_words(folder / FOLDER, names, strict=True)
    faults = [Problem("unread-words", FOLDER, "", text) for text in unread]
    faults += [*_same_words(vocabulary), *_not_declared(vocabulary, knowledge), *_sources(knowledge, folder)]
    remarks = [
        *_never_wins(vocabulary),
        *_common_word(vocabulary),
        *_without_examples(vocabulary),
        *_no_such_sign(vocabulary, knowledge),
    ]
    return faults, remarks


def _ways(vocabulary: Vocabulary) -> Mapping[str, list[Concept]]:
    """The concepts that claim each way of saying, by its text."""
    found: dict[str, list[Concept]] = defaultdict(list)
    seen: set[tuple[int, str]] = set()
    for index in (vocabulary.concept_index.by_word, vocabulary.concept_index.by_thing):
        for said in (one for ways in index.values() for one in ways):
            key = (id(said), said.way.text)
            if isinstance(said.of, Concept) and key not in seen:
                seen.add(key)
                found[said.way.text].append(said.of)
    return found


def _same_words(vocabulary: Vocabulary) -> Iterator[Problem]:
    for text, concepts in _ways(vocabulary).items():
        named = {concept.name: concept for concept in concepts}
        facts = {name.partition(".")[0] for concept in named.values() for name, _ in concept.facts}
        if len(named) > 1 and len(facts) == 1 and len({concept.facts for concept in named.values()}) > 1:
            of = [concept.of for concept in named.values()]
            if not of[0] or not of[1] or of[0] & of[1]:
                yield Problem("same-words", FOLDER, " and ".join(sorted(named)), f'both claim "{text}"')


def _never_wins(vocabulary: Vocabulary) -> Iterator[Problem]:
    for text, concepts in _ways(vocabulary).items():
        for concept in concepts:
            if concepts.count(concept) > 1:
                yield Problem("never-wins", FOLDER, concept.name, f'says "{text}" twice')
                break


def _common_word(vocabulary: Vocabulary) -> Iterator[Problem]:
    """Ways of a danger, or of what makes it none, that need one word only, where it is one of every day's."""
    everyday = frozenset(
        word for way in vocabulary.classes.get(_EVERYDAY, ()) for element in way.elements for word in element.lemmas
    )
    every = (one for ways in vocabulary.danger_index.by_word.values() for one in ways)
    told = {id(one): (one.of, one.way) for one in every if isinstance(one.of, Danger)}
    ruled_out = [(danger, way) for danger in vocabulary.dangers.values() for way in danger.unless]
    for danger, way in (*told.values(), *ruled_out):
        common = _only_words(way) & everyday
        if common:
            text = f'"{way.text}" needs no other word than "{min(common)}"'
            yield Problem("common-word", FOLDER, danger.name, text)


def _only_words(way: Way) -> frozenset[str]:
    """The words any of which is enough for a way of saying; none if it needs two words or more, or a class."""
    needed = [element for element in way.elements if not element.gap and not element.optional]
    return needed[0].lemmas if len(needed) == 1 else frozenset()


def _without_examples(vocabulary: Vocabulary) -> Iterator[Problem]:
    says: dict[str, int] = defaultdict(int)
    counters: dict[str, int] = defaultdict(int)
    for name, _, is_said in vocabulary.examples:
        (says if is_said else counters)[name] += 1
    for name, thing in (*vocabulary.concepts.items(), *vocabulary.dangers.items()):
        if isinstance(thing, Concept) and (not thing.facts or name.startswith(_ANSWERS)):
            continue
        if says[name] < 2 or not counters[name]:
            yield Problem("without-examples", FOLDER, name, f"{says[name]} examples, {counters[name]} counters")


def _no_such_sign(vocabulary: Vocabulary, knowledge: Knowledge) -> Iterator[Problem]:
    for concept in vocabulary.concepts.values():
        if concept.name.startswith(_ANSWERS):
            continue  # a fault, and no remark
        for name, value in (*concept.facts, *concept.denied, *concept.lacking):
            if name.startswith(_TOLD_ONLY):
                continue
            kind, _, attribute = name.partition(".")
            declared = knowledge.kinds[kind].attributes.get(attribute) if kind in knowledge.kinds else None
            if declared is None or (declared.words and value not in declared.words):
                yield Problem("no-such-sign", FOLDER, concept.name, f"{name} = {value} is not declared in facts.toml")


def _not_declared(vocabulary: Vocabulary, knowledge: Knowledge) -> Iterator[Problem]:
    for name, concept in vocabulary.concepts.items():
        if name.startswith(_ANSWERS):
            for fact, value in concept.facts:
                yield from _fact(name, fact, value, knowledge)
    for attribute, values in vocabulary.near.items():
        for value in values:
            yield from _fact("near", attribute, value, knowledge)
    for measure, material in vocabulary.implied.items():
        yield from _known("implied", measure, knowledge.measures)
        yield from _known(f"implied.{measure}", material, knowledge.materials)


def _fact(place: str, fact: str, value: str, knowledge: Knowledge) -> Iterator[Problem]:
    kind, _, attribute = fact.partition(".")
    known = knowledge.kinds[kind].attributes if kind in knowledge.kinds else {}
    if attribute not in known:
        yield Problem("not-declared", FOLDER, place, f"no such fact as {fact!r}; {hint(attribute, known)}")
    elif known[attribute].words and not value.startswith("<"):
        yield from _known(f"{place}.{fact}", value, known[attribute].words)


def _known(place: str, name: str, table: Mapping[str, object]) -> Iterator[Problem]:
    if name not in table:
        yield Problem("not-declared", FOLDER, place, f"no {name!r}; {hint(name, table)}")


def _sources(knowledge: Knowledge, folder: Path) -> Iterator[Problem]:
    cited, amiss = cited_by_answers(folder)
    for text in amiss:
        yield Problem("without-source", "rules", "", text)
    for name, sources in cited:
        for source in sources:
            if source not in knowledge.sources:
                yield Problem("without-source", "rules", name, f"cites '{source}', which is no source")

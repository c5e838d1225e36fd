"""Facts of a line: each way of saying with what it is said of and its stance."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.shapes import Fact
from advisor.hearing.stance import Stance, Taken, is_hit_in, stance
from advisor.hearing.vocabulary import Concept

#: Of these a sign of a heap is not said, unless its concept names them.
OTHERS = frozenset({"weather", "household", "neighbour", "plants", "soil", "animals", "tool"})
#: What may be meant where nothing is named.
_UNNAMED = frozenset(
    {"heap", "bin", "compost", "worm bin", "fermented bucket", "tumbler", "leaf heap", "trench", "stuff"}
)


def facts(finder: Finder, taken: Sequence[Taken]) -> list[Fact]:
    """Everything a line states or mentions, in order."""
    found: list[Fact] = []
    spoken_of = ""
    for clause in finder.line.clauses:
        things = things_in(finder, clause)
        hits = [hit for hit in finder.hits(finder.vocabulary.concept_index, clause.start, clause.end)]
        longest = [hit for hit in hits if not any(_swallows(other, hit) for other in hits)]
        for hit in longest:
            found += _facts(finder, hit, clause, things, spoken_of, taken)
        if things:
            spoken_of = str(things[0].of)
    return found


def things_in(finder: Finder, clause: Clause) -> list[Hit]:
    """What a clause names, in order; a name inside a longer one is none."""
    hits = list(finder.hits(finder.vocabulary.thing_index, clause.start, clause.end))
    return [hit for hit in hits if not any(is_hit_in(hit, other) for other in hits)]


def _swallows(other: Hit, hit: Hit) -> bool:
    """Whether a longer way of saying takes the place of one inside it; what a material is goes beside any sign."""
    return is_hit_in(hit, other) and _of_a_material(hit) == _of_a_material(other)


def _of_a_material(hit: Hit) -> bool:
    return isinstance(hit.of, Concept) and any(name.startswith("material.") for name, _ in hit.of.facts)


def _facts(
    finder: Finder, hit: Hit, clause: Clause, things: Sequence[Hit], spoken_of: str, taken: Sequence[Taken]
) -> Iterator[Fact]:
    concept = hit.of
    if not isinstance(concept, Concept):
        return
    about = _subject(hit, things) or spoken_of
    if not _can_be_said(concept, about):
        return
    how = stance(finder, hit.start, hit.end, clause, taken)
    line = finder.line
    enough = hit.end < clause.end and line.words[hit.end].form == "enough"
    pairs, how = _stated(concept, how, enough=enough)
    for name, value in pairs:
        yield Fact(
            name,
            value,
            how.name,
            line.said(hit.start, hit.end),
            concept.name,
            how.because,
            about,
            line.words[hit.start].start,
            line.words[hit.end - 1].end,
        )


def _stated(concept: Concept, how: Stance, *, enough: bool) -> tuple[tuple[tuple[str, str], ...], Stance]:
    """What is stated, where the denial of one thing states another: "not warm" is cold, "not wet enough" is dry."""
    if how.name == "denied":
        other = concept.lacking if enough and concept.lacking else concept.denied
        if other:
            return (*other,), Stance("told")
    return concept.facts, how


def _subject(hit: Hit, things: Sequence[Hit]) -> str:
    """The thing of which it is said: the nearest named before it, else one named within or behind it."""
    before = [thing for thing in things if thing.start < hit.start]
    if before:
        return str(before[-1].of)
    behind = [thing for thing in things if thing.start >= hit.start]
    return str(behind[0].of) if behind else ""


def _can_be_said(concept: Concept, about: str) -> bool:
    if about in concept.never_of:
        return False
    if any(name.startswith("material.") for name, _ in concept.facts):
        return True  # a lawn, a stable or a fence may be named beside it
    if concept.of:
        return about in concept.of or (not about and bool(concept.of & _UNNAMED))
    return about not in OTHERS

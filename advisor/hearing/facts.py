"""Facts of a line: each way of saying with what it is said of and its stance."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.meanings import Concept
from advisor.hearing.shapes import Fact
from advisor.hearing.stance import Stance, Taken, is_asked, is_hit_in, stance
from advisor.hearing.told import figure_in, told_in

#: Of these a sign of a heap is not said, unless its concept names them.
OTHERS = frozenset({"weather", "household", "neighbour", "plants", "soil", "animals", "tool"})
#: Facts of these kinds may be told beside anything: a lawn, a stable, a neighbour.
_OF_ANYTHING = ("material.", "place.", "wish.", "household.", "limit.", "dislike.")
#: A wish is told with "want" and "would like", and is no supposition for that.
_OF_THE_WILL = ("wish.", "limit.", "dislike.")
_WILLING = frozenset(
    [
        "want",
        "wants",
        "will",
        "would",
        "need",
        "needs",
        "hope",
        "hoping",
        "wish",
        "intend",
        "going",
        "plan",
        "planning",
        "ought",
    ]
)
#: What may be meant where nothing is named.
_UNNAMED = frozenset(
    {"heap", "bin", "compost", "worm bin", "fermented bucket", "tumbler", "leaf heap", "trench", "stuff"}
)


def facts(finder: Finder, taken: Sequence[Taken], attribute: str = "") -> list[Fact]:
    """Everything a line states or mentions, in order.

    Args:
        attribute: the fact that the open question asks for, which short answers tell.
    """
    found: list[Fact] = []
    spoken_of = ""
    for clause in finder.line.clauses:
        things = things_in(finder, clause)
        hits = [hit for hit in finder.hits(finder.vocabulary.concept_index, clause.start, clause.end)]
        hits += told_in(finder, clause, attribute)
        said = [hit for hit in hits if _may_be_said(hit, things, spoken_of)]
        longest = [hit for hit in said if not any(_swallows(other, hit) for other in said)]
        for hit in longest:
            found += _facts(finder, hit, clause, things, spoken_of, taken)
        if things:
            spoken_of = str(things[0].of)
    return found


def things_in(finder: Finder, clause: Clause) -> list[Hit]:
    """What a clause names, in order; a name inside a longer one is none."""
    hits = list(finder.hits(finder.vocabulary.thing_index, clause.start, clause.end))
    return [hit for hit in hits if not any(is_hit_in(hit, other) for other in hits)]


def _may_be_said(hit: Hit, things: Sequence[Hit], spoken_of: str) -> bool:
    return isinstance(hit.of, Concept) and _can_be_said(hit.of, _subject(hit, things) or spoken_of)


def _swallows(other: Hit, hit: Hit) -> bool:
    """Whether a longer way of saying takes the place of one inside it: of its own kind, or if it says nothing."""
    return is_hit_in(hit, other) and (not _kind(other) or _kind(hit) == _kind(other))


def _kind(hit: Hit) -> str:
    """The kind of fact that a way of saying states: "sign", "deed", "material" ...; empty if it states none."""
    return hit.of.facts[0][0].partition(".")[0] if isinstance(hit.of, Concept) and hit.of.facts else ""


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
    asks = is_asked(finder, clause)
    if how.name == "supposed" and how.because.split()[0].lower() in _WILLING and _is_of_the_will(concept) and not asks:
        how = Stance("told")
    pairs, how = _stated(concept, how, enough=enough)
    if how.name == "told" and pairs != concept.facts and asks:
        how = Stance("asked")  # "does a heap that never gets hot still rot?" tells of no heap
    for name, value in pairs:
        yield Fact(
            name,
            figure_in(finder, hit, value),
            how.name,
            line.said(hit.start, hit.end),
            concept.name,
            how.because,
            about,
            line.words[hit.start].start,
            line.words[hit.end - 1].end,
        )


def _is_of_the_will(concept: Concept) -> bool:
    return any(name.startswith(_OF_THE_WILL) for name, _ in concept.facts)


def _stated(concept: Concept, how: Stance, *, enough: bool) -> tuple[tuple[tuple[str, str], ...], Stance]:
    """What is stated, where the denial of one thing states another: "not warm" is cold, "not wet enough" is dry."""
    if how.name == "denied":
        other = concept.lacking if enough and concept.lacking else concept.denied
        if other:
            return (*other,), Stance("told")
    return concept.facts, how


def _subject(hit: Hit, things: Sequence[Hit]) -> str:
    """The thing of which it is said: the nearest named before it, else the first behind it; none that it holds itself."""
    before = [thing for thing in things if thing.start < hit.start and not hit.start < thing.end <= hit.end]
    if before:
        return str(before[-1].of)
    behind = [thing for thing in things if thing.start >= hit.end]
    within = [thing for thing in things if hit.start <= thing.start and thing.end <= hit.end]
    return str((behind or within)[0].of) if behind or within else ""


def _can_be_said(concept: Concept, about: str) -> bool:
    if about in concept.never_of:
        return False
    if any(name.startswith(_OF_ANYTHING) for name, _ in concept.facts):
        return True
    if concept.of:
        return about in concept.of or (not about and bool(concept.of & _UNNAMED))
    return about not in OTHERS

"""Dangers of a line: close forms, and sets of words over all that it states. Suppositions and general questions are none."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.finding import Finder
from advisor.hearing.patterns import ends
from advisor.hearing.shapes import Fact, HeardDanger
from advisor.hearing.stance import Taken, stance
from advisor.hearing.vocabulary import Danger

#: The gravest first.
KINDS = ("fire", "smoke", "poison", "breath", "gas", "chemical", "wound", "sting", "spores", "food", "plants", "lead")

#: Hotter than this, in °C, a heap can char and catch fire. USDA, National Engineering Handbook part 637 chapter 2,
#: Composting, 2000: spontaneous combustion follows heating beyond about 80 °C (180 °F).
CHARS_ABOVE = 80.0


def dangers(finder: Finder, facts: Sequence[Fact], taken: Sequence[Taken]) -> tuple[HeardDanger, ...]:
    """What can hurt somebody now, the gravest first."""
    found = {one.name: one for one in (*_said(finder, taken), *_together(finder, taken), *_too_hot(facts))}
    order = {kind: place for place, kind in enumerate(KINDS)}
    return tuple(sorted(found.values(), key=lambda one: (order.get(one.kind, len(KINDS)), one.name)))


def _said(finder: Finder, taken: Sequence[Taken]) -> Iterator[HeardDanger]:
    for clause in finder.line.clauses:
        for hit in finder.hits(finder.vocabulary.danger_index, clause.start, clause.end):
            danger = hit.of
            if isinstance(danger, Danger) and not _is_none(danger, finder):
                if stance(finder, hit.start, hit.end, clause, taken).name == "told":
                    yield HeardDanger(danger.name, danger.kind, finder.line.said(hit.start, hit.end))


def _together(finder: Finder, taken: Sequence[Taken]) -> Iterator[HeardDanger]:
    for danger in finder.vocabulary.dangers.values():
        if danger.together and not _is_none(danger, finder):
            said = [_told(group, finder, taken) for group in danger.together]
            if all(said):
                yield HeardDanger(danger.name, danger.kind, " ... ".join(said))


def _told(ways: tuple, finder: Finder, taken: Sequence[Taken]) -> str:  # type: ignore[type-arg]
    """The words of the first of some ways that the line states; empty if none."""
    for clause in finder.line.clauses:
        for at in range(clause.start, clause.end):
            for way in ways:
                behind = ends(way, finder.line.words, at, clause.end, finder.things)
                if behind and stance(finder, at, behind, clause, taken).name in ("told", "past"):
                    return finder.line.said(at, behind)
    return ""


def _is_none(danger: Danger, finder: Finder) -> bool:
    return bool(danger.unless) and finder.stands(danger.unless, 0, len(finder.line.words))


def _too_hot(facts: Sequence[Fact]) -> Iterator[HeardDanger]:
    for fact in facts:
        if fact.name == "sign.degrees" and fact.stance == "told" and float(fact.value) > CHARS_ABOVE:
            yield HeardDanger("hot-enough-to-char", "smoke", fact.said)

"""How a line is read: the stages put together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.acts import acts_of
from advisor.hearing.answering import picked
from advisor.hearing.cutting import cut
from advisor.hearing.dangers import dangers
from advisor.hearing.facts import facts, things_in
from advisor.hearing.finding import Finder
from advisor.hearing.questions import asking
from advisor.hearing.readings import temperatures
from advisor.hearing.shapes import Asked, Fact, Heard, HeardMaterial, Piece
from advisor.hearing.stance import Taken, stance, triggers
from advisor.hearing.unread import unread
from advisor.hearing.vocabulary import vocabulary
from advisor.knowledge.base import Knowledge

_NOTHING = Asked()


def hear(text: str, knowledge: Knowledge, asked: Asked = _NOTHING) -> Heard:
    """Read a line.

    Args:
        text: what was typed, as it was typed. No text is refused.
        knowledge: the rule base, for the names of materials and measures.
        asked: the question that stands open.

    Raises:
        RuleBaseError: a file of rules/words/ is not in order.
    """
    words = vocabulary()
    line = cut(text, words.english)
    finder = Finder(line, words, knowledge)
    taken = triggers(finder)
    found = sorted([*facts(finder, taken), *temperatures(finder, taken)], key=lambda fact: (fact.start, fact.end))
    materials = tuple(_materials(finder, taken))
    options = picked(finder, asked)
    grave, feared = dangers(finder, found, taken)
    acts, about, forms = acts_of(finder, found, materials, grave, options, asked)
    return Heard(
        text,
        acts,
        about,
        tuple(_once(found)),
        materials,
        grave,
        feared,
        options,
        unread(finder, found, materials),
        tuple(_guesses(finder)),
        tuple(_pieces(finder, forms)),
    )


def _materials(finder: Finder, taken: Sequence[Taken]) -> Iterator[HeardMaterial]:
    line = finder.line
    for named in finder.materials.values():
        how = stance(finder, named.start, named.end, line.clause_of(named.start), taken)
        said = line.said(named.start, named.end)
        yield HeardMaterial(named.ids, said, how.name, line.words[named.start].start, line.words[named.end - 1].end)


def _once(found: Sequence[Fact]) -> Iterator[Fact]:
    """Each fact once for each stance; what is told goes before a mention of the same in another stance."""
    seen: set[tuple[str, str, str]] = set()
    for fact in found:
        key = (fact.name, fact.value, fact.stance)
        if key not in seen:
            seen.add(key)
            yield fact


def _guesses(finder: Finder) -> Iterator[str]:
    """What slips of the pen were taken for, where the word that was typed is not near enough to pass without a word."""
    yield from ()


def _pieces(finder: Finder, forms: dict[int, list[str]]) -> Iterator[Piece]:
    for clause in finder.line.clauses:
        named = things_in(finder, clause)
        yield Piece(
            finder.line.said(clause.start, clause.end),
            asking(finder.line, clause),
            str(named[0].of) if named else "",
            tuple(forms.get(clause.start, ())),
        )

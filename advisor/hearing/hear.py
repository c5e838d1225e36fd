"""How a line is read: the stages put together."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from datetime import date
from functools import lru_cache

from advisor.hearing.acts import acts_of
from advisor.hearing.answering import answered
from advisor.hearing.cutting import Line, Sentence, cut
from advisor.hearing.dangers import dangers, is_over, without_false_heat
from advisor.hearing.derived import ages, warmth
from advisor.hearing.facts import facts, things_in
from advisor.hearing.finding import Finder, Named
from advisor.hearing.forms import Form
from advisor.hearing.given_names import without_given_name
from advisor.hearing.ground import sizes
from advisor.hearing.likening import is_likened_stuff
from advisor.hearing.meanings import Vocabulary
from advisor.hearing.people import people
from advisor.hearing.places import place_in_passing
from advisor.hearing.questions import asking
from advisor.hearing.readings import air, moistures, temperatures
from advisor.hearing.shapes import Asked, Fact, Heard, HeardAmount, HeardMaterial, Piece
from advisor.hearing.stance import Taken, stance, triggers
from advisor.hearing.stock import amounts
from advisor.hearing.swapping import swaps
from advisor.hearing.times import times
from advisor.hearing.to_hand import without_looks, without_measures
from advisor.hearing.told import doors
from advisor.hearing.unread import unread
from advisor.hearing.vocabulary import vocabulary_for
from advisor.household.names import Same
from advisor.knowledge.base import Knowledge

_BEDDING = "sign.bedding"
_NOTHING = Asked()


def hear(text: str, knowledge: Knowledge, asked: Asked = _NOTHING, today: date | None = None) -> Heard:
    """Read a line.

    Args:
        text: what was typed, as it was typed. No text is refused.
        knowledge: the rule base, for the names of materials and measures.
        asked: the question that stands open.
        today: the day from which "yesterday" counts; that of the clock if left out.

    Raises:
        RuleBaseError: a file of rules/words/ is not in order.
    """
    words = vocabulary_for(knowledge)
    line = cut(without_given_name(text), words.english)
    finder = Finder(line, words, knowledge)
    taken = triggers(finder)
    stated = facts(finder, taken, asked.attribute)
    several = _several(stated, knowledge) if not asked.attribute else ""
    found = sorted(
        [
            *(facts(finder, taken, several) if several else stated),
            *temperatures(finder, taken),
            *moistures(finder, taken),
            *people(finder, taken),
        ],
        key=lambda fact: (fact.start, fact.end),
    )
    worms, short = (bool(finder.where(name)) for name in ("worm bin", "heat-short"))
    found += [*warmth(found, worms, short, air(finder)), *ages(finder, found, taken)]
    found.sort(key=lambda fact: (fact.start, fact.end))
    held = amounts(finder, found, taken, asked.attribute)
    of_worms = worms or asked.about == "worm bin" or asked.attribute == _BEDDING
    found = [fact for fact in found if not _lies_beside(fact, held) and (of_worms or not _is_amount(fact, held))]
    found = without_looks(finder, found) if not asked.question else found
    materials = tuple(without_measures(tuple(_materials(finder, taken, found)), held))
    grave, feared = dangers(finder, found, taken)
    found = without_false_heat(found, grave)
    answer = answered(finder, asked, found, taken, lambda said: _facts_of(said, Same(words), Same(knowledge)))
    reading = acts_of(finder, found, materials, grave, answer, asked)
    return Heard(
        text,
        reading.acts,
        reading.about,
        tuple(_once(found, words.general, words.either)),
        materials,
        grave,
        feared,
        answer.options,
        unread(finder, found, materials),
        tuple(_pieces(finder, reading.forms)),
        times(finder, today or date.today()),
        reading.questions,
        answer.unknown,
        answer.yes,
        answer.named,
        answer.sure,
        answer.numbered,
        held,
        sizes(finder, taken),
        doors(finder, asked),
        _corrects(finder),
        swaps(finder),
        is_over(finder),
        next((form.topic for form in reading.forms if form.act == "off" and form.topic), ""),
        place_in_passing(finder, taken),
    )


def _lies_beside(fact: Fact, held: Sequence[HeardAmount]) -> bool:
    """Whether a fact of what is in a heap is read off stuff that only lies to hand, or of its having been added."""
    return fact.name in ("sign.holds", "deed.added") and any(
        one.beside and one.start <= fact.start < one.end for one in held
    )


def _is_amount(fact: Fact, held: Sequence[HeardAmount]) -> bool:
    """Whether "a heap of shredded paper" is only so much paper: it is bedding where worms are spoken of."""
    return fact.name == _BEDDING and any(one.start <= fact.start and fact.end <= one.end for one in held)


def _corrects(finder: Finder) -> bool:
    """Whether a line puts right what was said: "make that", or the "no" before what is meant."""
    words = finder.line.words
    if finder.where("stock-correcting"):
        return True
    return len(words) > 1 and words[0].form in ("no", "not") and words[1].form in (",", ".")


def _several(stated: Sequence[Fact], knowledge: Knowledge) -> str:
    """The circumstance with several values that a line tells, if it tells one such: then short answers to it count."""
    told = {fact.name for fact in stated if fact.stance == "told" and fact.name.partition(".")[0] in _CIRCUMSTANCES}
    many = [name for name in told if _takes_several(name, knowledge)]
    return many[0] if len(many) == 1 else ""


def _takes_several(name: str, knowledge: Knowledge) -> bool:
    kind, _, attribute = name.partition(".")
    declared = knowledge.kinds[kind].attributes.get(attribute) if kind in knowledge.kinds else None
    return declared is not None and declared.many


_CIRCUMSTANCES = ("place", "wish", "household")

#: Facts of this kind say what a material is besides itself.
_QUALIFIES = "material."


def _materials(finder: Finder, taken: Sequence[Taken], found: Sequence[Fact]) -> Iterator[HeardMaterial]:
    """The materials that a line names, each with what is said of it in its own sentence."""
    line = finder.line
    qualified = _qualified(finder, found)
    for named in finder.materials.values():
        how = stance(finder, named.start, named.end, line.clause_of(named.start), taken)
        said = line.said(named.start, named.end)
        first, last = line.words[named.start].start, line.words[named.end - 1].end
        qualifiers = tuple(qualified.get(named.start, ()))
        likened = is_likened_stuff(finder, named.start)
        yield HeardMaterial(named.ids, said, how.name, first, last, qualifiers, likened)


def _qualified(finder: Finder, found: Sequence[Fact]) -> dict[int, list[str]]:
    """Qualifiers by the first word of the material they belong to: the nearest of their sentence."""
    line = finder.line
    belongs: dict[int, list[str]] = {}
    for fact in found:
        if not fact.name.startswith(_QUALIFIES) or fact.stance == "denied":
            continue
        sentence = next((one for one in line.sentences if _within(line, one, fact)), None)
        near = [
            named
            for named in finder.materials.values()
            if sentence is not None and sentence.start <= named.start < sentence.end
        ]
        if near:
            at = min(near, key=lambda named: _distance(line, named, fact)).start
            belongs.setdefault(at, []).append(fact.name.removeprefix(_QUALIFIES))
    return belongs


def _within(line: Line, sentence: Sentence, fact: Fact) -> bool:
    return line.words[sentence.start].start <= fact.start < line.words[sentence.end - 1].end


def _distance(line: Line, named: Named, fact: Fact) -> int:
    first, last = line.words[named.start].start, line.words[named.end - 1].end
    return max(fact.start - last, first - fact.end, 0)


def _once(found: Sequence[Fact], general: Container[str], either: Container[str]) -> Iterator[Fact]:
    """Each fact once for each stance; what is told in general gives way to what is told in particular.

    Args:
        either: concepts that tell one of several values, and so stay whole.
    """
    particular = {fact.name for fact in found if fact.stance == "told" and fact.concept not in general}
    seen: set[tuple[str, ...]] = set()
    for fact in found:
        concept = fact.concept if fact.concept in either else ""
        key = (fact.name, fact.value, fact.stance, concept)
        if key not in seen and not (fact.concept in general and fact.name in particular):
            seen.add(key)
            yield fact


@lru_cache(maxsize=1024)
def _facts_of(text: str, words: Same[Vocabulary], knowledge: Same[Knowledge]) -> tuple[Fact, ...]:
    """The facts of another text: of an open question or an option. The same questions are asked again and again."""
    finder = Finder(cut(text, words.value.english), words.value, knowledge.value)
    return tuple(facts(finder, triggers(finder)))


def _pieces(finder: Finder, forms: Sequence[Form]) -> Iterator[Piece]:
    for clause in finder.line.clauses:
        named = things_in(finder, clause)
        yield Piece(
            finder.line.said(clause.start, clause.end),
            asking(finder.line, clause),
            str(named[0].of) if named else "",
            tuple(f"{one.act} {one.topic or one.rank}: {one.said}" for one in forms if one.clause == clause),
        )

"""Facts of a line: each way of saying with what it is said of and its stance."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.english import listed
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.likenesses import likened_smells, stands_compared
from advisor.hearing.likening import is_compared_with, is_of_another, is_own_doing, says_no_stink
from advisor.hearing.meanings import Concept
from advisor.hearing.mended import cooled, mended, over
from advisor.hearing.shapes import Fact
from advisor.hearing.stance import Stance, Taken, is_asked, is_hit_in, stance
from advisor.hearing.told import figure_in, told_in
from advisor.hearing.zones import zoned

#: What things rot in.
VESSELS = frozenset({"heap", "bin", "worm bin", "fermented bucket", "tumbler", "leaf heap", "trench"})
#: Of these a sign of a heap is not said, unless its concept names them.
OTHERS = frozenset({"weather", "household", "neighbour", "plants", "soil", "animals", "tool"})
#: Facts of these kinds may be told beside anything: a lawn, a stable, a neighbour.
_OF_ANYTHING = ("material.", "place.", "wish.", "household.", "limit.", "dislike.", "sign.weather", "sign.origin")
#: A wish is told with "want" and "would like", and is no supposition for that.
_OF_THE_WILL = ("wish.", "limit.", "dislike.")
_WILLING = listed("want wants will would need needs hope hoping wish intend going plan planning ought")
#: What may be meant where nothing is named.
_UNNAMED = VESSELS | {"compost", "stuff"}
#: Named in passing: what is said in the next sentence is not said of these.
_PASSING = frozenset({"weather", "household", "tool"})
_STAND_FOR = listed("it they its their them these those he she his her")
#: Others set these for a household, so that they hold whoever says them.
_SET_BY_OTHERS = frozenset({"place.local_limits", "limit.rules"})
_NAME_OF_STUFF = "<material>"
_COPULA = "<being>"
#: These are told beside any other sign: "the top has gone mouldy" says what, and how far.
_BESIDE = frozenset({"sign.extent", "sign.weather", "sign.place"})
#: With these one feels what it is like: "falls apart in my hand" is not said of the hand.
_FEELS = re.compile("hand|finger")
_VERY = listed("very too quite rather really so still all bit a bone stone")
_JOINS = frozenset(["and", "but", "yet", "&"])
_BEGINNING = 2  # words of a sentence in which its subject is looked for


def facts(finder: Finder, taken: Sequence[Taken], attribute: str = "") -> list[Fact]:
    """Everything a line states or mentions, in order.

    Args:
        attribute: the fact that the open question asks for, which short answers tell.
    """
    found: list[Fact] = []
    spoken_of, sentence = "", 0
    bare = {hit.start: hit for hit in bare_words(finder)}
    for clause in finder.line.clauses:
        if clause.sentence != sentence:
            sentence, spoken_of = clause.sentence, _carried(finder, spoken_of, clause)
        things = [hit for hit in things_in(finder, clause) if not stands_compared(finder, hit.start, clause)]
        hits = list(finder.hits(finder.vocabulary.concept_index, clause.start, clause.end))
        taken_up = {at for hit in hits if _kind(hit) for at in range(hit.start, hit.end)}
        hits += [bare[at] for at in range(clause.start, clause.end) if at in bare and at not in taken_up]
        hits += told_in(finder, clause, attribute)
        said = [hit for hit in hits if _may_be_said(finder, hit, things, spoken_of)]
        longest = [hit for hit in said if not any(_swallows(other, hit) for other in said)]
        longest += likened_smells(finder, clause, attribute)
        for hit in longest:
            if is_of_another(finder, hit, clause) or is_compared_with(finder, hit, clause):
                continue
            if is_own_doing(finder, hit, clause) or says_no_stink(finder, hit, clause):
                continue
            found += _facts(finder, hit, clause, things, spoken_of, taken)
        if things and things[0].of != "household":  # "my wife saw it first. It is hot": it is not the wife
            spoken_of = next((str(hit.of) for hit in things if hit.of in _UNNAMED), str(things[0].of))
    return list(over(finder, list(cooled(finder, list(mended(finder, list(zoned(finder, found))))))))


def bare_words(finder: Finder) -> Iterator[Hit]:
    """Words that state something by themselves: a sentence of nothing else, or behind a sign: "small, dry and cold"."""
    words, bare = finder.line.words, finder.vocabulary.bare
    if not any(word.form in bare for word in words):
        return
    for sentence in finder.line.sentences:
        found: list[Hit] = []
        others = False  # whether it says anything else, and no sign yet
        for start, end in _pieces(finder, sentence.start, sentence.end):
            at = start
            while at < end - 1 and words[at].form in _VERY:
                at += 1
            concept = bare.get(words[at].form) if at == end - 1 else None
            if concept is not None:
                found.append(Hit(at, end, concept, words[at].form))
            elif found or not _tells_sign(finder, start, end):
                others = True
                break
        if not others or (found and _tells_sign(finder, sentence.start, found[0].start)):
            yield from found


def _pieces(finder: Finder, start: int, end: int) -> Iterator[tuple[int, int]]:
    """What stands between commas and "and"."""
    for at in range(start, end + 1):
        if at == end or finder.line.words[at].mark or finder.line.words[at].form in _JOINS:
            if start < at:
                yield start, at
            start = at + 1


def _tells_sign(finder: Finder, start: int, end: int) -> bool:
    hits = finder.hits(finder.vocabulary.concept_index, start, end)
    return any(isinstance(hit.of, Concept) and any(n.startswith("sign.") for n, _ in hit.of.facts) for hit in hits)


def _carried(finder: Finder, spoken_of: str, clause: Clause) -> str:
    """What a new sentence goes on about: a vessel, or what its "it" or "they" stands for; never a season or a room."""
    if spoken_of in _UNNAMED:
        return spoken_of
    begun = {word.form for word in finder.line.words[clause.start : clause.start + _BEGINNING]}
    return spoken_of if spoken_of not in _PASSING and begun & _STAND_FOR else ""


def things_in(finder: Finder, clause: Clause) -> list[Hit]:
    """What a clause names, in order; a name inside a longer one is none."""
    hits = list(finder.hits(finder.vocabulary.thing_index, clause.start, clause.end))
    return [hit for hit in hits if not any(is_hit_in(hit, other) for other in hits)]


def _may_be_said(finder: Finder, hit: Hit, things: Sequence[Hit], spoken_of: str) -> bool:
    return isinstance(hit.of, Concept) and _can_be_said(hit.of, _about(finder, hit, hit.of, things, spoken_of))


def _swallows(other: Hit, hit: Hit) -> bool:
    """Whether a longer way of saying takes the place of one inside it: of its own kind, or if it says nothing.

    One that says nothing goes before what ends in it, too: "got cold" is no sign in "got cold feet".
    """
    if not _kind(other):
        if _kind(hit) in _BESIDE or (other.way == _NAME_OF_STUFF and _kind(hit) != "sign"):
            return False  # "diseased leaves" names stuff, and says what ails it
        return is_hit_in(hit, other) or (
            hit.way.startswith(_COPULA) and hit.start + 1 == other.start == hit.end - 1 and hit.end < other.end
        )
    return is_hit_in(hit, other) and _kind(hit) == _kind(other)


def _kind(hit: Hit) -> str:
    """The kind of fact that a way of saying states: "sign", "deed", "material" ...; empty if it states none."""
    if not isinstance(hit.of, Concept) or not hit.of.facts:
        return ""
    name = hit.of.facts[0][0]
    return name if name in _BESIDE else name.partition(".")[0]


def _facts(
    finder: Finder, hit: Hit, clause: Clause, things: Sequence[Hit], spoken_of: str, taken: Sequence[Taken]
) -> Iterator[Fact]:
    concept = hit.of
    if not isinstance(concept, Concept):
        return
    about = _about(finder, hit, concept, things, spoken_of)
    if not _can_be_said(concept, about):
        return
    how = stance(finder, hit.start, hit.end, clause, taken)
    line = finder.line
    enough = hit.end < clause.end and line.words[hit.end].form == "enough"
    willing = how.name == "supposed" and how.because.split()[0].lower() in _WILLING and _is_of_the_will(concept)
    asks = is_asked(finder, clause)
    if willing and not asks:
        how = Stance("told")
    if how.name == "other" and any(name in _SET_BY_OTHERS for name, _ in concept.facts):
        how = Stance("told")  # "my wife says no open heap"
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


def _about(finder: Finder, hit: Hit, concept: Concept, things: Sequence[Hit], spoken_of: str) -> str:
    """What it is said of: what its clause names, what was spoken of, or what its own words name."""
    about = _subject(finder, hit, things) or spoken_of
    if about:
        return about
    within = next((str(thing.of) for thing in things if hit.start <= thing.start and thing.end <= hit.end), "")
    return within if _can_be_said(concept, within) else ""


def _subject(finder: Finder, hit: Hit, things: Sequence[Hit]) -> str:
    """The nearest thing named before a way of saying, else the first behind it; none that it holds itself.

    What stands behind is not meant where "it" or "they" stands before, or behind a comma.
    """
    before = [thing for thing in things if thing.start < hit.start and not hit.start < thing.end <= hit.end]
    if before:
        return str(before[-1].of)
    behind = [thing for thing in things if thing.start >= hit.end and not _FEELS.search(thing.way)]
    if not behind:
        return ""
    words = finder.line.words
    clause = finder.line.clause_of(hit.start)
    named = any(word.form in _STAND_FOR for word in words[clause.start : hit.start])
    parted = any(word.form == "," for word in words[hit.end : behind[0].start])
    return "" if (named or parted) and behind[0].of not in _PASSING else str(behind[0].of)


def _can_be_said(concept: Concept, about: str) -> bool:
    if about in concept.never_of:
        return False
    if not (concept.facts or concept.denied or concept.lacking):
        return True  # it says nothing, and keeps a shorter one from being heard of anything
    if any(name.startswith(_OF_ANYTHING) for name, _ in concept.facts):
        return True
    if concept.of:
        return about in concept.of or (not about and bool(concept.of & _UNNAMED))
    return about not in OTHERS

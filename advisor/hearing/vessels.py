"""Which vessels a line names: by the names they have in a diary, or by what they are and what tells them apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from advisor.hearing.cutting import cut
from advisor.hearing.facts import VESSELS, things_in
from advisor.hearing.finding import Finder
from advisor.hearing.vocabulary import vocabulary_for
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

#: Dry browns put by for later.
BROWNS = "browns"
#: Words of the trade that stand within a name and make none: "the north compost heap".
_WITHIN = frozenset({"compost", "hot", "cold"})
#: Said of a fermented bucket, and what is done to it or goes in: it is not named by them.
_NO_VESSEL = frozenset({"sealed", "airtight", "ferment", "fermenting", "fermented", "fermentation", "bran", "lid"})


@dataclass(frozen=True, slots=True)
class VesselNamed:
    """A vessel that a line names.

    Attributes:
        kind: "heap", "bin", "bay", "tumbler", "worm bin", "fermented bucket", "leaf heap", "trench" or "browns".
        name: what tells it from others of its kind, as it was said in small letters; empty if nothing does.
        start, end: its characters in the line.
        known: whether it is the name of a vessel that was known.
        into: whether the stuff of another goes into it.
        another: whether it is said to be a new one.
        said: its words as they were typed.
        beside: whether what is said of the one before is said of it too: "the north heap and the south heap".
        every: whether all of its kind are meant: "both heaps".
    """

    kind: str
    name: str
    start: int
    end: int
    known: bool = False
    into: bool = False
    another: bool = False
    said: str = ""
    beside: bool = False
    every: bool = False


def vessel_kind(name: str, knowledge: Knowledge) -> str:
    """The kind that the name of a vessel tells; empty if it tells none."""
    words = vocabulary_for(knowledge)
    finder = Finder(cut(name, words.english), words, knowledge)
    return next((one.kind for one in reversed(list(named_by_kind(finder)))), "")


def vessels_in(text: str, knowledge: Knowledge, known: Sequence[tuple[str, str]]) -> list[VesselNamed]:
    """The vessels that a line names, in order; `known` are names and kinds of those there are."""
    words = vocabulary_for(knowledge)
    return vessels_named(Finder(cut(text, words.english), words, knowledge), known)


def vessels_named(finder: Finder, known: Sequence[tuple[str, str]]) -> list[VesselNamed]:
    """The vessels that a line names, in order.

    Args:
        known: names and kinds of those there are.
    """
    named = list(_known(finder, known))
    others = [one for one in named_by_kind(finder) if not any(_overlap(one, other) for other in named)]
    found = sorted([*named, *others], key=lambda one: one.start)
    found = sorted([*found, *_cut_short(finder, found, known)], key=lambda one: one.start)
    found = [one for one, behind in zip(found, (*found[1:], None), strict=False) if not _holds(finder, one, behind)]
    return list(_beside(finder, found))


def _holds(finder: Finder, one: VesselNamed, behind: VesselNamed | None) -> bool:
    """Whether a bare "heap" is in the vessel that is named after it: "started a heap in the first bay"."""
    if behind is None or one.name or one.known or one.kind != "heap" or behind.kind not in ("bay", "bin", "tumbler"):
        return False
    between = [word.form for word in finder.line.words if one.end <= word.start and word.end <= behind.start]
    return between[:1] == ["in"] and set(between) <= {"in"} | _ARTICLES


def _cut_short(finder: Finder, found: Sequence[VesselNamed], known: Sequence[tuple[str, str]]) -> Iterator[VesselNamed]:
    """Vessels whose noun is said only after another: the north heap of "north and south heap"."""
    words = finder.line.words
    names = {name.casefold(): name for name, _ in known}
    for one in found:
        first = next(at for at, word in enumerate(words) if word.end > one.start)
        last = next(at for at in range(first, len(words)) if words[at].end >= one.end)
        at = first - 1 - (words[first - 1].form in _ARTICLES if first else 0)
        if at < 1 or last == first or words[at].form not in _AND or not finder.things("vessel-naming", at - 1):
            continue
        start = at - 1
        while start > 0 and finder.things("vessel-naming", start - 1):
            start -= 1
        said = " ".join(word.form for word in (*words[start:at], words[last]))
        name = names.get(said, said)
        yield VesselNamed(one.kind, name, words[start].start, words[at - 1].end, known=said in names, into=one.into)


def _beside(finder: Finder, found: Sequence[VesselNamed]) -> Iterator[VesselNamed]:
    """Vessels in order, with those marked that stand in a row: "the north heap and the south heap"."""
    words = finder.line.words
    for number, one in enumerate(found):
        before = found[number - 1] if number else None
        between = [word.form for word in words if before and before.end <= word.start and word.end <= one.start]
        row = bool(before) and bool(_AND.intersection(between)) and set(between) <= _AND | _ARTICLES
        yield replace(one, beside=True) if row and not one.into else one


#: What joins two names in a row, and what may stand before the second.
_AND = frozenset({"and", "&", "+"})
_ARTICLES = frozenset({"the", "my", "our"})
_LEAF_MOULD = frozenset({"mould", "mold", "leafmould", "leafmold"})
#: Before a plural they mean each of a kind.
_EVERY = frozenset({"both", "all", "every", "each"})


def _overlap(one: VesselNamed, other: VesselNamed) -> bool:
    return one.start < other.end and other.start < one.end


def _known(finder: Finder, known: Sequence[tuple[str, str]]) -> Iterator[VesselNamed]:
    """Vessels by the names they have in the diary, the longest names first."""
    words = finder.line.words
    taken: set[int] = set()
    for name, kind in sorted(known, key=lambda one: -len(one[0])):
        forms = [word.form for word in cut(name, finder.vocabulary.english).words]
        for at in range(len(words) - len(forms) + 1):
            places = range(at, at + len(forms))
            if forms and [words[place].form for place in places] == forms and not taken & set(places):
                taken |= set(places)
                yield VesselNamed(
                    kind, name, words[at].start, words[places[-1]].end, known=True, into=_goes_into(finder, at)
                )


def named_by_kind(finder: Finder) -> Iterator[VesselNamed]:
    """Vessels by what they are, with the words that tell one from another."""
    words = finder.line.words
    behind = 0
    for at in range(len(words)):
        ends = finder.things("vessel-browns", at)
        if ends and at >= behind:
            behind = max(ends)
            yield VesselNamed(BROWNS, "", words[at].start, words[behind - 1].end, into=_goes_into(finder, at))
    hits = [hit for clause in finder.line.clauses for hit in things_in(finder, clause) if str(hit.of) in VESSELS]
    for hit in hits:
        if all(words[at].form in _NO_VESSEL for at in range(hit.start, hit.end)):
            continue
        if any(finder.things("vessel-browns", at) for at in range(max(0, hit.start - 1), hit.end)):
            continue
        if words[hit.end - 1].form in _LEAF_MOULD and hit.start and words[hit.start - 1].form == "of":
            continue  # "3 buckets of leaf mould" are of what a leaf heap makes
        first = hit.start
        while first > 0 and (
            finder.things("vessel-naming", first - 1) or (words[first - 1].form in _WITHIN and first - 1 > 0)
        ):
            first -= 1
        while words[first].form in _WITHIN and first < hit.start:
            first += 1
        if _is_measure(finder, first, hit.start, hit.end):
            continue
        last = _numbered(finder, hit.end)
        bay = any(words[at].lemma == "bay" for at in range(hit.start, hit.end))
        tells = first < hit.start or last > hit.end
        said = " ".join(words[at].form for at in range(first, last) if not words[at].mark)
        yield VesselNamed(
            "bay" if bay else str(hit.of),
            said if tells else "",
            words[first].start,
            words[last - 1].end,
            into=_goes_into(finder, first),
            another=first > 0 and words[first - 1].form in ("new", "another"),
            every=not tells and any(words[at].form in _EVERY for at in range(max(0, first - 3), first)),
        )


def _is_measure(finder: Finder, first: int, start: int, end: int) -> bool:
    """Whether it counts stuff and is no vessel: "2 buckets", "a bucket of leaves", "bin bags"."""
    words = finder.line.words
    following = words[end].form if end < len(words) else ""
    if following == "of" or words[end - 1].form in ("buckets", "pails", "tubs"):
        return True
    for at in range(max(0, first - 3), first):
        amount = finder.spoken.amount(at)
        if amount is None or not amount[0].measured:
            continue
        if amount[1] > start or (amount[1] == start and words[start - 1].form == "of"):
            return True
    return words[start].form in ("bucket", "pail", "tub") and first > 0 and words[first - 1].form in ("a", "half", "an")


def _numbered(finder: Finder, end: int) -> int:
    """The place behind the number or letter of a vessel: "bay 2", "bin B"."""
    words, at = finder.line.words, end
    if at >= len(words):
        return end
    figure = finder.numbers.get(at)
    plain = figure is not None and figure[0] < 20 and words[at].form.isalnum()
    following = words[at + 1] if at + 1 < len(words) else None
    alone = following is None or following.mark or following.lemma == "be" or not finder.things("unit", at + 1)
    alone = alone and (following is None or following.form not in _PARTS)  # "two thirds full"
    degrees = at + 1 < len(words) and words[at + 1].form in ("c", "f", "°", "degrees", "deg", "x", "%")
    if plain and alone and not degrees and not _counts_stuff(finder, at):
        return at + 1
    if finder.things("vessel-letter", at) and (words[at].form != "a" or finder.line.text[words[at].start] == "A"):
        return at + 1
    return end


_PARTS = frozenset({"third", "thirds", "quarter", "quarters", "half", "halves", "fifths", "tenths"})


def _counts_stuff(finder: Finder, at: int) -> bool:
    """Whether a number behind a vessel counts something: "heap 2 buckets of leaves"."""
    amount = finder.spoken.amount(at)
    return amount is not None and amount[0].measured


#: Said for stuff that was named before: "mowed the lawn, all of it into the bay".
_WHOLE = (["all", "of", "it"], ["all", "of", "them"], ["it", "all"], ["the", "lot"], ["everything"], ["all"])


def _stuff_before(finder: Finder, at: int) -> bool:
    """Whether an amount begins the part of the line in which a word stands."""
    marks = [place for place in range(at) if finder.line.words[place].mark]
    first = marks[-1] + 1 if marks else 0
    amount = finder.spoken.amount(first)
    whole = [word.form for word in finder.line.words[first:at]]
    return (amount is not None and amount[0].measured) or whole in _WHOLE


def _goes_into(finder: Finder, first: int) -> bool:
    """Whether the stuff of a vessel named before, or "it", goes into the one that begins at a word."""
    words = finder.line.words
    for at in range(max(0, first - 3), first):
        if first in finder.things("vessel-into", at):
            if words[at].form in ("into", "onto") and _stuff_before(finder, at):
                return True  # "6 sacks of leaves into the cage"
            return any(finder.things("vessel-moving", place) for place in range(at))
    joined = any(finder.things("vessel-joining", place) for place in range(first))
    behind = words[first - 1].form if first else ""
    if behind in ("the", "my") and first > 1:
        behind = words[first - 2].form
    return joined and behind in ("and", "with")

"""Which vessels a line names: by the names they have in a diary, or by what they are and what tells them apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.cutting import cut
from advisor.hearing.facts import VESSELS, things_in
from advisor.hearing.finding import Finder
from advisor.hearing.vocabulary import vocabulary_for
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

#: Dry browns put by for later.
BROWNS = "browns"
#: Things of rules/words/things.toml that a diary is kept of.
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
    """

    kind: str
    name: str
    start: int
    end: int
    known: bool = False
    into: bool = False
    another: bool = False
    said: str = ""


def vessel_kind(name: str, knowledge: Knowledge) -> str:
    """The kind that the name of a vessel tells; empty if it tells none."""
    words = vocabulary_for(knowledge)
    finder = Finder(cut(name, words.english), words, knowledge)
    return next((one.kind for one in reversed(list(named_by_kind(finder)))), "")


def vessels_named(finder: Finder, known: Sequence[tuple[str, str]]) -> list[VesselNamed]:
    """The vessels that a line names, in order.

    Args:
        known: names and kinds of those there are.
    """
    named = list(_known(finder, known))
    others = [one for one in named_by_kind(finder) if not any(_overlap(one, other) for other in named)]
    return sorted([*named, *others], key=lambda one: one.start)


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
        )


def _is_measure(finder: Finder, first: int, start: int, end: int) -> bool:
    """Whether it counts stuff and is no vessel: "2 buckets", "a bucket of leaves", "bin bags"."""
    words = finder.line.words
    following = words[end].form if end < len(words) else ""
    if following == "of" or words[end - 1].form in ("buckets", "pails"):
        return True
    for at in range(max(0, first - 3), first):
        amount = finder.spoken.amount(at)
        if amount is not None and amount[0].measured and amount[1] > start:
            return True
    return words[start].form in ("bucket", "pail", "tub") and first > 0 and words[first - 1].form in ("a", "half", "an")


def _numbered(finder: Finder, end: int) -> int:
    """The place behind the number or letter of a vessel: "bay 2", "bin B"."""
    words, at = finder.line.words, end
    if at >= len(words):
        return end
    figure = finder.numbers.get(at)
    plain = figure is not None and figure[0] < 20 and words[at].form.isalnum()
    alone = at + 1 >= len(words) or words[at + 1].mark or not finder.things("unit", at + 1)
    degrees = at + 1 < len(words) and words[at + 1].form in ("c", "f", "°", "degrees", "deg", "x", "%")
    if plain and alone and not degrees and not _counts_stuff(finder, at):
        return at + 1
    if finder.things("vessel-letter", at) and (words[at].form != "a" or finder.line.text[words[at].start] == "A"):
        return at + 1
    return end


def _counts_stuff(finder: Finder, at: int) -> bool:
    """Whether a number behind a vessel counts something: "heap 2 buckets of leaves"."""
    amount = finder.spoken.amount(at)
    return amount is not None and amount[0].measured


def _goes_into(finder: Finder, first: int) -> bool:
    """Whether the stuff of a vessel named before, or "it", goes into the one that begins at a word."""
    words = finder.line.words
    for at in range(max(0, first - 3), first):
        if first in finder.things("vessel-into", at):
            return any(finder.things("vessel-moving", place) for place in range(at))
    joined = any(finder.things("vessel-joining", place) for place in range(first))
    behind = words[first - 1].form if first else ""
    if behind in ("the", "my") and first > 1:
        behind = words[first - 2].form
    return joined and behind in ("and", "with")

"""Of all the readings of a sentence, those that together account for most of it, and the words left over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from advisor.talk.reading.finding import find, holds, is_door_of_trouble, is_sign
from advisor.talk.reading.found import Found, Phrase, Scope, Stuff
from advisor.talk.reading.lexicon import Answers, Asides, Requests
from advisor.talk.reading.line import Sentence
from advisor.talk.reading.things import Reader, Thing


@dataclass(frozen=True)
class Chosen:
    """How a sentence is read.

    Attributes:
        start: the first word of the sentence.
        end: the place after its last.
        found: the readings that stand, in order.
        beside: readings that stand beside them.
        correcting: it puts right what was said before.
        asides: stretches that belong to the reading next to them.
        left: stretches that could not be placed.
        names: names of ours in what is left, that stood among words we do not know.
    """

    start: int
    end: int
    found: tuple[Found, ...]
    beside: tuple[Found, ...]
    asides: tuple[tuple[int, int], ...]
    correcting: bool
    left: tuple[tuple[int, int], ...]
    names: tuple[Thing, ...]


def choose(reader: Reader, sentence: Sentence) -> Chosen:
    """Read a sentence.

    Where it answers a question that takes several values, and some of it is still dark, it is read once more as if
    that question were open: so "the lawn" is understood in "for the roses and the lawn".
    """
    scope = Scope(reader, sentence)
    chosen = _chosen(scope)
    attribute = "" if reader.context.attribute else _several(chosen, reader)
    if not attribute or not (chosen.left or any(each.bare for each in chosen.found)):
        return chosen
    asked = replace(reader, context=replace(reader.context, attribute=attribute))
    return _chosen(Scope(asked, sentence))


def _several(chosen: Chosen, reader: Reader) -> str:
    """The attribute with several values that a sentence answers, if it answers one such."""
    meanings = (each.what.entry.meaning for each in chosen.found if isinstance(each.what, Phrase))
    told = {meaning.attribute for meaning in meanings if isinstance(meaning, Answers)}
    several = [name for name in sorted(told) if reader.takes_several(name)]
    return several[0] if len(several) == 1 else ""


def _is_aside(found: Found) -> bool:
    return isinstance(found.what, Phrase) and isinstance(found.what.entry.meaning, Asides)


def _is_seconded(beside: Found, best: Sequence[Found]) -> bool:
    """Whether a sign is named within words that tell of trouble; elsewhere it is none."""
    if not is_sign(beside, named=True):
        return True
    return any(holds(each, beside) and (is_sign(each, named=False) or is_door_of_trouble(each)) for each in best)


def _corrects(found: Found) -> bool:
    """Whether it says that something is put right: "make that", or the "no" before what is meant."""
    meaning = found.what.entry.meaning if isinstance(found.what, Phrase) else None
    return (isinstance(meaning, Asides) and meaning.corrects) or meaning == Requests("no")


def _chosen(scope: Scope) -> Chosen:
    rivals, beside = find(scope)
    best = _weightiest(rivals, scope.sentence.start, scope.sentence.end)
    beside = [each for each in beside if _is_seconded(each, best)]
    left = _left(scope, [*best, *beside])
    doubted = [each for each in best if each.bare and _is_doubted(scope, each, best, left)]
    best = [each for each in best if each not in doubted]
    asides = [each for each in best if _is_aside(each)]
    others = [each for each in best if each not in asides]
    if not others and not beside:
        asides = []
    left = _left(scope, [*others, *asides, *beside])
    names = tuple(each.what.thing for each in doubted if isinstance(each.what, Stuff) and each.what.thing is not None)
    return Chosen(
        scope.sentence.start,
        scope.sentence.end,
        tuple(others),
        tuple(beside),
        tuple((each.start, each.end) for each in asides),
        any(_corrects(each) for each in best),
        _stretches(left, [*others, *asides]),
        names,
    )


def _weightiest(rivals: Sequence[Found], start: int, end: int) -> list[Found]:
    """The readings that do not overlap and weigh most together; of equals, the fewest."""
    starting: dict[int, list[Found]] = {}
    for each in rivals:
        starting.setdefault(each.start, []).append(each)
    best: dict[int, tuple[float, Found | None]] = {end: (0.0, None)}
    for at in range(end - 1, start - 1, -1):
        weight, found = best[at + 1][0], None
        for each in starting.get(at, ()):
            total = each.weight + best[each.end][0]
            if total > weight + 1e-9:
                weight, found = total, each
        best[at] = weight, found
    chosen: list[Found] = []
    at = start
    while at < end:
        standing = best[at][1]
        if standing is None:
            at += 1
        else:
            chosen.append(standing)
            at = standing.end
    return chosen


def _left(scope: Scope, found: Sequence[Found]) -> list[int]:
    """The words that no reading covers and that are no small talk."""
    covered = {at for each in found for at in range(each.start, each.end)}
    return [
        at
        for at in range(scope.sentence.start, scope.sentence.end)
        if at not in covered and not scope.line.words[at].mark and not scope.reader.is_filler(at)
    ]


def _is_doubted(scope: Scope, bare: Found, best: Sequence[Found], left: Sequence[int]) -> bool:
    """Whether a name without an amount is not said of what is on hand.

    It counts where its clause holds no words that are unknown: "bread" may be on hand, in "the history of bread" it
    is not. Words that are more often said in passing ("compost", "soil") count only by themselves.
    """
    first, last = scope.clause(bare.start)
    if any(first <= at < last for at in left):
        return True
    thing = bare.what.thing if isinstance(bare.what, Stuff) else None
    if thing is None:
        return False
    name = " ".join(word.key for word in scope.line.words[thing.name_start : thing.end])
    others = [each for each in best if each is not bare and not _is_aside(each)]
    alone = not any(each.start < last and each.end > first for each in others)
    return name in scope.reader.lexicon.shy and not (alone and scope.is_alone(bare.start, bare.end))


def _stretches(left: Sequence[int], found: Sequence[Found]) -> tuple[tuple[int, int], ...]:
    """What is left, run together where nothing but small talk and commas stands between."""
    covered = {at for each in found for at in range(each.start, each.end)}
    stretches: list[tuple[int, int]] = []
    for at in left:
        if stretches and not any(between in covered for between in range(stretches[-1][1], at)):
            stretches[-1] = stretches[-1][0], at + 1
        else:
            stretches.append((at, at + 1))
    return tuple(stretches)

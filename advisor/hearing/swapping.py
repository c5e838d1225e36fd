"""One material in the place of another: "swap the straw for leaves", "leaves instead of straw"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.cutting import Sentence
from advisor.hearing.finding import Finder
from advisor.hearing.shapes import HeardSwap
from advisor.hearing.stuff import Name, Stuff


def swaps(finder: Finder) -> tuple[HeardSwap, ...]:
    """The swaps of a line, in order."""
    if len(finder.materials) < 2:
        return ()
    return tuple(swap for sentence in finder.line.sentences for swap in _swaps(finder, sentence))


def _swaps(finder: Finder, sentence: Sentence) -> Iterator[HeardSwap]:
    stuff = Stuff(finder, sentence)
    found = (stuff.name(at) for at in range(sentence.start, sentence.end) if at in finder.materials)
    names = [name for name in found if name is not None]
    for old, new in _by_verb(finder, sentence, names) or _instead(finder, sentence, stuff, names):
        words = finder.line.words
        first, last = min(old.first, new.first), max(old.end, new.end)
        said = finder.line.said(first, last)
        called = tuple(finder.line.said(name.first, name.end) for name in (old, new))
        yield HeardSwap(
            old.named.ids, new.named.ids, called[0], called[1], said, words[first].start, words[last - 1].end
        )


def _by_verb(finder: Finder, sentence: Sentence, names: Sequence[Name]) -> list[tuple[Name, Name]]:
    """ "Swap A for B", "replace A with B", "substitute B for A"."""
    for at in range(sentence.start, sentence.end):
        verb = next((verb for verb in ("swap-old-first", "swap-new-first") if finder.things(verb, at)), "")
        behind = [name for name in names if name.first > at][:2]
        if not verb or len(behind) < 2:
            continue
        one, other = behind
        between = range(one.end, other.first)
        if not any(finder.things("swap-for", place) for place in between):
            continue
        keeps = verb == "swap-old-first" or any(finder.things("swap-with", place) for place in between)
        return [(one, other) if keeps else (other, one)]
    return []


def _instead(finder: Finder, sentence: Sentence, stuff: Stuff, names: Sequence[Name]) -> list[tuple[Name, Name]]:
    """ "B instead of A", "instead of A, use B"."""
    for at in range(sentence.start, sentence.end):
        ends = finder.things("swap-instead", at)
        old = stuff.name(max(ends)) if ends and max(ends) < sentence.end else None
        if old is None:
            continue
        before = [name for name in names if name.end <= at]
        after = [name for name in names if name.first >= old.end]
        new = before[-1] if before else next(iter(after), None)
        if new is not None:
            return [(old, new)]
    return []

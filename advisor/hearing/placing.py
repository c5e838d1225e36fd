"""Which place, depth or day belongs to which of several readings of a line, and which reading is of the core."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from advisor.hearing.finding import Finder

Label = TypeVar("Label")

#: Where in a vessel something is read, by the things of rules/words/vessels.toml.
_WHERE = {"vessel-middle": "middle", "vessel-edge": "edge", "vessel-top": "top", "vessel-bottom": "bottom"}
#: Words which part one reading with its place from the next.
_PARTS = frozenset({",", ";", ".", "and", "but", "&", "then", "while", "/", "with", "\n"})


def places_in(finder: Finder) -> list[tuple[int, int, str]]:
    """Words that tell where in a vessel something was read: first word, word behind, and the place."""
    found: list[tuple[int, int, str]] = []
    for at in range(len(finder.line.words)):
        for name, place in _WHERE.items():
            if at >= (found[-1][1] if found else 0) and (ends := finder.things(name, at)):
                found.append((at, max(ends), place))
    return found


def depths_in(finder: Finder) -> list[tuple[int, int, float]]:
    """Words that tell how deep something was read: first word, word behind, and the depth in metres."""
    words = finder.line.words
    found: list[tuple[int, int, float]] = []
    for at in range(len(words)):
        figure = finder.spoken.figure("length", at)
        if figure is None or (found and at < found[-1][1]):
            continue
        metres, end = figure
        before = words[at - 1].form if at else ""
        if before in ("at", "@") or (end < len(words) and finder.things("vessel-deep", end)):
            found.append((at, end, metres))
    return found


def paired(
    finder: Finder, figures: Sequence[tuple[int, int]], labels: Sequence[tuple[int, int, Label]], *, loose: bool = False
) -> list[Label | None]:
    """The label of each figure: "62 in the middle and 40 at the edges", "top 45, core 60", "48 and 52, top and core".

    A label belongs to the figure in whose part of the line it stands; where no mark or "and" parts them, to the one
    before it, unless that has its own. A row of figures takes a row of as many labels behind or before it, one by one.

    Args:
        figures, labels: first word and word behind, in order.
        loose: whether a mark may stand between a figure and its label, if no other figure does.
    """
    found: list[Label | None] = [None] * len(figures)
    gaps = _gaps(figures, labels)
    if len(figures) > 1 and not any(gaps[1:-1]):
        row = next((gap for gap in (gaps[-1], gaps[0]) if len(gap) == len(figures)), None)
        if row is not None and len(labels) == len(figures):
            return [label for _, _, label in row]
    for number, gap in enumerate(gaps):
        before, behind = number - 1, number
        for start, end, label in gap:
            near = number > 0 and (loose or not parted(finder, figures[before][1], start))
            next_to = number < len(figures) and (loose or not parted(finder, end, figures[behind][0]))
            if near and (found[before] is None or not next_to):
                found[before] = found[before] or label
            elif next_to:
                found[behind] = label  # of several before a figure the nearest counts
    return found


def _gaps(
    figures: Sequence[tuple[int, int]], labels: Sequence[tuple[int, int, Label]]
) -> list[list[tuple[int, int, Label]]]:
    """The labels before the first figure, between each two, and behind the last."""
    gaps: list[list[tuple[int, int, Label]]] = [[] for _ in range(len(figures) + 1)]
    for label in labels:
        gaps[sum(start <= label[0] for start, _ in figures)].append(label)
    return gaps


def parted(finder: Finder, first: int, last: int) -> bool:
    """Whether a mark or an "and" stands between two words."""
    return any(word.form in _PARTS for word in finder.line.words[first:last])


def of_the_core(read: Sequence[tuple[str, float | None]]) -> list[bool]:
    """Which of the readings of one time decide how hot a heap is: those of the core, else the best there are.

    The core is read for a heat log: a long stem into the middle (`probe-depth` of rules/answers.toml, `heat` of
    rules/guides.toml with its sources). What is told without a place is of the core, of several depths the deepest;
    without any of the core, top and bottom decide. An edge decides nothing.

    Args:
        read: the place ("middle", "edge", "top", "bottom" or empty) and the depth of each, in any one unit.
    """
    rank = {"middle": 2, "": 2, "top": 1, "bottom": 1, "edge": 0}
    most = max((rank[place] for place, _ in read), default=0)
    depths = [depth for place, depth in read if rank[place] == most and depth is not None]
    return [
        most > 0 and rank[place] == most and (place == "middle" or depth is None or depth >= max(depths))
        for place, depth in read
    ]

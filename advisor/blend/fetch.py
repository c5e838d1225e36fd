"""The shopping list: the fewest and smallest things to fetch with which every window is met."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from advisor.blend.offers import Offer, Task, Windows, task_of, usable
from advisor.blend.program import Program, Row, chosen, tie_weights, under_limits

Counts = tuple[tuple[str, float], ...]


def shortest(
    on_hand: Sequence[Offer],
    fetchable: Sequence[Offer],
    windows: Windows,
    group_caps: Mapping[str, float],
    used: Counts,
    *,
    water: bool,
    use_up: bool = False,
) -> Counts:
    """What to fetch so that every window is met, or all except the size; by id in order, empty if nothing would help.

    As few kinds as can be; then so that no less goes in of what does not keep, and that the heap is no smaller, than
    without it; then as few litres as can be; then what is preferred.

    Args:
        on_hand: what there is, in order of id.
        fetchable: what could be fetched, in order of id.
        windows: what all of it should come to.
        group_caps: the largest shares of groups.
        used: the measures that the recipe without fetching uses. With nothing used, the size aimed at is sought.
        water: whether water may be added.
        use_up: the windows are met already; find the one kind with which most of what does not keep goes in.
    """
    here, there = usable(on_hand, group_caps), usable(fetchable, group_caps)
    if not there or not (used or windows.volume_l):
        return ()
    task = task_of([*here, *there], windows, group_caps, water=water)
    fetched = range(len(here), len(task.offers))
    found = None
    for ranks in (task.ranks, task.ranks[:-1]):  # if no list makes it right and large, then one that makes it right
        program = under_limits(replace(task, ranks=ranks))
        found = found or program.grant(_wishes(program, task, fetched, dict(used), use_up=use_up))
    if found is None:
        return ()
    counts = ((task.offers[number], found.counts[number]) for number in fetched)
    return tuple((offer.id, count * offer.step) for offer, count in counts if count)


def together(on_hand: Sequence[Offer], fetchable: Sequence[Offer], fetched: Counts) -> list[Offer]:
    """What there is once the list has been fetched, in order of id."""
    stock = {offer.id: offer for offer in on_hand}
    kinds = {offer.id: offer for offer in fetchable}
    for name, measures in fetched:
        old = stock.get(name)
        stock[name] = (
            replace(kinds[name], at_most=measures) if old is None else replace(old, at_most=old.at_most + measures)
        )
    return sorted(stock.values(), key=lambda offer: offer.id)


def _wishes(program: Program, task: Task, fetched: range, used: Mapping[str, float], *, use_up: bool) -> Iterator[Row]:
    litres = task.mix.volume.steps
    spoils = [not offer.storable and number not in fetched for number, offer in enumerate(task.offers)]
    before = [used.get(offer.id, 0.0) * offer.unit_l for offer in task.offers[: fetched.start]]
    size = task.windows.volume_l
    kinds = {_kind(program, number, task.offers[number].steps): 1.0 for number in fetched}
    if use_up:
        program.keep(kinds, 1.0)
        yield chosen(litres, [-1.0 * each for each in spoils])
    else:
        yield kinds
        spoilt = math.fsum(each for each, counts in zip(before, spoils, strict=False) if counts)
        yield program.up_to(chosen(litres, spoils), spoilt)
        whole = math.fsum(before) if used or size is None else size.aim
        yield program.up_to(chosen(litres, [1.0] * len(litres)), whole)
    yield chosen(litres, [float(number in fetched) for number in range(len(litres))])
    yield chosen(litres, [-offer.preference * (number in fetched) for number, offer in enumerate(task.offers)])
    yield chosen(litres, [tie * (number in fetched) for number, tie in enumerate(tie_weights(len(litres)))])


def _kind(program: Program, number: int, most: int) -> int:
    """A column that is 1 if any of an offer is fetched."""
    kind = program.column(0.0, 1.0, whole=True)
    program.keep({number: 1.0, kind: -float(most)}, 0.0)
    return kind

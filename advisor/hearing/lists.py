"""Amounts of whole lists, and amounts that are told twice.

"3 barrows of manure and straw" and "straw, leaves and grass, about a cubic metre" tell one amount of several
materials; "a ton of leaves, like 40 bags" tells one amount of one material in two ways.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from advisor.hearing.english import listed
from advisor.hearing.stuff import joins
from advisor.household.counts import Count

if TYPE_CHECKING:
    from advisor.hearing.stock import Item, Stock
    from advisor.hearing.stuff import Name

_AND = frozenset({"and", "&", "+", "plus"})
_EACH = frozenset({"each", "apiece"})
#: Between an amount and the same amount told once more: "a ton of leaves, like 40 bags", "that's about 300 L".
_RESTATING = listed(
    "like that thats that's is its it's it are which so or maybe perhaps about around roughly probably say call be"
    " would i think guess reckon comes come to works out at makes , ( : - – — = 's"
)
#: Classes of words that may be said of the parts of a list: "straw, fresh chook poo and lawn clippings".
_SAID_BESIDE = ("stock-small", "stock-idle", "stock-state", "stock-aside")
_MOST_BESIDE = 4
#: What one material of a list has of the amount, in even shares: low, typical, high. Our own estimate.
_SHARE = (0.5, 1.0, 1.5)
_TOTAL = listed("total altogether together told combined")
_TOOLS = frozenset({"with", "using", "in", "into"})


def share_of(count: Count, among: int) -> Count:
    """The part that one of so many materials has of an amount, as a range."""
    low, typical, high = (part / among for part in _SHARE)
    return replace(count.times((low, typical, high)), plain=False, article=False)


def totalled(stock: Stock, items: Sequence[Item]) -> list[Item]:
    """Items with the amount that follows a list given to all of the list.

    Args:
        items: amounts with their names, names alone, and amounts alone, in order.
    """
    found: list[Item] = []
    for item, behind in zip(items, (*items[1:], None), strict=False):
        group = _list_before(stock, found, item) if _stands_alone(stock, item, behind) else []
        if group:
            found[-len(group) :] = _given_to_all(stock, group, item)
        else:
            found.append(item)
    return found


def told_once(stock: Stock, items: Sequence[Item]) -> list[Item]:
    """Items without amounts that only tell again what was counted, and without vessels that only are tools."""
    found: list[Item] = []
    for item, behind in zip(items, (*items[1:], None), strict=False):
        alone = _stands_alone(stock, item, behind)
        if alone and found and _restates(stock, found[-1], item):
            found[-1] = _restated(stock, found[-1], item)
        elif not (alone and _is_tool(stock, found, item)):
            found.append(item)
    return found


def _stands_alone(stock: Stock, item: Item, behind: Item | None) -> bool:
    alone = item.name is None and item.counted is not None and not item.none
    return alone and not stock.is_shared(item, behind) and not stock.told_over(item)


def in_parts(stock: Stock, item: Item) -> bool:
    """Whether an item tells so many parts and no measure, nor has one from before: "10 of lawn, 1 of pears"."""
    if item.counted is None or item.name is None or item.measures or not item.counted.amount.bare:
        return False
    between = range(item.counted.start, item.name.first)
    if any(stock.finder.spoken.other_unit(at) is not None for at in between):
        return False  # "5 metres of straw" has a unit, though none of an amount
    return "of" in stock.stuff.forms(item.counted.start, item.name.first)


def shared_between(stock: Stock, items: Sequence[Item]) -> list[Item]:
    """Items with "3 barrows of manure and straw a day" given to both of them, in shares."""
    found: list[Item] = []
    at = 0
    while at < len(items):
        last = at
        if _counts(items[at]):
            while last + 1 < len(items) and _is_joined(stock, items[last], items[last + 1]):
                last += 1
        group = items[at : last + 1]
        found += _given_to_all(stock, group, items[at]) if len(group) > 1 else group
        at = last + 1
    return found


def _counts(item: Item) -> bool:
    return item.name is not None and item.counted is not None and not item.none and not item.sharers


def _is_joined(stock: Stock, one: Item, other: Item) -> bool:
    """Whether two names have only "and" between them, and the second has no amount or "some" of its own."""
    if other.name is None or other.counted is not None or other.name.start != other.name.first:
        return False
    between = stock.stuff.forms(one.end, other.start)
    return between in (("mixed", "with"), ("mixed", "in", "with")) or (len(between) == 1 and between[0] in _AND)


def _list_before(stock: Stock, items: Sequence[Item], total: Item) -> list[Item]:
    """The two or more names of a list that an amount behind it is the total of; none if it is no total."""
    group: list[Item] = []
    for item in reversed(items):
        measured = item.counted is not None and item.counted.amount.measured
        if item.name is None or measured or item.none or (group and not _in_list(stock, item, group[0])):
            break
        group.insert(0, item)
    if len(group) < 2 or not stock.leads_to(group[-1], total):
        return []
    last = stock.stuff.forms(group[-2].end, group[-1].start)
    return group if _AND & set(last) or _says_total(stock, total, group[-1].end) else []


def _in_list(stock: Stock, one: Item, other: Item) -> bool:
    between = stock.stuff.forms(one.end, other.start)
    if len(between) > _MOST_BESIDE or not any(joins((form,)) for form in between):
        return False
    return all(
        joins((form,)) or any(stock.finder.things(name, one.end + at) for name in _SAID_BESIDE)
        for at, form in enumerate(between)
    )


def _says_total(stock: Stock, total: Item, begins: int) -> bool:
    words = stock.stuff.forms(begins, min(total.end + 3, stock.stuff.sentence.end))
    return bool(_TOTAL & set(words)) or ("in", "all") in pairwise(words)


def _given_to_all(stock: Stock, group: Sequence[Item], total: Item) -> Iterator[Item]:
    """The items of a list with the amount of them all, each with its share; "2 barrows each" is no total."""
    counted = total.counted
    if counted is None:
        yield from group
        return
    end = max(group[-1].end, total.end)
    tailed = stock.stuff.with_tail(replace(counted, end=stock.stuff.past("stock-aside", end)))
    counted = replace(counted, rates=counted.rates or tailed.rates, packed=tailed.packed)
    each = _says_each(stock, end)
    for item in group:
        yield replace(item, counted=counted, measures=total.measures, sharers=0 if each else len(group))


def _restates(stock: Stock, told: Item, again: Item) -> bool:
    """Whether an amount alone tells once more how much there is of what was just counted."""
    if told.name is None or told.counted is None or told.none or told.sharers:
        return False
    if any(_names_other(stock, told.name, at) for at in range(again.start, again.end)):
        return False  # "30 sacks of leaves, 2 straw bales": a bale that says of what is none of leaves
    at, words = told.end, stock.finder.line.words
    while at < again.start:
        rate = stock.finder.spoken.rate(at)
        ends = [end for end in stock.finder.things("stock-aside", at) if end <= again.start]
        ends += [rate[1]] if rate is not None and rate[1] <= again.start else []
        ends += [at + 1] if words[at].form in _RESTATING else []
        if not ends:
            return False
        at = max(ends)
    return again.start > told.end


def _names_other(stock: Stock, name: Name, at: int) -> bool:
    """Whether a word of a measure names another material than a name does."""
    named = stock.finder.named_at(at)
    return named is not None and not set(named.ids) & set(name.named.ids)


def _restated(stock: Stock, told: Item, again: Item) -> Item:
    """The item with the amount that was told last; "10 bags, 40 L each" is ten times as much."""
    first, last = told.counted, again.counted
    if first is None or last is None:
        return told
    if _says_each(stock, again.end):
        count = last.amount.count
        times = first.amount.count.times((count.low, count.value, count.high))
        last = replace(last, amount=replace(last.amount, count=times))
    return replace(told, end=again.end, counted=replace(last, rates=last.rates or first.rates))


def _says_each(stock: Stock, at: int) -> bool:
    """Whether "each" stands at a word, and not "each day"."""
    words = stock.finder.line.words
    return at < stock.stuff.sentence.end and words[at].form in _EACH and stock.finder.spoken.rate(at) is None


def _is_tool(stock: Stock, before: Sequence[Item], item: Item) -> bool:
    """Whether a vessel is only what somebody works with: "tractor with a bucket" is no bucket of anything."""
    amount = item.counted.amount if item.counted is not None else None
    if amount is None or not amount.measures or not (amount.count.article or amount.count.value == 1):
        return False
    led = item.start > 0 and stock.finder.line.words[item.start - 1].form in _TOOLS
    return led or bool(stock.found) or any(one.name is not None and one.counted is not None for one in before)

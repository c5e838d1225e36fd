"""What a diary line tells was done, read off or seen, each with its place in the line; of which vessel comes later."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from advisor.diary.entries import EntryKind, MaterialTold, Told
from advisor.diary.items import KIND_OF, MADE, MOST_TOLD, TAKES_IN, Item, own_day
from advisor.diary.told_signs import NOT_SEEN, readings_told, signs_told, weather_told
from advisor.hearing.diary_line import DiaryLine
from advisor.hearing.shapes import Fact, HeardAmount
from advisor.hearing.vessels import VesselNamed
from advisor.knowledge.base import Knowledge

#: Deeds that stuff is named with: it went in, or came out.
_WITH_STUFF: Final = frozenset(
    {"begun", "went in", "fed", "watered", "drained", "harvested", "emptied", "sieved", "spread", "buried", "covered"}
)
#: Deeds of which it is told how much, whatever it is of.
_MEASURED: Final = frozenset({"watered", "drained", "harvested", "emptied", "sieved", "spread"})


def items_told(line: DiaryLine, knowledge: Knowledge, *, logging: bool) -> list[Item]:
    """Everything that a line tells, in order.

    Args:
        logging: whether it is written for the diary; else an amount alone tells what there is, and went nowhere.
    """
    return sorted(_items(line, knowledge, logging=logging), key=lambda one: one.start)


def _items(line: DiaryLine, knowledge: Knowledge, *, logging: bool) -> Iterator[Item]:
    deeds = [*_deeds(line)]
    stuff = _stuff(line, deeds, logging=logging)
    for item in deeds:
        item.materials += [told for told, _, at in stuff if at is item]
        if item.kind in TAKES_IN and not item.materials:
            item.materials += _spoken_of(item, line)
        if item.kind in _MEASURED and not item.materials:
            item.materials += [
                MaterialTold(count=count, measure=measure)
                for count, measure, start, _ in line.measures
                if (line.part(start) == line.part(item.start) or measure == "watering-can") and count <= MOST_TOLD
            ][:1]
    deeds = [one for one in deeds if one.kind != "went in" or one.materials]  # of what went in, it is told what
    loose = [(told, start) for told, start, at in stuff if at is None]
    yield from deeds
    made = [(told, start) for told, start in loose if told.material in MADE]
    if made:  # what a heap makes does not go into it: it was taken out, or went on a bed
        bed = next((name for name, start, _ in line.beds if start > made[0][1]), "")
        kind: EntryKind = "spread" if bed else "harvested"
        yield Item(kind, made[0][1], made[0][1], Told(bed=bed), [told for told, _ in made])
    loose = [one for one in loose if one not in made]
    parts = {line.part(one.start) for one in line.vessels}
    for group in _by_part(line, loose) if len(parts) > 1 else [loose]:
        if group:
            yield Item("went in", group[0][1], group[0][1], Told(), [told for told, _ in group])
    yield from readings_told(line)
    yield from weather_told(line)
    yield from signs_told(line, knowledge)


def _by_part(line: DiaryLine, stuff: Sequence[tuple[MaterialTold, int]]) -> list[list[tuple[MaterialTold, int]]]:
    """Stuff by the parts of the line that it stands in."""
    parts = dict.fromkeys(line.part(start) for _, start in stuff)
    return [[one for one in stuff if line.part(one[1]) == part] for part in parts]


def _deeds(line: DiaryLine) -> Iterator[Item]:
    facts = [fact for fact in line.heard.facts if fact.name in KIND_OF]
    told = [one for one in facts if one.stance == "told" or (one.stance == "past" and own_day(line, one.start))]
    for fact in told:
        # a longer way of saying holds a shorter one: "moved it into the next bay" is also heard as a turning
        if _background(line, fact):
            continue
        if not any(other is not fact and other.start <= fact.start and fact.end < other.end for other in told):
            bed = _bed(line, fact)
            kind: EntryKind = "spread" if bed else KIND_OF[fact.name]
            yield Item(kind, fact.start, fact.end, Told(bed=bed), [])
    into = next((one for one in line.vessels if one.into), None)
    if (
        into is not None
        and not _stuff_goes(line, into)
        and not any(KIND_OF[fact.name] in ("moved", "buried", "spread") for fact in told)
    ):
        source = any(not one.into and one.start < into.start for one in line.vessels)
        if source:
            yield Item("moved", line.vessels[0].start, into.end, Told(), [])


def _stuff_goes(line: DiaryLine, into: VesselNamed) -> bool:
    """Whether it is stuff that goes into a vessel, and no batch: "a sack of leaves into bay 1"."""
    part = line.part(into.start)
    named = any(line.part(one.start) == part and one.start < into.start and not one.into for one in line.vessels)
    stuff = [(one.ids, one.start, one.end) for one in line.heard.amounts]
    stuff += [(one.ids, one.start, one.end) for one in line.heard.materials]
    return not named and any(ids and line.part(start) == part and end <= into.start for ids, start, end in stuff)


def _background(line: DiaryLine, fact: Fact) -> bool:
    """Whether a deed only tells when something else was: "since I turned it", "over the buried bucket"."""
    before = line.heard.text[: fact.start].casefold().split()
    pronoun = before[-1:] and before[-1] in ("i", "we", "he", "she", "they")
    lead = before[-2:-1] if pronoun else before[-1:]
    if set(lead) & {"since", "after", "before", "until"}:
        return not own_day(line, fact.start)
    noun = any(one.start <= fact.start < one.end for one in line.vessels)  # "the heap was built"
    return bool(before) and before[-1] in ("the", "my", "our") and not noun


def _bed(line: DiaryLine, fact: Fact) -> str:
    """The bed that stuff was spread on, or barrowed to, if the deed tells that."""
    kind, part = KIND_OF[fact.name], line.part(fact.start)
    named = [name for name, start, _ in line.beds if line.part(start) == part and start > fact.start]
    if kind == "moved" and not any(one.into for one in line.vessels):
        named = [name for name in named if name.rpartition(" ")[2] in _BEDS]  # "moved to the shade" is no spreading
        return named[0] if named else ""
    return named[0] if named and kind == "spread" else ""


#: What a bed is called; what else lies behind "to the" is a place.
_BEDS: Final = frozenset({"bed", "beds", "border", "borders", "patch", "plot", "allotment"})


def _stuff(line: DiaryLine, deeds: Sequence[Item], *, logging: bool) -> list[tuple[MaterialTold, int, Item | None]]:
    """Stuff with the deed that it is told with; of what is told with none, only in a log that it went in."""
    found: list[tuple[MaterialTold, int, Item | None]] = []
    heard = line.heard
    signs = [one for one in heard.told if one.name.startswith("sign.")]
    seen = {line.part(one.start) for one in signs if one.name.partition(".")[2] not in NOT_SEEN}
    counted = [(one.start, one.end) for one in line.vessels]
    takers = [one for one in deeds if one.kind in _WITH_STUFF]
    for amount in heard.amounts:
        if amount.stance != "told" or amount.kind == "none" or amount.trouble:
            continue
        if amount.quantity is not None and amount.quantity.per != "once":
            continue  # "bucket a fortnight ago" is no rate of a diary
        if not amount.ids and any(one.start < amount.end and amount.start < one.end for one in line.vessels):
            continue
        deed = _deed_of(line, amount.start, amount.end, takers)
        goes = any(one.into and line.part(one.start) == line.part(amount.start) for one in line.vessels)
        taken_in = goes if deed is None else deed.kind in TAKES_IN and not _within(amount, deed)
        if not amount.ids and taken_in:
            amount = _of_the_same(amount, line)
        free = goes or (logging and not deeds)
        if deed is None and (not (amount.ids and free) or line.part(amount.start) in seen):
            continue  # "a bit sour" is no amount of something sour
        if not amount.ids and (deed is None or amount.quantity is None or _within(amount, deed)):
            continue
        found.append((_material(amount, line), amount.start, deed))
        counted.append((amount.start, amount.end))
    for one in heard.materials:
        if line.part(one.start) in seen and not any(line.part(each.start) == line.part(one.start) for each in deeds):
            continue  # "the bedding is damp": it did not go in
        if one.stance != "told" or any(start < one.end and one.start < end for start, end in counted):
            continue
        deed = _deed_of(line, one.start, one.end, [each for each in takers if each.kind in TAKES_IN])
        if deed is not None and one.ids:
            found.append((MaterialTold(material=one.ids[0], name=one.said), one.start, deed))
    return found


def _of_the_same(amount: HeardAmount, line: DiaryLine) -> HeardAmount:
    """An amount of the only stuff that was told before it in that measure: "put 6 sacks of leaves by, tipped 3 in"."""
    if amount.quantity is None:
        return amount
    before = [one for one in line.heard.amounts if one.ids and one.stance == "told" and one.end <= amount.start]
    alike = {
        one.name: one
        for one in before
        if one.quantity is not None
        and one.quantity.measure == amount.quantity.measure
        and not MADE.intersection(one.ids)
    }
    if len(alike) != 1:
        return amount
    (named,) = alike.values()
    return replace(amount, ids=named.ids, name=named.name)


def _spoken_of(deed: Item, line: DiaryLine) -> list[MaterialTold]:
    """What "them" or "it" behind a deed means: the stuff that was named last before it."""
    behind = line.heard.text[deed.end :].split()[:1]
    within = line.heard.text[deed.start : deed.end].split()[-1:]
    if not _PRONOUNS.intersection(word.casefold().strip(",.") for word in (*behind, *within)):
        return []
    seen = {line.part(one.start) for one in line.heard.told if one.name.startswith("sign.")}
    before = [one for one in line.heard.materials if one.end <= deed.start and one.stance == "told" and one.ids]
    before = [one for one in before if line.part(one.start) not in seen]
    return [MaterialTold(material=one.ids[0], name=one.said) for one in before[-1:]]


_PRONOUNS: Final = frozenset({"them", "it", "these", "those"})


def _within(amount: HeardAmount, deed: Item) -> bool:
    """Whether an amount without a name is a part of the words of the deed: the bucket of "closed the bucket"."""
    return (
        deed.start <= amount.start
        and amount.end <= deed.end
        and amount.quantity is not None
        and not amount.said.endswith(" of")
        and (amount.quantity.count == 1 and not any(sign.isdigit() for sign in amount.said))
    )


def _deed_of(line: DiaryLine, start: int, end: int, deeds: Sequence[Item]) -> Item | None:
    """The deed that stuff is told with: one of its part of the line, else the last before it, or the next behind it."""
    part = line.part(start)
    near = [one for one in deeds if line.part(one.start) == part]
    if not near and any(one.into and line.part(one.start) == part for one in line.vessels):
        return None  # "6 sacks into the leaf cage" needs no verb
    deeds = near or deeds
    before = [one for one in deeds if one.start <= start]
    behind = [one for one in deeds if one.start >= end]
    return before[-1] if before else (behind[0] if behind else None)


_LEAF_MOULD: Final = ("leaf mould", "leaf mold", "leafmould", "leafmold")


def _material(amount: HeardAmount, line: DiaryLine) -> MaterialTold:
    """Stuff with its amount, if it was counted: "some leaves" and "straw bales" tell no number."""
    counted = any(start < amount.end and amount.start < end for _, _, start, end in line.measures)
    exact = amount.quantity is not None and amount.quantity.low == amount.quantity.high
    quantity = amount.quantity if counted or exact else None
    if quantity is not None and quantity.count > MOST_TOLD:
        quantity = None
    name = amount.name
    if not name and amount.said.endswith(" of"):  # of what no table holds: "500 g of worms"
        name = next(iter(line.heard.text[amount.end :].split()), "").strip(",.;")
    said = line.heard.text[amount.start :].casefold()
    made = next((one for one in _LEAF_MOULD if name and f"of {one}" in said[: len(amount.said) + len(one) + 1]), "")
    return MaterialTold(
        material="leaf-mould" if made else amount.ids[0] if amount.ids else "",
        name=made or name,
        count=quantity.count if quantity is not None else None,
        measure=quantity.measure if quantity is not None else "",
    )

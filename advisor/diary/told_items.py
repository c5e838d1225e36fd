"""What a diary line tells was done, read off or seen, each with its place in the line; of which vessel comes later."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from advisor.diagnosis.signs import gone
from advisor.diary.entries import EntryKind, MaterialTold, Place, Told
from advisor.hearing.diary_line import DiaryLine
from advisor.hearing.readings import Figure
from advisor.hearing.shapes import Fact, Heard, HeardAmount
from advisor.hearing.vessels import VesselNamed
from advisor.hearing.vocabulary import vocabulary_for
from advisor.household.days import MONTHS
from advisor.knowledge.base import Knowledge

#: Deeds of rules/words/deeds.toml, and the kind of entry that each is.
KIND_OF: Final[Mapping[str, EntryKind]] = {
    "deed.built": "begun",
    "deed.added": "went in",
    "deed.mixed-in": "went in",
    "deed.fed": "fed",
    "deed.turned": "turned",
    "deed.watered": "watered",
    "deed.covered": "covered",
    "deed.uncovered": "uncovered",
    "deed.drained": "drained",
    "deed.closed": "closed",
    "deed.checked": "checked",
    "deed.emptied": "emptied",
    "deed.harvested": "harvested",
    "deed.sieved": "sieved",
    "deed.moved": "moved",
    "deed.buried": "buried",
    "deed.spread": "spread",
    "deed.planted": "planted",
    "deed.chopped": "chopped",
    "deed.limed": "limed",
}
#: Deeds that stuff is named with: it went in, or came out.
_WITH_STUFF: Final = frozenset(
    {"begun", "went in", "fed", "watered", "drained", "harvested", "emptied", "sieved", "spread", "buried", "covered"}
)
#: Deeds of which it is told how much, whatever it is of.
_MEASURED: Final = frozenset({"watered", "drained", "harvested", "emptied", "sieved", "spread"})
_TAKES_IN: Final = frozenset({"begun", "went in", "fed"})
#: What heaps and worms make, by its ids in rules/materials/.
_MADE: Final = frozenset({"finished-compost", "worm-castings", "leaf-mould"})
#: Signs that tell of a deed told beside them, or are kept as figures, days and weather of their own.
_NOT_SEEN: Final = frozenset(
    {
        "degrees",
        "weather",
        "age",
        "method",
        "stage",
        "cover",
        "turned",
        "built",
        "access",
        "bran",
        "feeding",
        "holds",
        "packed",
    }
)
#: Read off the stuff even where it is too wet or too cold; every other bad sign is a trouble.
_READ_OFF: Final = frozenset({"moisture", "warmth", "moisture_pct"})


#: What can be kept of a figure at all, however sure a person is: °C or °F, metres, and amounts.
_CAN_BE: Final = (-100.0, 5000.0)
_LONGEST_M: Final = 10.0
MOST_TOLD: Final = 1_000_000.0


@dataclass(slots=True)
class Item:
    """Something told, with its first character in the line, before its vessel and day are known."""

    kind: EntryKind
    start: int
    end: int
    told: Told
    materials: list[MaterialTold]


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
        if item.kind in _TAKES_IN and not item.materials:
            item.materials += _spoken_of(item, line)
        if item.kind in _MEASURED and not item.materials:
            item.materials += [
                MaterialTold(count=count, measure=measure)
                for count, measure, start, _ in line.measures
                if line.part(start) == line.part(item.start) and count <= MOST_TOLD
            ][:1]
    deeds = [one for one in deeds if one.kind != "went in" or one.materials]  # of what went in, it is told what
    loose = [(told, start) for told, start, at in stuff if at is None]
    yield from deeds
    made = [(told, start) for told, start in loose if told.material in _MADE]
    if made:  # what a heap makes does not go into it: it was taken out, or went on a bed
        bed = next((name for name, start, _ in line.beds if start > made[0][1]), "")
        kind: EntryKind = "spread" if bed else "harvested"
        yield Item(kind, made[0][1], made[0][1], Told(bed=bed), [told for told, _ in made])
    loose = [one for one in loose if one not in made]
    parts = {line.part(one.start) for one in line.vessels}
    for group in _by_part(line, loose) if len(parts) > 1 else [loose]:
        if group:
            yield Item("went in", group[0][1], group[0][1], Told(), [told for told, _ in group])
    yield from _readings(line)
    yield from _outdoors(line)
    yield from _signs(line, knowledge)


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
            yield Item(KIND_OF[fact.name], fact.start, fact.end, Told(bed=_bed(line, fact)), [])
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
    stuff = [*line.heard.amounts, *line.heard.materials]
    return not named and any(one.ids and line.part(one.start) == part and one.end <= into.start for one in stuff)


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
    """The bed that stuff was spread on, if the deed is a spreading."""
    if KIND_OF[fact.name] != "spread":
        return ""
    part = line.part(fact.start)
    return next((name for name, start, _ in line.beds if line.part(start) == part and start > fact.start), "")


def _stuff(line: DiaryLine, deeds: Sequence[Item], *, logging: bool) -> list[tuple[MaterialTold, int, Item | None]]:
    """Stuff with the deed that it is told with; of what is told with none, only in a log that it went in."""
    found: list[tuple[MaterialTold, int, Item | None]] = []
    heard = line.heard
    signs = [one for one in heard.told if one.name.startswith("sign.")]
    seen = {line.part(one.start) for one in signs if one.name.partition(".")[2] not in _NOT_SEEN}
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
        deed = _deed_of(line, one.start, one.end, [each for each in takers if each.kind in _TAKES_IN])
        if deed is not None and one.ids:
            found.append((MaterialTold(material=one.ids[0], name=one.said), one.start, deed))
    return found


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
    return MaterialTold(
        material=amount.ids[0] if amount.ids else "",
        name=name,
        count=quantity.count if quantity is not None else None,
        measure=quantity.measure if quantity is not None else "",
    )


def _readings(line: DiaryLine) -> Iterator[Item]:
    """Temperatures with their depth and place, heights, and how full it is."""
    facts = [one for one in line.heard.facts if one.name == "sign.degrees" and one.stance in ("told", "past")]
    depths = [one for one in line.lengths if one.of == "depth"]
    used: set[int] = set()
    for fact in facts:
        figure = _figure_of(fact, line.figures)
        if any(one.start < fact.end and fact.start < one.end for one in line.days):
            continue  # "on the 14th"
        if figure is not None and of_weather(line, figure):
            continue
        part = line.part(fact.start)
        placed = any(line.part(start) == part for _, start, _ in line.places)
        if (
            figure is None
            or not _CAN_BE[0] <= figure.figure <= _CAN_BE[1]
            or (fact.stance == "past" and not own_day(line, fact.start) and not placed)
        ):
            continue
        near = [one for one in depths if line.part(one.start) == part]
        deep = min(near or (depths if len(facts) == 1 else []), key=lambda one: abs(one.start - fact.end), default=None)
        place = _place(line, fact.start)
        used.add(figure.start)
        told = Told(
            degrees=figure.figure,
            scale="F" if figure.fahrenheit else "C",
            depth_cm=round(deep.metres * 100, 1) if deep is not None and deep.metres <= _LONGEST_M else None,
            place=place,
        )
        yield Item("reading", fact.start, fact.end, told, [])
    denied = [one for one in line.heard.facts if one.name == "sign.degrees" and one.stance not in ("told", "past")]
    for figure in line.figures:
        other = any(one.start < figure.end and figure.start < one.end for one in denied)
        if (
            figure.sure
            and _CAN_BE[0] <= figure.figure <= _CAN_BE[1]
            and figure.start not in used
            and not other
            and not of_weather(line, figure)
        ):
            place = _place(line, figure.start)
            told = Told(degrees=figure.figure, scale="F" if figure.fahrenheit else "C", place=place)
            yield Item("reading", figure.start, figure.end, told, [])
    for one in line.lengths:
        if one.of == "height" and one.metres <= _LONGEST_M and not _in_amount(line.heard, one.start):
            yield Item("reading", one.start, one.end, Told(height_cm=round(one.metres * 100, 1)), [])
    for share, start, end in line.filled:
        if not _in_amount(line.heard, start):
            yield Item("reading", start, end, Told(filled=share), [])


def _place(line: DiaryLine, at: int) -> Place:
    """Where in the vessel the part of the line around a character tells of."""
    found: tuple[Place, ...] = ("middle", "edge", "top", "bottom")
    named = [name for name, start, _ in line.places if line.part(start) == line.part(at)]
    return next((one for one in found if one in named[:1]), "")


def _in_amount(heard: Heard, at: int) -> bool:
    return any(one.start <= at < one.end and one.ids for one in heard.amounts)


#: Air from which a spell is called hot, and at which it freezes, in °C: common practice, no source.
_HOT_AIR, _FREEZING_AIR = 30.0, 0.0


def _outdoors(line: DiaryLine) -> Iterator[Item]:
    """A hot spell or a frost told as a figure of the air: "42 degrees again tomorrow"."""
    for figure in line.figures:
        if not _is_outdoors(line, figure):
            continue
        value = "hot" if figure.celsius >= _HOT_AIR else "freezing" if figure.celsius <= _FREEZING_AIR else ""
        if value:
            yield Item("weather", figure.start, figure.end, Told(signs={"weather": (value,)}), [])


def _is_outdoors(line: DiaryLine, figure: Figure) -> bool:
    """Whether a figure stands beside words of the weather, and no vessel is named with it."""
    part = line.part(figure.start)
    vessel = any(line.part(one.start) == part and one.start < figure.start for one in line.vessels)
    return not vessel and any(line.part(start) == part for start, _ in line.outdoors)


def of_weather(line: DiaryLine, figure: Figure) -> bool:
    """Whether a temperature is told of the weather."""
    return _is_outdoors(line, figure) or any(
        one.name in ("sign.weather", "place.climate") and line.part(one.start) == line.part(figure.start)
        for one in line.heard.facts
    )


def _figure_of(fact: Fact, figures: Sequence[Figure]) -> Figure | None:
    """The figure behind a temperature that was heard."""
    return next((one for one in figures if one.start < fact.end and fact.start < one.end), None)


def _signs(line: DiaryLine, knowledge: Knowledge) -> Iterator[Item]:
    """What was seen, felt and smelt: read off, a trouble, the weather, or a trouble that is gone."""
    heard = line.heard
    concepts = vocabulary_for(knowledge).concepts
    declared = knowledge.kinds["sign"].attributes
    done = [(one.start, one.end) for one in heard.told if one.name in KIND_OF]
    done += [(one.start, one.end) for one in heard.facts if one.name == "sign.degrees"]
    drained = any(one.name == "deed.drained" for one in heard.told)
    measured = any(one.name == "sign.degrees" for one in heard.facts) or any(one.sure for one in line.figures)
    for fact in heard.told:
        kind, _, name = fact.name.partition(".")
        if name == "steam":
            yield Item("reading", fact.start, fact.end, Told(signs={"looks": ("steam",)}), [])
        if kind != "sign" or any(start < fact.end and fact.start < end for start, end in done):
            continue  # what a deed or a figure says itself
        if name == "progress" and any(one.of == "height" for one in line.lengths):
            continue  # how far it sank was told
        if name not in declared or fact.value not in declared[name].words or (name == "liquid" and drained):
            continue
        told = Told(signs={name: (fact.value,)})
        if name == "moisture" and any(
            one.name == "sign.weather" and one.start < fact.end and fact.start < one.end for one in heard.told
        ):
            continue  # "pouring for two weeks" is the rain
        if name == "weather":
            if line.heard.text[fact.start : fact.end].capitalize() not in MONTHS and not any(
                one.start <= fact.start < one.end for one in line.days
            ):
                yield Item("weather", fact.start, fact.end, told, [])
            continue
        if name in ("heat_before", "warmth") and measured and _alone(line, fact):
            continue  # the reading tells it
        if name in ("heat_before", "warmth") and any(_is_outdoors(line, one) for one in line.figures):
            continue  # "hot again, 39 in the shade"
        if name in _NOT_SEEN or (name in _AS_IT_WAS and _as_before(line, fact)):
            continue
        concept = concepts.get(fact.concept)
        bad = concept is not None and concept.bad and (fact.name, fact.value) in concept.facts and name not in _READ_OFF
        yield Item("trouble" if bad else "reading", fact.start, fact.end, told, [])
    away = [(name, value) for name, value in gone(heard) if name not in _NOT_SEEN | _READ_OFF and name != "degrees"]
    for fact in heard.facts:
        kind, _, name = fact.name.partition(".")
        concept = concepts.get(fact.concept)
        if kind == "sign" and (name, fact.value) in away and concept is not None and concept.bad:
            yield Item("cure", fact.start, fact.end, Told(signs={name: (fact.value,)}), [])


#: What "no change" says in a talk about a heap that stands still; in a diary it compares with the last entry.
_AS_IT_WAS: Final = frozenset({"progress", "looks"})


def _alone(line: DiaryLine, fact: Fact) -> bool:
    """Whether nothing but the vessel of the line can be meant: it names no other in the part of a fact."""
    part = line.part(fact.start)
    first = line.vessels[0] if line.vessels else None
    return not any(one is not first and line.part(one.start) == part for one in line.vessels)


def _as_before(line: DiaryLine, fact: Fact) -> bool:
    return any(start < fact.end and fact.start < end for start, end in line.as_before)


def own_day(line: DiaryLine, at: int) -> bool:
    """Whether the part of the line around a character tells a day of its own."""
    return any(line.part(one.start) == line.part(at) for one in line.days)

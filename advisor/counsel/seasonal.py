"""What comes in through a year, as the year's program takes it: streams by the week, in whole measures."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import accumulate

from advisor.blend.spread import typical
from advisor.blend.year import Stream
from advisor.counsel.ingredients import BODY_ROLES
from advisor.counsel.measures import share_cap
from advisor.counsel.seasons import season_of
from advisor.counsel.settle import is_barred
from advisor.counsel.stock import Lot, lots, measure_figure
from advisor.household.shapes import Arrival, Household
from advisor.inference.engine import Consultation
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Material
from advisor.records import dataclass

WEEKS = 52
_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_KEEPS_LONG = ("months", "years")
#: What leaving out a litre weighs: grass can lie where it was mown; for scraps and litter another way has to be found,
#: and they bring rats and flies meanwhile. Our own estimate.
_NO_OTHER_WAY = 3.0
#: Measures between these sizes, in litres, are counted in; anything else is turned into sacks or buckets.
_SMALLEST_L, _LARGEST_L = 1.0, 130.0


@dataclass(frozen=True, slots=True)
class Flow:
    """A stream with its material and the name of its measure."""

    stream: Stream
    material: Material
    measure: str
    measure_name: str
    fetched_only: bool = False


def calendar(begins: int) -> tuple[int, ...]:
    """For each of 52 weeks the number of its month, from 0, in a year that begins with the first of a month, 1 to 12.

    A week belongs to the month in which its middle lies. Source: definition (365 days).

    >>> months = calendar(1)
    >>> months[0], months[4], months[51], len(set(months))
    (0, 1, 11, 12)
    """
    lengths = [_DAYS[(begins - 1 + number) % 12] for number in range(12)]
    ends = list(accumulate(lengths))
    return tuple(next(number for number, end in enumerate(ends) if 7 * week + 3.5 < end) for week in range(WEEKS))


def month_number(begins: int, index: int) -> int:
    """The month, 1 to 12, that is the one of that index in the year."""
    return (begins - 1 + index) % 12 + 1


def flows(household: Household, begins: int, talk: Consultation, knowledge: Knowledge, method: str) -> Iterator[Flow]:
    """Everything that comes in and may go into the method, one for each material, then what may be fetched."""
    month_of = calendar(begins)
    found: dict[str, list[tuple[Lot, Arrival | None]]] = {}
    for lot, arrival in _told(household, knowledge):
        if lot.material.role in BODY_ROLES and not is_barred(talk, lot.material_id, method):
            found.setdefault(lot.material_id, []).append((lot, arrival))
    for name, told in found.items():
        yield _flow(name, told, month_of, begins, household, talk, knowledge)
    for name, material in knowledge.materials.items():
        open_brown = material.role == "brown" and material.structure != "matting" and not material.seasons
        if material.fetch and open_brown and name not in found and not is_barred(talk, name, method):
            size = measure_figure("sack", household, knowledge).typical
            most = round(knowledge.figures["fetched-sacks-a-month"].typical)
            stream = Stream(name, typical(material), (0.0,) * WEEKS, size, keeps=True, fetch_most=most)
            yield Flow(stream, material, "sack", knowledge.measures["sack"].name, fetched_only=True)


def all_told(household: Household) -> Household:
    """The household with all that comes in through its year among its holdings, for the rules to see."""
    year = household.year
    if year is None:
        return household
    return replace(household, holdings=(*household.holdings, *(one.holding for one in year.arrivals)))


def _told(household: Household, knowledge: Knowledge) -> Iterator[tuple[Lot, Arrival | None]]:
    for lot in lots(household, knowledge):
        yield lot, None
    for arrival in household.year.arrivals if household.year is not None else ():
        for lot in lots(replace(household, holdings=(arrival.holding,)), knowledge):
            yield lot, arrival


def _flow(
    name: str,
    told: Sequence[tuple[Lot, Arrival | None]],
    month_of: Sequence[int],
    begins: int,
    household: Household,
    talk: Consultation,
    knowledge: Knowledge,
) -> Flow:
    material = told[0][0].material
    keeps = _may_wait(material)
    comes = [0.0] * WEEKS
    there = 0.0
    for lot, arrival in told:
        weeks = [week for week in range(WEEKS) if _comes(lot, arrival, month_number(begins, month_of[week]))]
        if lot.weekly:
            for week in weeks:
                comes[week] += lot.litres.typical
        elif arrival is None and keeps:
            there += lot.litres.typical
        elif weeks:
            comes[_first_of(weeks)] += lot.litres.typical
    measure, size = _measure([lot for lot, _ in told], household, knowledge, keeps)
    stream = Stream(
        id=name,
        composition=typical(material),
        comes_l=tuple(comes),
        unit_l=size,
        keeps=keeps,
        there_l=there,
        share_cap=share_cap(talk, name),
        spare=_NO_OTHER_WAY if {"kitchen", "farm-manure"} & set(material.traits) else 1.0,
    )
    return Flow(stream, material, measure, knowledge.measures[measure].name)


def _may_wait(material: Material) -> bool:
    """Whether it may be put by, or left: browns that keep, and what keeps for years. Litter has to go somewhere."""
    if "farm-manure" in material.traits:
        return False
    return material.keeps == "years" or (material.keeps in _KEEPS_LONG and material.role == "brown")


def _comes(lot: Lot, arrival: Arrival | None, month: int) -> bool:
    """Whether it comes in a month. What the season alone decides comes only in its seasons."""
    if arrival is not None and not arrival.all_year:
        return arrival.in_month(month)
    return not lot.weekly or not lot.material.seasons or season_of(month) in lot.material.seasons


def _first_of(weeks: Sequence[int]) -> int:
    """The first week of a span, which may go round the turn of the year."""
    starts = [week for week in weeks if week - 1 not in weeks and (week > 0 or WEEKS - 1 not in weeks)]
    return starts[0] if starts else weeks[0]


def _measure(told: Sequence[Lot], household: Household, knowledge: Knowledge, keeps: bool) -> tuple[str, float]:
    """The measure it was told in, if there was one and it is of a sensible size."""
    said: Mapping[str, None] = dict.fromkeys(lot.portion.measure for lot in told)
    if len(said) == 1 and (measure := next(iter(said))) not in ("L", "kg"):
        size = told[0].litres.typical / told[0].portion.count if told[0].portion.count else math.nan
        if _SMALLEST_L <= size <= _LARGEST_L:
            return measure, size
    measure = "sack" if keeps else "bucket"
    return measure, measure_figure(measure, household, knowledge).typical


#: What to do with what is left out, by the first trait that it has.
_OUTLETS: Mapping[str, str] = {
    "mats": "Leave it where it was mown, which feeds the lawn; or dry it for two days in the sun: then it keeps, and "
    "may be put by or spread as a mulch two fingers deep.",
    "farm-manure": "Heap it by itself under a cover with all the straw or leaves there are, or give it away.",
    "kitchen": "A trench, a worm bin or a fermented bucket takes it, or the local collection.",
}


def outlet(flow: Flow) -> str:
    """What to do with what is left out."""
    for trait, said in _OUTLETS.items():
        if trait in flow.material.traits:
            return said
    return "Dry it in the sun and spread it as a mulch, or give it to the collection."

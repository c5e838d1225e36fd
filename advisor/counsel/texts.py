"""The figures that the words of notices leave room for, ready as texts."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.blend.shapes import Range
from advisor.counsel.stock import Lot
from advisor.counsel.wording import counted, joined
from advisor.heap.bucket import bucket, finish, salt_way
from advisor.heap.geometry import HeapBody
from advisor.heap.ranges import figure, scaled, summed
from advisor.heap.trench import trench
from advisor.heap.worms import home_bin, kg_a_week_for
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.units import Units, area_text, length_text, mass_text, volume_text

#: A bin that takes this share of the scraps takes them all, as near as anyone measures.
_NEARLY_ALL = 0.95


def body_texts(body: HeapBody | None, knowledge: Knowledge, units: Units) -> dict[str, str]:
    """{height}, {length}, {width} of the heap, {room_for} in the container to get, and {heats_from}."""
    if body is None:
        return {
            "room_for": "what there is",
            "height": "chest",
            "length": "a metre or more",
            "width": "a metre or more",
            "heats_from": "a cubic metre",
        }
    filled = figure(knowledge.figures, "tumbler-fill-share-pct").typical / 100 if body.shape == "drum" else 1.0
    return {
        "room_for": volume_text(body.litres / filled, units),
        "height": length_text(body.height_m, units),
        "length": length_text(body.length_m, units),
        "width": length_text(body.width_m, units),
        "heats_from": volume_text(body.needed_litres, units),
    }


def water_texts(water_litres: float, knowledge: Knowledge, units: Units) -> dict[str, str]:
    """{water} to add, and {cans} of it."""
    can = figure(knowledge.figures, "watering-can-litres").typical
    cans = max(1, round(water_litres / can))
    few = "a can or less" if water_litres < can * 0.75 else counted(cans, "watering can")
    return {"water": volume_text(water_litres, units), "cans": few}


def load_texts(per_load: Sequence[str]) -> dict[str, str]:
    """{per_load}: what goes in with each load."""
    return {"per_load": joined(list(per_load)) if per_load else "each load with about twice its volume of browns"}


def vessel_texts(scraps: Sequence[Lot], household: Household, knowledge: Knowledge, units: Units) -> dict[str, str]:
    """What the bucket, the worm bin and the trench need for the scraps that come in each week.

    Scraps told once, and not by the week, are taken as one week's. With none told, a household of two is assumed, and
    the words say so.
    """
    litres, kg = weekly_scraps(scraps, knowledge)
    filled = bucket(litres, kg, knowledge.figures, bucket_litres(household))
    done = finish(filled.litres, knowledge.figures)
    salt = salt_way(filled, kg, knowledge.figures)
    home = home_bin(kg, knowledge.figures)
    worms = home.bin
    eaten = kg_a_week_for(worms.worms_kg.typical, knowledge.figures)
    dug = trench(litres, knowledge.figures)
    guess = "" if scraps else " (taking two people's scraps, since none were given)"
    return {
        "buckets": f"{counted(filled.buckets, 'bucket')} of about {volume_text(filled.litres, units)}{guess}",
        "bran": _between(filled.bran_g_a_bucket, 1e-3, units),
        "salt": _between(salt.salt_g_a_bucket, 1e-3, units),
        "salt_ground": area_text(salt.ground_m2_a_bucket.typical, units),
        "bucket_fill": f"At this rate a bucket fills in about {days_text(filled.fill_days)}. ",
        "soil": volume_text(done.soil_litres.typical, units),
        "bucket_trench": length_text(done.trench_m.typical, units),
        "worms": mass_text(worms.worms_kg.typical, units) + guess,
        "worm_area": area_text(worms.area_m2.typical, units),
        "worm_load": f"So many worms take about {mass_text(eaten.typical, units)} a week once they have settled."
        + (
            f" A home can hold no larger bin; the other {100 * (1 - home.share):.0f} % of the scraps need another way."
            if home.share < _NEARLY_ALL
            else ""
        ),
        "bedding": volume_text(worms.bedding_litres.typical, units),
        "trench_length": length_text(dug.metres_a_week.typical, units),
    }


def fill_days(scraps: Sequence[Lot], household: Household, knowledge: Knowledge) -> int:
    """Days in which a bucket fills with the scraps that come in."""
    litres, kg = weekly_scraps(scraps, knowledge)
    return round(bucket(litres, kg, knowledge.figures, bucket_litres(household)).fill_days.typical)


def bucket_litres(household: Household) -> float | None:
    """What the bucket for fermenting holds, if it was said."""
    holds = household.answers.get("place.holds", ())
    if holds and "tight-bucket" in household.answers.get("place.container", ()):
        return float(holds[0])
    own = household.measures.get("bucket")
    return own.litres if own else None


def weekly_scraps(scraps: Sequence[Lot], knowledge: Knowledge) -> tuple[Range, Range]:
    """Litres and kg of the scraps of a week, as `vessel_texts` takes them."""
    flows = [lot for lot in scraps if lot.weekly] or list(scraps)
    if not flows:
        return scraps_of(knowledge.figures["household-people"].typical, knowledge)
    return summed(*(lot.litres for lot in flows)), summed(*(lot.kilograms for lot in flows))


def scraps_of(people: float, knowledge: Knowledge) -> tuple[Range, Range]:
    """Litres and kg of kitchen scraps a week of so many people."""
    litres = figure(knowledge.figures, "kitchen-scraps-litres-per-person-week")
    kg = figure(knowledge.figures, "kitchen-scraps-kg-per-person-week")
    return scaled(litres, people), scaled(kg, people)


def _between(spread: Range, factor: float, units: Units) -> str:
    low, high = mass_text(spread.low * factor, units), mass_text(spread.high * factor, units)
    return f"{mass_text(spread.typical * factor, units)} ({low} to {high})"


def days_text(spread: Range) -> str:
    """A time in days, or in weeks from three of them on."""
    days = spread.typical
    return f"{round(days)} days" if days < 21 else f"{round(days / 7)} weeks"

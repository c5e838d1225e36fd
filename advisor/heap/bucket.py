"""The fermented bucket: filling, starter, sealing, finishing in soil; and salt in place of the starter."""

from __future__ import annotations

import math

from advisor.blend.shapes import Range
from advisor.heap.ranges import Figures, Spread, alike, exactly, figure, over, plain, scaled, times
from advisor.heap.trench import trench_metres
from advisor.records import dataclass

DAYS_PER_WEEK = 7
DAYS_PER_YEAR = 365.25


@dataclass(frozen=True, slots=True)
class Bucket:
    """The filling of buckets, one after another. Masses are of wet scraps and of dry bran."""

    litres: float
    buckets: int  # so that each can stand sealed while the others fill
    fill_days: Range
    kg: Range  # of scraps in a full bucket
    sealed_days: Range
    drain_every_days: Range
    layer_cm: Range
    bran_g_per_kg: Range
    bran_g_a_layer: Range
    bran_handfuls_a_layer: Range
    bran_g_a_bucket: Range
    bran_g_a_week: Range


@dataclass(frozen=True, slots=True)
class Finish:
    """What a bucket of ferment needs to become soil: a trench, or a tub of soil where there is no digging."""

    bury_depth_cm: Range
    trench_m: Range
    wait_days: Range  # before roots may reach it
    soil_litres: Range
    tub_litres: Range  # soil and ferment together, without the cap
    tub_cap_cm: Range
    tub_weeks: Range
    water_to_liquid: Range  # parts to one
    liquid_ml_per_litre: Range  # of water


@dataclass(frozen=True, slots=True)
class SaltWay:
    """Salt in place of the starter, and the ground that the salt needs. See `salt_way` for the caution."""

    salt_g_per_kg: Range
    salt_g_a_bucket: Range
    ground_m2_a_bucket: Range
    ground_m2_a_year: Range  # for everything that comes in


def bucket(weekly_litres: Spread, weekly_kg: Spread, figures: Figures, bucket_litres: float | None = None) -> Bucket:
    """The filling of buckets with so many scraps a week.

    Scraps pressed down take up `ferment-pressed-to-pct` of their loose volume, and a bucket is full when
    that much has come in. While one stands sealed others are filled, so there are 1 + sealed/fill of them,
    rounded up. A bucket is taken to be as wide as it is high, which settles how much lies in a layer.

    Args:
        weekly_litres: loose, as they come from the kitchen.
        weekly_kg: the same scraps by mass.
        bucket_litres: what the bucket holds; None to suggest one that fills in the time another stands
            sealed, within what can be carried (`ferment-bucket-litres`).

    Raises:
        ValueError: there is nothing to ferment, or nothing to ferment it in.
    """
    if not (weekly_litres.low > 0 and weekly_kg.low > 0):
        raise ValueError("there is nothing to ferment")
    pressed = scaled(figure(figures, "ferment-pressed-to-pct"), 1 / 100)
    weekly_pressed = times(weekly_litres, pressed)
    sealed = figure(figures, "ferment-sealed-days")
    if bucket_litres is None:
        size = figure(figures, "ferment-bucket-litres")
        bucket_litres = min(size.high, max(size.low, weekly_pressed.typical * sealed.typical / DAYS_PER_WEEK))
    if not bucket_litres > 0:
        raise ValueError(f"nothing can be fermented in {bucket_litres:g} L")
    fill_days = over(exactly(bucket_litres * DAYS_PER_WEEK), weekly_pressed)
    kg = scaled(over(alike(weekly_kg, weekly_litres), pressed), bucket_litres)
    bran_share = scaled(figure(figures, "ferment-bran-share-pct"), 1 / 100)
    bran_a_bucket = scaled(times(kg, bran_share), 1000)
    layer = figure(figures, "ferment-layer-cm")
    # d = h and V = pi/4 d^2 h, so h is the cube root of 4 V / pi; a litre is a cubic decimetre
    height_cm = 10 * math.cbrt(4 * bucket_litres / math.pi)
    a_layer = scaled(times(bran_a_bucket, layer), 1 / height_cm)
    return Bucket(
        litres=bucket_litres,
        buckets=1 + math.ceil(sealed.typical / fill_days.typical - 1e-9),
        fill_days=fill_days,
        kg=kg,
        sealed_days=plain(sealed),
        drain_every_days=plain(figure(figures, "ferment-drain-every-days")),
        layer_cm=plain(layer),
        bran_g_per_kg=scaled(bran_share, 1000),
        bran_g_a_layer=a_layer,
        bran_handfuls_a_layer=over(a_layer, figure(figures, "bran-handful-g")),
        bran_g_a_bucket=bran_a_bucket,
        bran_g_a_week=scaled(times(weekly_kg, bran_share), 1000),
    )


def finish(ferment_litres: float, figures: Figures) -> Finish:
    """What so many litres of ferment need: a trench dug deep, or a tub of soil.

    The trench is as wide as for fresh scraps and the ferment lies as thick in it; over it goes
    `bury_depth_cm` of soil. In a tub it is mixed with `ferment-soil-parts` of soil to one.

    Raises:
        ValueError: there is none.
    """
    if not ferment_litres > 0:
        raise ValueError("there is no ferment to finish")
    soil = scaled(figure(figures, "ferment-soil-parts"), ferment_litres)
    dilution = figure(figures, "ferment-liquid-dilution-parts")
    return Finish(
        bury_depth_cm=plain(figure(figures, "ferment-bury-depth-cm")),
        trench_m=trench_metres(exactly(ferment_litres), figures),
        wait_days=plain(figure(figures, "ferment-wait-days")),
        soil_litres=soil,
        tub_litres=Range(*(each + ferment_litres for each in (soil.low, soil.typical, soil.high))),
        tub_cap_cm=plain(figure(figures, "ferment-tub-cap-cm")),
        tub_weeks=plain(figure(figures, "ferment-tub-weeks")),
        water_to_liquid=plain(dilution),
        liquid_ml_per_litre=over(exactly(1000), dilution),
    )


def salt_way(filled: Bucket, weekly_kg: Spread, figures: Figures) -> SaltWay:
    """Salt in place of the starter, at the strength of salted vegetables, and the ground it needs.

    Caution, which must be shown with these figures: salt does not rot away. It harms seedlings, salt-shy
    crops, worms and the structure of clay. It needs open ground that rain washes through, and a new place
    each time; never pots, tubs or a worm bin, and the liquid must not go on plants at all. Food that is
    salted already adds to it. The limit on the ground is our own reckoning (see `salt-limit-g-per-m2`), so
    the starter is the better way wherever it can be had or made.

    Args:
        filled: the buckets, as `bucket` gives them.
        weekly_kg: the scraps they are filled with.
    """
    share = scaled(figure(figures, "ferment-salt-share-pct"), 1 / 100)
    limit = figure(figures, "salt-limit-g-per-m2")
    a_bucket = scaled(times(filled.kg, share), 1000)
    a_year = scaled(times(weekly_kg, share), 1000 * DAYS_PER_YEAR / DAYS_PER_WEEK)
    return SaltWay(
        salt_g_per_kg=scaled(share, 1000),
        salt_g_a_bucket=a_bucket,
        ground_m2_a_bucket=over(a_bucket, limit),
        ground_m2_a_year=over(a_year, limit),
    )

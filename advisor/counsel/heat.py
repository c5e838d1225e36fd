"""A household's heap foreseen: what was told becomes a setting of the heat balance, and its answer becomes lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from datetime import date
from typing import Final

from advisor.blend import mix
from advisor.blend.shapes import Part
from advisor.counsel.heat_lines import Told, written
from advisor.counsel.heat_shapes import HeatAnswer
from advisor.counsel.ingredients import is_poured
from advisor.counsel.own_mix import Ingredient, from_amounts
from advisor.errors import HouseholdError
from advisor.heap.ranges import figure
from advisor.heat.balance import Weather
from advisor.heat.beside import beside
from advisor.heat.draws import DRAWS, Draws
from advisor.heat.foresee import Air, bigger, foresee
from advisor.heat.setting import Goes, Setting, Tables, Vessel, moisture_pct, water_to
from advisor.heat.weather import by_latitude, steady, weather
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.knowledge.hints import hint
from advisor.knowledge.shapes import Material
from advisor.records import dataclass
from advisor.soil.sanitising import Reading
from advisor.units import Units

#: The vessel of each word of place.container; what makes no heap is taken as one.
_VESSELS: Final[Mapping[str, Vessel]] = {
    "none": "heap", "open-bin": "open-bin", "bays": "open-bin", "closed-bin": "closed-bin", "tumbler": "tumbler",
}  # fmt: skip
#: A climate of rules/climates.toml for each word of place.climate.
_CLIMATES: Final = {
    "temperate": "oceanic",
    "cold-winter": "continental-hot-summer",
    "hot-dry": "desert",
    "wet": "oceanic",
}
_USUAL_CLIMATE: Final = "oceanic"
#: The middle month of each season in the north, 0 for January (definition of the seasons by three months).
_SEASONS: Final = {"spring": 3.5, "summer": 6.5, "autumn": 9.5, "winter": 0.5}
_INSULATION_MM: Final = 50.0
_WETTER_PCT: Final = 10.0
_LEAST_L, _MOST_L = 1.0, 1_000_000.0
_LONGEST_DAYS = 730.0


@dataclass(frozen=True, slots=True)
class HeatAsked:
    """What was told besides the household.

    Attributes:
        climate: a name of rules/climates.toml; latitude: degrees, south negative; months: twelve means in °C;
            air_c: one temperature all the time. The last that is set counts.
        month: when it is built, in months from the start of January.
        litres: how big the heap is, as it lies; None for all that was told.
        moisture: what it is watered to, in %; None for the usual; 0 leaves it as it is.
        insulated_mm: foam round it. fed_days: days over which it is filled. start_c: heat of what goes in.
        turned: days of turnings; never: it is not turned any more.
        readings: of the core. closed: a closed vessel, or blown air.
    """

    climate: str = ""
    latitude: float | None = None
    months: tuple[float, ...] = ()
    air_c: float | None = None
    month: float | None = None
    litres: float | None = None
    moisture: float | None = None
    insulated_mm: float = 0.0
    fed_days: float = 0.0
    start_c: float | None = None
    turned: tuple[float, ...] = ()
    never: bool = False
    readings: tuple[Reading, ...] = field(default=())


def heat_answer(
    household: Household,
    knowledge: Knowledge,
    asked: HeatAsked | None = None,
    *,
    units: Units = "metric",
    draws: int = DRAWS,
) -> HeatAnswer:
    """How hot a household's heap may get, of all that it holds.

    Args:
        asked: what was told besides the household.
        draws: how many heaps are drawn from the spread of what goes in.

    Raises:
        HouseholdError: there is nothing to make a heap of, a climate or a size that cannot be.
    """
    asked = asked or HeatAsked()
    tables = Tables(knowledge.heat, knowledge.decay)
    ingredients = [each for each in from_amounts(household, knowledge) if _counts(each.portion.material)]
    if not _solid(ingredients) or mix.mass_kg([each.part for each in ingredients]) <= 0:
        raise HouseholdError("there is nothing to make a heap of yet", hint="say what there is, such as --have '...'")
    vessel = _vessel(household)
    setting, watered = _setting(ingredients, asked, vessel, tables)
    months, place, place_sources = _months(household, asked, knowledge)
    start = _start(household, asked, months)
    air = _air(months, start, asked)
    found = foresee(
        setting,
        tables,
        air,
        turned=asked.turned,
        may_turn=not asked.never,
        changes=_changes(setting, air, months, start, asked),
        draws=Draws(draws),
    )
    readings = tuple((one.day, one.celsius) for one in asked.readings)
    told = Told(
        setting=setting,
        watered_kg=watered,
        moisture=moisture_pct(setting.goes, setting.water_kg),
        litres=setting.litres * figure(tables.figures, "settles-to-share").typical,
        place=place,
        place_sources=place_sources,
        air_c=found.bands[0].air,
        turned=asked.turned,
        never=asked.never,
        readings=asked.readings,
        closed=vessel in ("tumbler", "closed-bin"),
    )
    read = beside(found.bands, readings, tables.figures) if readings else ()
    return written(found, read, told, knowledge, units)


def _counts(material: Material) -> bool:
    """Whether a material is a part of the heap: of liquids only those that are poured on for their nitrogen are."""
    return material.role != "never" and (material.role != "liquid" or is_poured(material))


def _solid(ingredients: Sequence[Ingredient]) -> list[Part]:
    """What takes up room: what is poured on fills pores."""
    return [each.part for each in ingredients if not is_poured(each.portion.material)]


def _vessel(household: Household) -> Vessel:
    said = household.answers.get("place.container", ())
    return _VESSELS.get(str(said[0]), "heap") if said else "heap"


def _setting(
    ingredients: Sequence[Ingredient], asked: HeatAsked, vessel: Vessel, tables: Tables
) -> tuple[Setting, float]:
    """The heap, and the water that is added to it in kg."""
    parts = [each.part for each in ingredients]
    goes = tuple(
        Goes(each.portion.material_id, each.portion.material, part.kg)
        for each, part in zip(ingredients, parts, strict=True)
    )
    wanted = tables.figures["watered-pct"].typical if asked.moisture is None else asked.moisture
    if wanted and not 10 <= wanted <= 90:
        raise HouseholdError(f"a moisture of {wanted:g} % cannot be", hint="from 10 to 90, or 0 to leave it as it is")
    water = water_to(goes, wanted) if wanted else 0.0
    setting = Setting(
        goes,
        mix.volume_l(_solid(ingredients)),
        water,
        vessel,
        insulated_mm=asked.insulated_mm,
        fed_days=asked.fed_days,
        start_c=asked.start_c,
    )
    if not 0 <= asked.fed_days <= _LONGEST_DAYS:
        raise HouseholdError(f"filling over {asked.fed_days:g} days cannot be", hint="from 0 to 2 years")
    if asked.litres is not None:
        if not _LEAST_L <= asked.litres <= _MOST_L:
            raise HouseholdError(f"a heap of {asked.litres:g} L cannot be", hint="from 1 L to 1000 m³")
        lies = setting.litres * figure(tables.figures, "settles-to-share").typical
        setting = bigger(setting, asked.litres / lies)
    return setting, setting.water_kg


def climate_named(name: str, knowledge: Knowledge) -> str:
    """The key of a climate by its key, name or other name. Raises HouseholdError with the nearest."""
    bare = name.strip().casefold()
    for key, climate in knowledge.climates.items():
        if bare in (key, climate.name.casefold(), climate.place.casefold(), *map(str.casefold, climate.aliases)):
            return key
    known = [key for key in knowledge.climates if not key.startswith("zone-")]
    also = [each.casefold() for one in knowledge.climates.values() for each in (one.name, one.place, *one.aliases)]
    raise HouseholdError(f"no climate is called '{name}'", hint=hint(bare, known, also))


def _months(
    household: Household, asked: HeatAsked, knowledge: Knowledge
) -> tuple[tuple[float, ...], str, tuple[str, ...]]:
    """The air by the month, where that was taken from in words, and its sources: none where it was told."""
    climates = knowledge.climates
    if asked.air_c is not None:
        return (asked.air_c,) * 12, "air of that heat all the time", ()
    if asked.months:
        return asked.months, "the months you gave", ()
    if asked.latitude is not None:
        side = "north" if asked.latitude >= 0 else "south"
        words = f"the mean of latitude {abs(asked.latitude):g} {side}"
        return by_latitude(asked.latitude, climates), words, ("zonal-means",)
    told = household.answers.get("place.climate", ())
    name = asked.climate or _CLIMATES.get(str(told[0]) if told else "", _USUAL_CLIMATE)
    climate = climates[climate_named(name, knowledge)]
    return climate.months, f"a climate like that of {climate.place}", climate.source


def _start(household: Household, asked: HeatAsked, months: Sequence[float]) -> float:
    """When it is built, in months from the start of January; the season's middle by the warmer half of the year."""
    if asked.month is not None:
        return asked.month
    if household.start is not None:
        return month_of(household.start)
    said = household.answers.get("place.season", ())
    south = sum(months[4:10]) < sum(months[:4]) + sum(months[10:])
    return (_SEASONS.get(str(said[0]) if said else "", _SEASONS["spring"]) + (6 if south else 0)) % 12


def month_of(day: date) -> float:
    """A day of the year in months from the start of January."""
    return day.month - 1 + (day.day - 1) / 31


def _air(months: Sequence[float], start: float, asked: HeatAsked) -> Air:
    if asked.air_c is not None:
        celsius = asked.air_c
        return lambda draws: steady(celsius, draws)
    return lambda draws: weather(months, start, draws)


def _changes(
    setting: Setting, air: Air, months: Sequence[float], start: float, asked: HeatAsked
) -> Mapping[str, tuple[Setting, Air]]:
    """What if: each change that is one here, by name."""
    found: dict[str, tuple[Setting, Air]] = {"twice as much": (bigger(setting, 2.0), air)}
    now = moisture_pct(setting.goes, setting.water_kg)
    wetter = water_to(setting.goes, now + _WETTER_PCT) if now + _WETTER_PCT < 75 else 0.0
    if wetter > setting.water_kg:
        found["wetter"] = (replace(setting, water_kg=wetter), air)
    if setting.insulated_mm < _INSULATION_MM:
        found["insulated"] = (replace(setting, insulated_mm=_INSULATION_MM), air)
    if asked.air_c is None:
        coldest, warmest = (min(months), max(months))
        for name, month in (("in the coldest month", coldest), ("in the warmest month", warmest)):
            middle = months.index(month) + 0.5
            if abs((middle - start + 6) % 12 - 6) >= 1.5:
                found[name] = (setting, _from(months, middle))
    return found


def _from(months: Sequence[float], start: float) -> Air:
    def air(draws: Draws) -> Weather:
        return weather(months, start, draws)

    return air

"""Charts taken from answers. What an answer has judged, its chart repeats; nothing is judged here."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from advisor.counsel.wording import capital, joined
from advisor.papers.charts.calendar import DOINGS
from advisor.papers.charts.shapes import (
    Band,
    BedSeason,
    Chart,
    HeatBand,
    HeatChart,
    HeatLimit,
    HeatReading,
    Mark,
    SeasonsChart,
    Soil,
    Stretch,
    TextureChart,
    TrendChart,
    YearChart,
    YearWeek,
)
from advisor.papers.charts.texture import said
from advisor.papers.charts.trend import DIRECTIONS, figure
from advisor.units import temperature_text, volume_text

if TYPE_CHECKING:
    from advisor.counsel.almanac import Almanac
    from advisor.counsel.heat_shapes import HeatAnswer
    from advisor.soil_counsel.shapes import (
        Answer,
        HeatFound,
        HeatLog,
        ReadyAnswer,
        SeasonsAnswer,
        SoilAnswer,
        TextureFound,
        TrendFound,
    )

#: Degrees below a rule's ceiling from which the ceiling is drawn as well.
_NEAR_CEILING = 5.0


def charts_of(answer: Answer | Almanac | HeatAnswer) -> tuple[Chart, ...]:
    """The charts of an answer, in the order of its page; none if it holds nothing to draw."""
    from advisor.counsel.almanac import Almanac
    from advisor.counsel.heat_shapes import HeatAnswer
    from advisor.soil_counsel.shapes import ReadyAnswer, SeasonsAnswer, SoilAnswer

    if isinstance(answer, Almanac):
        return (year_chart(answer),) if answer.weeks else ()
    if isinstance(answer, HeatAnswer):
        return (foreseen_chart(answer),)
    if isinstance(answer, SoilAnswer):
        return (*texture_charts(answer), *trend_charts(answer))
    if isinstance(answer, SeasonsAnswer):
        return seasons_charts(answer)
    if isinstance(answer, ReadyAnswer):
        return heat_charts(answer)
    return ()


# ---------------------------------------------------------------- the soil


def trend_charts(answer: SoilAnswer) -> tuple[TrendChart, ...]:
    """A chart for each check that was made more than once."""
    return tuple(_trend(answer, found) for found in answer.trends)


def _trend(answer: SoilAnswer, found: TrendFound) -> TrendChart:
    lead = f"{found.bed}: " if len(answer.found) > 1 else ""
    first, last = found.marks[0], found.marks[-1]
    unit = f" {found.unit}" if found.unit else ""
    latest = next((one for one in answer.results if (one.check, one.bed) == (found.tracked, found.bed)), None)
    says = {band.word: band.say for band in found.bands}
    now = f" The latest is classed as {says[latest.word]}." if latest is not None and latest.word in says else ""
    return TrendChart(
        title=capital(f"{lead}{found.about}"),
        words=(
            f"From {figure(first.value)}{unit} on {first.on.isoformat()} to {figure(last.value)}{unit} on "
            f"{last.on.isoformat()}, {found.per_year:+.2g} a year: {DIRECTIONS[found.direction]}.{now}"
        ),
        unit=found.unit,
        marks=tuple(Mark(mark.on, mark.value) for mark in found.marks),
        per_year=None if found.direction == "too-few" else found.per_year,
        direction=found.direction,
        bands=tuple(Band(band.say, band.until) for band in found.bands),
    )


def texture_charts(answer: SoilAnswer) -> tuple[TextureChart, ...]:
    """One triangle with all the soils; none if no texture is known."""
    if not answer.textures:
        return ()
    latest = {found.bed: found for found in answer.textures}
    several = len(answer.found) > 1
    soils = tuple(
        Soil(
            found.sand_pct,
            found.silt_pct,
            found.clay_pct,
            found.name,
            _name(found, several),
            earlier=found is not latest[found.bed],
        )
        for found in answer.textures
    )
    words = [_lies(bed if several else "", found, answer.textures) for bed, found in latest.items()]
    return (TextureChart("Texture of the soil", f"{'; '.join(words)}.", soils),)


def _name(found: TextureFound, several: bool) -> str:
    parts = [found.bed] if several else []
    return ", ".join([*parts, found.on.isoformat()] if found.on is not None else parts)


def _lies(bed: str, found: TextureFound, all_found: Sequence[TextureFound]) -> str:
    before = dict.fromkeys(said(one.name) for one in all_found if one.bed == found.bed and one.name != found.name)
    was = f", and lay in that of {joined(list(before))} before" if before else ""
    return f"{bed or 'The soil'} lies in the field of {said(found.name)}{was}"


# ---------------------------------------------------------------- the seasons


def seasons_charts(answer: SeasonsAnswer) -> tuple[SeasonsChart, ...]:
    """A calendar for each season that has days."""
    return tuple(_season(number, answer) for number in sorted({year.year for year in answer.years}))


def _season(number: int, answer: SeasonsAnswer) -> SeasonsChart:
    frosts = answer.frost_free[number - 1] if number <= len(answer.frost_free) else None
    beds = tuple(
        BedSeason(year.bed, tuple(Stretch(task.what, task.opens, task.closes) for task in year.tasks))
        for year in answer.years
        if year.year == number
    )
    free = f"Free of frost from {frosts.last_frost.isoformat()} to {frosts.first_frost.isoformat()}. " if frosts else ""
    return SeasonsChart(
        title=f"Calendar of year {number}",
        words=f"{free}{' '.join(_orders(beds))}",
        year=number,
        last_frost=frosts.last_frost if frosts else None,
        first_frost=frosts.first_frost if frosts else None,
        beds=beds,
    )


def _orders(beds: Iterable[BedSeason]) -> Iterator[str]:
    """What is done in which order, the beds with the same order together."""
    orders: dict[tuple[str, ...], list[str]] = {}
    for one in beds:
        ordered = sorted(one.stretches, key=lambda stretch: (stretch.opens, stretch.closes))
        orders.setdefault(tuple(DOINGS[stretch.what][1] for stretch in ordered), []).append(one.bed)
    for order, names in orders.items():
        yield f"{joined(names)}: {', '.join(order) or 'nothing to do'}."


# ---------------------------------------------------------------- the heap


def heat_charts(answer: ReadyAnswer) -> tuple[HeatChart, ...]:
    """A chart for each log of the heat, with what the rules that it was set beside ask for."""
    texts = [result.line.text for result in answer.results if result.check == "heat"]
    return tuple(_heat(answer, log, text) for log, text in zip(answer.logs, texts, strict=True))


#: Days of a forecast that are drawn at the least, and past the last turning or hot day.
_LEAST_DAYS, _MORE_DAYS = 14.0, 10.0


def foreseen_chart(answer: HeatAnswer) -> HeatChart:
    """The band of a forecast, with the readings over it, as far as something happens."""
    hot = max((one.day for one in answer.days if one.high >= _SANITISES_C), default=0.0)
    last = max(_LEAST_DAYS, hot, *answer.turnings, *(one.day for one in answer.readings)) + _MORE_DAYS
    peak = answer.balance_peak_c
    return HeatChart(
        title="Heat foreseen by the balance",
        words=(
            f"By the balance it peaks at {temperature_text(peak.typical, answer.units)} "
            f"({temperature_text(peak.low, answer.units)} to {temperature_text(peak.high, answer.units)})."
        ),
        readings=tuple(HeatReading(one.day, one.celsius) for one in answer.readings),
        turnings=answer.turnings,
        limits=(HeatLimit(_SANITISES_C, "sanitising heat"),),
        units=answer.units,
        band=tuple(HeatBand(one.day, one.low, one.typical, one.high) for one in answer.days if one.day <= last),
    )


#: The least heat that the rules against germs count (rules/heat-rules.toml).
_SANITISES_C = 55.0


def _heat(answer: ReadyAnswer, log: HeatLog, text: str) -> HeatChart:
    limits = tuple(_limits(answer.heat, max(log.celsius)))
    hottest = max(log.celsius)
    on = log.days[log.celsius.index(hottest)]
    hot = limits[0].celsius if limits else None
    counted = (
        f"; {sum(celsius >= hot for celsius in log.celsius)} of {len(log.celsius)} readings at "
        f"{temperature_text(hot, answer.units)} or more"
        if hot is not None
        else ""
    )
    words = f"Hottest on day {on:g}, with {temperature_text(hottest, answer.units)}{counted}. {capital(text)}."
    return HeatChart(
        title="Heat of the heap, as recorded",
        words=words,
        readings=tuple(HeatReading(day, celsius) for day, celsius in zip(log.days, log.celsius, strict=True)),
        turnings=log.turned,
        limits=limits,
        units=answer.units,
    )


def _limits(found: Sequence[HeatFound], hottest: float) -> Iterator[HeatLimit]:
    """The least heat that a rule for sanitising counts; and the most, where a reading came near it."""
    rules = [rule for rule in found if rule.sanitises]
    if rules:
        yield HeatLimit(min(rule.celsius for rule in rules), "sanitising heat")
    ceilings = [rule.not_above_celsius for rule in rules if rule.not_above_celsius is not None]
    if ceilings and hottest >= min(ceilings) - _NEAR_CEILING:
        yield HeatLimit(min(ceilings), "too hot to count")


def year_chart(year: Almanac) -> YearChart:
    """A year by the week."""
    batches = {month.name: month.batch for month in year.months}
    weeks = tuple(
        YearWeek(
            month=week.month,
            batch=batches[week.month],
            store_litres=week.store_litres,
            heap_litres=week.heap_litres,
            load_litres=math.fsum(amount.litres for amount in week.goes_in),
        )
        for week in year.weeks
    )
    store = max(weeks, key=lambda week: week.store_litres)
    heap = max(weeks, key=lambda week: week.heap_litres)
    load = max(weeks, key=lambda week: week.load_litres)

    def at_most(litres: float, week: YearWeek) -> str:
        return f"{volume_text(litres, year.units)}, in {week.month}"

    return YearChart(
        title="The year by the week",
        words=(
            f"Most in store: {at_most(store.store_litres, store)}. Most in the heap: "
            f"{at_most(heap.heap_litres, heap)}. Largest load of a week: {at_most(load.load_litres, load)}. "
            f"{len(set(batches.values()))} {'batch' if len(set(batches.values())) == 1 else 'batches'}."
        ),
        weeks=weeks,
        store_room_litres=year.storage_litres,
        heap_room_litres=year.container_litres,
        units=year.units,
    )

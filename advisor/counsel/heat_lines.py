"""The heat that is foreseen, line by line, in plain words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from advisor.blend.shapes import Range
from advisor.counsel import why
from advisor.counsel.heat_shapes import HeatAnswer, HeatChange, HeatDay, HeatRead
from advisor.counsel.plan import Because, Line, spread_of
from advisor.counsel.wording import joined
from advisor.heap.ranges import figure
from advisor.heat.beside import Beside, Standing
from advisor.heat.foresee import Change, Foreseen
from advisor.heat.setting import Setting
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.soil.sanitising import Reading, Recorded, recorded
from advisor.units import Units, length_text, temperature_text, volume_text

_MODEL = ("haug-1993", "cardinal-temperatures-waste", "mason-2006-review")
_SAME_K = 2.0
#: A rule for turned heaps and one for closed vessels, of those that readings are set beside.
_RULES: Final = {False: "us-windrow", True: "us-vessel"}

_STANDS: Final[Mapping[Standing, str]] = {
    "hotter": "hotter than foreseen",
    "as-foreseen": "as foreseen",
    "colder": "colder than foreseen",
    "cold": "near the air, while it should be warm",
    "spent": "near the air, and its quick food is used up",
}
_NEXT: Final[Mapping[Standing, str]] = {
    "hotter": "It works harder than I foresaw. Turn it above {hot}, and keep it moist.",
    "as-foreseen": "It does what such a heap does. Go on as planned.",
    "colder": "Check its water with your hand, then its size. Squeeze a handful: it should just drip.",
    "cold": "It has not heated; it is not finished. Check the water first, then greens, then air and size.",
    "spent": "The hot phase is over. Turn and moisten it once; if it stays cool for a week, let it mature.",
}
_CHANGES: Final[Mapping[str, str]] = {
    "twice as much": "Twice as big",
    "wetter": "Wetter by a tenth",
    "insulated": "With {foam} of foam round it",
    "in the coldest month": "Built in the coldest month",
    "in the warmest month": "Built in the warmest month",
}


@dataclass(frozen=True, slots=True)
class Told:
    """What the lines say of the heap besides its heat. Litres as it lies; kg; °C."""

    setting: Setting
    watered_kg: float
    moisture: float
    litres: float
    place: str
    place_sources: tuple[str, ...]
    air_c: float
    turned: tuple[float, ...]
    never: bool
    readings: tuple[Reading, ...]
    closed: bool


def written(found: Foreseen, read: Sequence[Beside], told: Told, knowledge: Knowledge, units: Units) -> HeatAnswer:
    """The answer with all its lines."""
    writer = _Writer(found, read, told, knowledge, units)
    hours = writer.hours()
    return HeatAnswer(
        units=units,
        litres=told.litres,
        peak_c=spread_of(found.front),
        in_front=found.in_front,
        balance_peak_c=spread_of(found.peak_c),
        thumb_peak_c=spread_of(found.thumb.peak_c),
        peak_day=spread_of(found.peak_day if told.setting.fed_days else found.thumb.peak_day),
        warm_days=spread_of(found.warm_days),
        hot_days=spread_of(found.hot_days),
        turnings=found.turnings,
        days=tuple(
            HeatDay(day=one.day, low=one.low, typical=one.typical, high=one.high, air=one.air) for one in found.bands
        ),
        readings=tuple(HeatRead(day=one.day, celsius=one.celsius, standing=one.standing) for one in read),
        hours_hot=hours,
        verdict=writer.verdict(),
        course=tuple(writer.course()),
        turning=tuple(writer.turning()),
        changes=tuple(writer.changes()),
        read=tuple(writer.beside(hours)),
        doubts=tuple(writer.doubts()),
        cautions=tuple(writer.cautions()),
    )


class _Writer:
    def __init__(self, found: Foreseen, read: Sequence[Beside], told: Told, knowledge: Knowledge, units: Units) -> None:
        self.found, self.read, self.told, self.knowledge, self.units = found, read, told, knowledge, units
        self.warm_c, self.hot_c, self.fire_c, self.large_l = (
            figure(knowledge.heat, name).typical
            for name in ("warm-c", "hot-c", "smoulders-above-c", "large-heap-litres")
        )

    def verdict(self) -> Line:
        peak = self.found.front
        span = f"{self.heat(peak.low)} to {self.heat(peak.high)}"
        if peak.typical >= self.hot_c:
            text = f"It will heat: to about {self.heat(peak.typical)} in the middle ({span})."
        elif peak.typical >= self.warm_c:
            text = f"It will get warm: to about {self.heat(peak.typical)} in the middle ({span})."
        else:
            text = f"It will hardly heat: to about {self.heat(peak.typical)} in the middle ({span})."
        return Line(id="v1", text=text, why=(self._front(), *self._setting()))

    def _front(self) -> Because:
        off, rules, balance = self.found.off_k, self.found.thumb.peak_c, self.found.peak_c
        size = volume_text(self.told.litres, self.units)
        named = {
            "thumb": why.computed(
                f"by the rules of thumb for {size}: {self.heat(rules.typical)}; "
                f"off by {self.degrees(off['thumb'])} on average",
                sources=("heat-courses-digest", "heat-courses-measured"),
            ),
            "balance": why.computed(
                f"by a heat balance of this mix: {self.heat(balance.typical)} ({self.heat(balance.low)} to "
                f"{self.heat(balance.high)}); off by {self.degrees(off['balance'])} on average",
                sources=_MODEL,
            ),
            "both": why.computed(
                f"the mean of both; off by {self.degrees(off['both'])} on average", sources=("heat-courses-measured",)
            ),
        }
        first = named.pop(self.found.in_front)
        return why.computed("what came nearest on published heaps of that size is told first", first, *named.values())

    def _setting(self) -> Iterator[Because]:
        told = self.told
        yield why.computed(f"the air on the first day, {self.heat(told.air_c)}: {told.place}")
        yield why.computed(f"the heap as it lies: {volume_text(told.litres, self.units)}, {told.moisture:.0f} % water")
        for each in told.setting.goes:
            yield why.properties(each.material)

    def course(self) -> Iterator[Line]:
        found = self.found
        by_thumb = why.computed("what most published heaps did", sources=("cornell-physics",))
        balance = why.computed(
            f"the balance has it on day {found.peak_day.typical:.1f} ({found.peak_day.low:.1f} to "
            f"{found.peak_day.high:.1f}); on published heaps it was a day too soon",
            sources=_MODEL,
        )
        if self.told.setting.fed_days:
            text = "Filled bit by bit, it has no one peak. It is warmest once it is fairly full."
            yield Line(id="h1", text=text, why=(balance,))
        else:
            day = found.thumb.peak_day
            text = f"Expect the peak about day {day.low:.0f} to {day.high:.0f}."
            yield Line(id="h1", text=text, why=(by_thumb, balance))
        draws = why.computed(
            "the heat balance over the spread of what goes in, 8 times out of 10", sources=("haug-1993",)
        )
        cover = "With the turnings below, it is" if found.turnings else "It is"
        for number, (celsius, days) in enumerate(((self.warm_c, found.warm_days), (self.hot_c, found.hot_days)), 2):
            text = f"{cover} at {self.heat(celsius)} or more for {_days(days)}."
            yield Line(id=f"h{number}", text=text, why=(draws,))

    def turning(self) -> Iterator[Line]:
        below, above = (figure(self.knowledge.heat, name) for name in ("turn-below-c", "turn-above-c"))
        limits = (
            why.figure("turned once it falls under, °C", below, ""),
            why.figure("turned at once above, °C", above, ""),
        )
        due = [day for day in self.found.turnings if day not in self.told.turned]
        if self.told.never:
            text = "You leave it unturned. The outside then stays cool, and seeds in it live."
            yield Line(id="t1", text=text, why=limits)
            return
        rule = f"when the middle falls under {self.heat(below.typical)}, or rises over {self.heat(above.typical)}"
        if due:
            named = joined([f"{day:.0f}" for day in due])
            text = f"Turn it {rule}: by the balance about day {named}. Let the thermometer decide."
        else:
            text = f"Turn it {rule}. The balance sees no such day."
        yield Line(id="t1", text=text, why=limits)
        if due:
            text = "Water it as you turn. The forecast brings the water back to what it was."
            yield Line(id="t2", text=text, why=limits)

    def changes(self) -> Iterator[HeatChange]:
        foam = length_text(0.05, self.units)
        for number, one in enumerate(self.found.changes, 1):
            lead = _CHANGES[one.name].format(foam=foam)
            line = Line(id=f"i{number}", text=f"{lead}: {self._differs(one)}.", why=(self._compared(),))
            yield HeatChange(
                change=one.name, peak_c=one.peak_c, differs_k=one.differs_k, hot_days=one.hot_days, line=line
            )

    def _compared(self) -> Because:
        return why.computed(
            "the same balance with and without the change, unturned for 30 days", sources=("haug-1993",)
        )

    def _differs(self, one: Change) -> str:
        hot = f"{one.hot_days:.0f} {'day' if round(one.hot_days) == 1 else 'days'} at {self.heat(self.hot_c)} or more"
        if abs(one.differs_k) < _SAME_K:
            return f"about the same peak, {hot}"
        word = "hotter" if one.differs_k > 0 else "cooler"
        return f"{self.degrees(abs(one.differs_k))} {word} at the peak, {hot}"

    # ------------------------------------------------------------ readings

    def hours(self) -> float | None:
        """Hours at 55 °C by the readings, as the rules against germs count them."""
        if not self.told.readings:
            return None
        return self._recorded().hours

    def _recorded(self) -> Recorded:
        rule = next(rule for rule in self.knowledge.heat_rules if rule.id == _RULES[self.told.closed])
        (one,) = recorded(self.told.readings, self.told.turned, turned=not self.told.closed, rules=[rule])
        return one

    def beside(self, hours: float | None) -> Iterator[Line]:
        if not self.read or hours is None:
            return
        last = self.read[-1]
        band = why.computed(
            f"the band of that day: {self.heat(last.low)} to {self.heat(last.high)}",
            sources=("haug-1993",),
        )
        text = f"Day {last.day:g}, {self.heat(last.celsius)}: {_STANDS[last.standing]}."
        yield Line(id="r1", text=text, why=(band,))
        text = _NEXT[last.standing].format(hot=self.heat(figure(self.knowledge.heat, "turn-above-c").typical))
        near = why.figure("near the air means within, in K", figure(self.knowledge.heat, "near-air-k"), "")
        yield Line(id="r2", text=text, why=(band, near))
        others = [one for one in self.read if one.standing != "as-foreseen"]
        text = f"{len(self.read) - len(others)} of {len(self.read)} readings lie in the band."
        yield Line(id="r3", text=text, why=(band,))
        one = self._recorded()
        asks = f"{one.rule.days} days in a row" + (f" and {one.rule.turnings} turnings" if one.rule.turnings else "")
        so_far = f"So far: {one.days} {'day' if one.days == 1 else 'days'} in a row"
        so_far += f" and {one.turnings} {'turning' if one.turnings == 1 else 'turnings'}" if one.rule.turnings else ""
        state = "That number is reached" if one.reached else so_far
        text = (
            f"{hours:.0f} hours counted at {self.heat(self.hot_c)} or more. The published rule asks for {asks}. "
            f"{state}. A thermometer reads one place: this is no certificate."
        )
        yield Line(id="r4", text=text, why=(why.computed(one.rule.name, sources=one.rule.source),))

    # ------------------------------------------------------------ doubts and cautions

    def doubts(self) -> Iterator[Line]:
        doubt = figure(self.knowledge.heat, "balance-doubt-k")
        error = why.figure("error of the balance itself, in K", doubt, "")
        off = self.found.off_k[self.found.in_front]
        text = (
            f"Trust the peak to about {self.degrees(max(off, doubt.low))} either way, and its day to a day or two. "
            "A thermometer beats any forecast."
        )
        yield Line(id="d1", text=text, why=(error, self._front()))
        if self.found.in_front != "balance":
            first = "the rules of thumb" if self.found.in_front == "thumb" else "the mean of rules of thumb and balance"
            text = (
                f"At this size {first} came nearest on published heaps, so I tell that first. The heat balance "
                f"alone says {self.heat(self.found.peak_c.typical)}; the chart and the hot days are from it."
            )
            yield Line(id="d2", text=text, why=(self._front(),))
        if self.told.watered_kg >= 1:
            text = (
                f"I took it as watered to {self.told.moisture:.0f} %: "
                f"{volume_text(self.told.watered_kg, self.units)} of water in all."
            )
            yield Line(id="d3", text=text, why=(why.computed("by water balance", sources=("cornell-moisture-goal",)),))
        text = f"I took {self.told.place}: {self.heat(self.told.air_c)} when it is built."
        yield Line(id="d4", text=text, why=(why.computed(text, sources=self.told.place_sources),))

    def cautions(self) -> Iterator[Line]:
        safe = why.computed("the usual care with hot heaps", sources=("general-extension-memory",))
        if max(self.found.front.high, self.found.peak_c.high) >= self.warm_c:
            text = "Read it with a long thermometer. Steam and a hot middle burn: keep hands and arms out."
            yield Line(id="c1", text=text, why=(safe,))
        hottest = max([self.found.peak_c.high, *(one.celsius for one in self.told.readings)])
        if hottest >= self.fire_c and self.told.litres >= self.large_l:
            text = (
                f"Over {self.heat(self.fire_c)} a large dry heap can smoulder. Keep it under 1.8 m, moist, and away "
                "from buildings. If it smokes or smells burnt, do not open it: call the fire service. "
                "Follow local rules."
            )
            yield Line(id="c2", text=text, why=(safe,))

    # ------------------------------------------------------------ figures

    def heat(self, celsius: float) -> str:
        return temperature_text(celsius, self.units)

    def degrees(self, kelvin: float) -> str:
        return f"{kelvin:.0f} °C" if self.units == "metric" else f"{kelvin * 1.8:.0f} °F"


def _days(days: Range) -> str:
    """Days in words, with their range."""
    low, typical, high = (round(each) for each in (days.low, days.typical, days.high))
    if high == 0:
        return "less than a day"
    if typical == 0:
        return f"less than a day (up to {high})"
    if low == high:
        return f"{typical} {'day' if typical == 1 else 'days'}"
    return f"about {typical} {'day' if typical == 1 else 'days'} ({low} to {high})"

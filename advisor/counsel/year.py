"""A household's year: leaves put by in autumn and fed out against what comes in each week."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from advisor.blend.year import plan_year
from advisor.counsel import why
from advisor.counsel.almanac import Almanac, BatchLine, Kind, Month, Week
from advisor.counsel.cautions import cautions
from advisor.counsel.plan import Line
from advisor.counsel.seasonal import Flow, all_told, outlet
from advisor.counsel.seasons import MONTHS
from advisor.counsel.settle import is_barred, settle
from advisor.counsel.stock import uses
from advisor.counsel.wording import counted, joined
from advisor.counsel.year_figures import WORTH_SAYING, YearFigures, spans
from advisor.errors import HouseholdError
from advisor.household.shapes import Household
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.units import Units, volume_text

_BALANCE = ("cornell-mix-formula", "cornell-moisture-goal")


def year_plan(
    household: Household,
    knowledge: Knowledge,
    engine: Engine,
    *,
    units: Units = "metric",
    balanced: bool = True,
) -> Almanac:
    """The plan of a household's year.

    Args:
        household: with what comes in each week in its holdings, or in its year.
        knowledge: the rule base.
        engine: with the rules of planning.
        units: whose units to write in.
        balanced: a batch within its windows comes before using up what spoils, for grass left on the lawn feeds it, and
            grass by the barrow with nothing brown stinks; otherwise everything goes in, and what goes wrong is said.

    Raises:
        HouseholdError: nothing comes in, or the way that suits the place is no heap.
    """
    told = all_told(household)
    with engine.consultation() as talk:
        settled = settle(talk, told, knowledge)
        if not knowledge.methods[settled.method].balanced:
            name = knowledge.methods[settled.method].name
            raise HouseholdError(
                f"the way that suits this place is '{name}', which mixes nothing",
                where=household.name,
                hint="a year is planned for heaps and bins; see heapwright plan",
            )
        return _Writer(talk, household, told, knowledge, settled.method, units, balanced).almanac()


class _Writer(YearFigures):
    """Writes one year."""

    def almanac(self) -> Almanac:
        """The whole of it."""
        plan = self.plan
        fed = [flow.material for flow, used in zip(self.flows, plan.used_l, strict=True) if sum(used) > 0]
        self.talk.tell(uses(fed), "worked out from the year's plan")
        return Almanac(
            household=self.household.name,
            units=self.units,
            begins=self.begins,
            start=self.household.start.isoformat() if self.household.start is not None else "",
            method=self.method,
            container_litres=self.year.container_l,
            storage_litres=self.year.storage_l,
            bays=self.year.bays,
            balanced=self.year.balanced,
            possible=self._possible(),
            kinds=tuple(
                Kind(material=flow.stream.id, name=flow.material.name, measure=flow.measure,
                     measure_litres=flow.stream.unit_l, keeps=flow.stream.keeps, fetched=flow.fetched_only)
                for flow in self.flows
            ),
            comes=tuple(self._comes()),
            rests_on=tuple(self._rests_on()),
            put_by=tuple(self._put_by()),
            batches=tuple(self._batches()),
            months=tuple(self._months()),
            weeks=tuple(self._weeks()),
            short=tuple(self._short()),
            left_over=tuple(self._left_over()),
            stays_out=tuple(self._stays_out()),
            cautions=tuple(cautions(self.talk, self.knowledge, self.units)),
        )  # fmt: skip

    # ------------------------------------------------------------ what it rests on

    def _comes(self) -> Iterator[Line]:
        for number, flow in enumerate((flow for flow in self.flows if not flow.fetched_only), 1):
            litres = sum(flow.stream.comes_l)
            there = flow.stream.there_l
            parts = [f"{volume_text(litres, self.units)} in {self._when(flow)}"] if litres else []
            parts += [f"{volume_text(there, self.units)} there already"] if there else []
            keeps = "keeps, and may be put by" if flow.stream.keeps else "goes in the week it comes"
            text = f"{flow.material.name}: {joined(parts)}; it {keeps}"
            yield Line(id=f"m{number}", text=text, why=(why.properties(flow.material),))

    def _when(self, flow: Flow) -> str:
        months = dict.fromkeys(
            self.year.month_of[week] for week, litres in enumerate(flow.stream.comes_l) if litres > 0
        )
        if len(months) == self.year.months:
            return "the year"
        return spans([self._name(index) for index in months], list(months))

    def _rests_on(self) -> Iterator[Line]:
        year, own = self.year, self.household.year
        said = own is not None and own.storage_l is not None
        guess = "" if said else " (nobody said; taken as that)"
        if year.storage_l > self.room_l:
            guess = " (which what is there already takes up)"
        yield Line(
            id="n1",
            text=f"dry room for what keeps: {volume_text(year.storage_l, self.units)}{guess}",
            why=(why.told("said in [year]") if said else why.computed("some twenty sacks", sources=("our-estimate",)),),
        )
        method = self.knowledge.methods[self.method]
        places = counted(year.bays, "place") if year.bays > 1 else "one place"
        text = (
            f"{places} of {volume_text(year.container_l, self.units)} ({method.name}); what is in there sinks by "
            f"{100 * (1 - year.shrink):.0f} % a week, and a batch is ripe {year.ripens_months} months after its last "
            "load"
        )
        reasons = (
            why.figure("weeks until it is ready", method.weeks, ""),
            why.figure("left of the volume at the end", method.shrinks_to, " %"),
        )
        yield Line(id="n2", text=text, why=reasons)
        order = ("every batch and every month's loads within their windows", "using up what spoils")
        first, second = order if year.balanced else order[::-1]
        text = f"what comes first: {first}; then {second}; then little to fetch"
        yield Line(id="n3", text=text, why=(*self._targets(), why.computed("one wish after another")))

    # ------------------------------------------------------------ what to do

    def _put_by(self) -> Iterator[Line]:
        number = 0
        for s, flow in enumerate(self.flows):
            measures = self.plan.gathered[s]
            if not sum(measures):
                continue
            number += 1
            unit = flow.stream.unit_l
            each = joined([f"{count} in {self._name(k)}" for k, count in enumerate(measures) if count])
            peak = max(range(self.year.weeks), key=lambda week: self.plan.stock_l[s][week])
            fullest = counted(round(self.plan.stock_l[s][peak] / unit * 2) / 2, flow.measure_name)
            total = counted(sum(measures), flow.measure_name)
            text = (
                f"{total} of {flow.material.name} ({volume_text(sum(measures) * unit, self.units)}): {each}; "
                f"the most that is in store is {fullest}, in {self._name(self.year.month_of[peak])}"
            )
            reason = why.computed(
                "the fewest that see the year through",
                why.properties(flow.material),
                sources=_BALANCE,
                because="Carbon that autumn gives away is what the grass and scraps of summer lack.",
            )
            yield Line(id=f"p{number}", text=text, why=(reason,))

    def _batches(self) -> Iterator[BatchLine]:
        method = self.knowledge.methods[self.method]
        for number, batch in enumerate(self.plan.batches, 1):
            first, last = self._name(batch.first_month), self._name(batch.last_month)
            within = not batch.misses.any or batch.litres < 1
            # What is fed for months has sunk for months: no more comes out than lies there at the last load.
            ends = max(week for week, month in enumerate(self.year.month_of) if month == batch.last_month)
            finished = min(batch.litres * method.shrinks_to.typical / 100, self.plan.level_l[ends])
            ratio = f"{batch.carbon_nitrogen:.0f}" if math.isfinite(batch.carbon_nitrogen) else "without nitrogen"
            ready = MONTHS[(self.begins - 1 + batch.last_month + self.year.ripens_months) % 12]
            text = (
                f"batch {number}: fed from {first} to {last} with {volume_text(batch.litres, self.units)} as it comes; "
                f"carbon to nitrogen {ratio}, moisture {batch.moisture_pct:.0f} %; "
                f"about {volume_text(finished, self.units)} of compost by {ready}"
            )
            if batch.litres < 1:
                text = f"batch {number}: nothing goes in from {first} to {last}"
            reasons = (why.computed("added up over its loads, with the water", sources=_BALANCE), *self._targets())
            yield BatchLine(
                number=number,
                fed_from=first,
                fed_to=last,
                litres=batch.litres,
                carbon_nitrogen=min(batch.carbon_nitrogen, 1e6),
                moisture_pct=batch.moisture_pct,
                finished_litres=finished,
                within=within,
                line=Line(id=f"b{number}", text=text, why=reasons),
            )

    def _months(self) -> Iterator[Month]:
        plan = self.plan
        for k, weeks in self.weeks_of.items():
            last = weeks[-1]
            yield Month(
                name=self._name(k),
                batch=plan.batch_of[k] + 1,
                comes=self._amounts([sum(flow.stream.comes_l[t] for t in weeks) for flow in self.flows]),
                goes_in=self._amounts([sum(row[t] for t in weeks) for row in plan.used_l]),
                put_by=self._amounts(
                    [row[k] * flow.stream.unit_l for row, flow in zip(plan.gathered, self.flows, strict=True)]
                ),
                fetched=self._amounts(
                    [row[k] * flow.stream.unit_l for row, flow in zip(plan.fetched, self.flows, strict=True)]
                ),
                lost=self._amounts([sum(row[t] for t in weeks) for row in plan.lost_l]),
                water_litres=plan.water_l[k],
                store_litres=sum(row[last] for row in plan.stock_l),
                heap_litres=plan.level_l[last],
                within=plan.short_kg[k] <= 0.01,
                line=self._month_line(k, weeks),
            )

    def _month_line(self, k: int, weeks: Sequence[int]) -> Line:
        """What goes in each week of it, on average: what comes, with what is taken from the store."""
        fresh: list[str] = []
        stored: list[str] = []
        for s, flow in enumerate(self.flows):
            weekly = sum(self.plan.used_l[s][t] for t in weeks) / len(weeks)
            if weekly >= 0.25:
                (stored if flow.stream.keeps else fresh).append(self._counted(flow, weekly))
        water = self.plan.water_l[k] / len(weeks)
        wet = f", and {volume_text(water, self.units)} of water" if water >= 1 else ""
        if fresh and stored:
            text = f"{self._name(k)}: each week {joined(fresh)}, with {joined(stored)}{wet}"
        elif fresh or stored:
            text = f"{self._name(k)}: each week {joined([*fresh, *stored])}{wet}"
        else:
            text = f"{self._name(k)}: nothing goes in"
        if self.plan.short_kg[k] > 0.01:
            text += ", which is too green for its browns: it will pack and stink"
        reason = why.computed(
            "what brings the batch into its windows, each week near the aim", sources=_BALANCE, because=_FED_OUT
        )
        return Line(id=f"w{k + 1}", text=text, why=(reason,))

    def _weeks(self) -> Iterator[Week]:
        plan = self.plan
        for t, k in enumerate(self.year.month_of):
            yield Week(
                number=t + 1,
                month=self._name(k),
                goes_in=self._amounts([row[t] for row in plan.used_l]),
                lost=self._amounts([row[t] for row in plan.lost_l]),
                store_litres=sum(row[t] for row in plan.stock_l),
                heap_litres=plan.level_l[t],
            )

    # ------------------------------------------------------------ what is short or left

    def _short(self) -> Iterator[Line]:
        number = 0
        for s, flow in enumerate(self.flows):
            if sum(self.plan.fetched[s]):
                number += 1
                each = joined([f"{count} in {self._name(k)}" for k, count in enumerate(self.plan.fetched[s]) if count])
                text = f"fetch {counted(sum(self.plan.fetched[s]), flow.measure_name)} of {flow.material.name}: {each}"
                reason = why.computed("the fewest that help", why.properties(flow.material), sources=_BALANCE)
                yield Line(id=f"f{number}", text=text, why=(reason,))
        missed = 0
        for batch_number, batch in enumerate(self.plan.batches, 1):
            for text in self._missed(batch_number, batch.misses.carbon_kg, batch.misses.water_kg, batch.misses.air_l):
                missed += 1
                yield Line(id=f"x{missed}", text=text, why=self._targets())
        if self.year.balanced and not self._possible():
            missed += 1
            yield self._impossible(missed)
        lost = sum(map(sum, self.plan.lost_l))
        if (missed and not self.year.balanced) or (self.year.balanced and lost > WORTH_SAYING * self._perishable_l()):
            yield self._otherwise(missed + 1)

    def _impossible(self, number: int) -> Line:
        text = "no balanced batch is possible with what comes: there is nothing dry and brown to go with it"
        sacks = self._sacks_wanted()
        if self._perishable_l() <= 0:
            text = (
                "no balanced batch is possible with what comes: there is nothing green to go with the browns. Leaves "
                "by themselves make leaf mould in a heap of their own, in a year or two"
            )
        elif all(map(self._full, range(self.year.weeks))):
            text = "next to nothing of what comes has room here: more places, or a larger one, or the lawn"
        elif sacks >= 0.5:
            text += (
                f". Put by about {counted(sacks, 'sack')} of dry leaves, or as much straw or torn cardboard, and it is"
            )
        reason = why.computed("carbon for all that spoils, up to the lower edge", *self._targets(), sources=_BALANCE)
        return Line(id=f"x{number}", text=text, why=(reason,))

    def _missed(self, number: int, carbon: float, water: float, air: float) -> Iterator[str]:
        batch = self.plan.batches[number - 1]
        window = self.year.carbon_nitrogen
        if carbon > 0.01 and window is not None:
            low = batch.carbon_nitrogen < window.low
            lack = "carbon" if low else "nitrogen"
            edge = window.low if low else window.high
            is_ = f"carbon to nitrogen {batch.carbon_nitrogen:.0f}"
            yield f"batch {number} has too little {lack}: {is_} where {edge:g} is the edge"
        wet = self.year.moisture
        if water > 0.02 and wet is not None:
            side = "too wet" if batch.moisture_pct > wet.high else "too dry"
            yield f"batch {number} is {side}: {batch.moisture_pct:.0f} % where {wet.low:g} to {wet.high:g} % is wanted"
        if air > 0.5:
            yield f"batch {number} lies too dense: mix in something stiff"

    def _otherwise(self, number: int) -> Line:
        """What the other order would cost."""
        other = plan_year(replace(self.year, balanced=not self.year.balanced))
        out = abs(sum(map(sum, other.lost_l)) - sum(map(sum, self.plan.lost_l)))
        wrong = [n for n, one in enumerate(other.batches, 1) if one.misses.any and one.litres > 1]
        green = [k for k, short in enumerate(other.short_kg) if short > 0.01]
        amiss = [f"batch {n} would be out of its windows" for n in wrong]
        if green:
            amiss.append(f"what goes in from {spans([self._name(k) for k in green], green)} would be too green")
        if self.year.balanced:
            then = joined(amiss) if amiss else "nothing would go wrong"
            text = f"using it all up, {volume_text(out, self.units)} more of what spoils would go in, and {then}"
            if out < 1:
                text = "using it all up would make no difference: there is no room for more"
        else:
            right = "it would be nearer" if amiss else "every batch would be right"
            text = f"leave {volume_text(out, self.units)} more of what spoils out of it, and {right}"
        reason = why.computed("the year planned again the other way round", sources=_BALANCE)
        return Line(id=f"x{number}", text=text, why=(reason,))

    def _left_over(self) -> Iterator[Line]:
        number = 0
        plan = self.plan
        for s, flow in enumerate(self.flows):
            months = [k for k, weeks in self.weeks_of.items() if sum(plan.lost_l[s][t] for t in weeks) > 0.5]
            if months:
                number += 1
                litres = sum(plan.lost_l[s])
                where = spans([self._name(k) for k in months], months)
                out = volume_text(litres, self.units)
                weeks = [t for t in range(self.year.weeks) if plan.lost_l[s][t] > 0.5]
                room = all(self._full(t) or self._browns_in_store(t) for t in weeks)
                for_want = "there is no room for it and its browns" if room else "there are too few browns for it"
                text = f"{flow.material.name}: {out} is left out, in {where}: {for_want}. {outlet(flow)}"
                reason = why.computed(f"{for_want} in those weeks", *self._targets(), sources=_BALANCE)
                yield Line(id=f"l{number}", text=text, why=(reason,))
        for s, flow in enumerate(self.flows):
            unit = flow.stream.unit_l
            if plan.left_l[s] >= unit:
                number += 1
                text = f"{flow.material.name}: {volume_text(plan.left_l[s], self.units)} more comes than is put by"
                yield Line(id=f"l{number}", text=text, why=(why.computed("not needed, or no room to store it"),))
            if plan.stock_l[s][-1] >= unit / 2:
                number += 1
                end = volume_text(plan.stock_l[s][-1], self.units)
                text = f"{flow.material.name}: {end} is still in store when the year ends"
                yield Line(id=f"l{number}", text=text, why=(why.computed("it keeps for the next year"),))

    def _stays_out(self) -> Iterator[Line]:
        names = dict.fromkeys(holding.material for holding in self.told.holdings)
        barred = [name for name in names if is_barred(self.talk, name, self.method)]
        for number, name in enumerate(barred, 1):
            reasons = why.barred(self.talk, name, self.method, self.knowledge)
            said = " ".join(because.because for because in reasons)
            yield Line(id=f"o{number}", text=f"{self.knowledge.materials[name].name}: {said}", why=reasons)


_FED_OUT = "A little brown with every load keeps it sweet; all of it at once would be gone by June."

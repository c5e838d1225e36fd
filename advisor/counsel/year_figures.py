"""The figures behind a household's year: what is asked of the program, what it answers, and words for both."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from advisor.blend.spread import typical
from advisor.blend.year import Year, per_litre, plan_year, weeks_of
from advisor.counsel import why
from advisor.counsel.almanac import Amount
from advisor.counsel.blending import windows_of
from advisor.counsel.plan import Because
from advisor.counsel.seasonal import WEEKS, Flow, calendar, flows, month_number
from advisor.counsel.seasons import MONTHS
from advisor.counsel.settle import container_litres
from advisor.counsel.stock import measure_figure
from advisor.counsel.wording import counted, joined
from advisor.errors import HouseholdError
from advisor.heap.geometry import most_that_fits
from advisor.household.shapes import Household
from advisor.inference.engine import Consultation
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.units import Units, volume_text

#: A smaller share than this of what spoils is not worth saying.
WORTH_SAYING = 0.02
_WEEKS_A_MONTH = WEEKS / 12
_SEPTEMBER = 9


class YearFigures:
    """A household's year with its plan, and the words for its parts."""

    def __init__(
        self,
        talk: Consultation,
        household: Household,
        told: Household,
        knowledge: Knowledge,
        method: str,
        units: Units,
        balanced: bool,
    ) -> None:
        self.talk, self.household, self.told, self.knowledge = talk, household, told, knowledge
        self.method, self.units = method, units
        own = household.year
        start = household.start.month if household.start is not None else _SEPTEMBER
        self.begins = own.begins if own is not None and own.begins is not None else start
        self.flows = tuple(flows(household, self.begins, talk, knowledge, method))
        if not any(sum(flow.stream.comes_l) + flow.stream.there_l for flow in self.flows):
            hint = "say what comes in each week, in have or in [year] arrives"
            raise HouseholdError("nothing comes in through the year", where=household.name, hint=hint)
        self.year = replace(self._year(), balanced=balanced)
        self.plan = plan_year(self.year)
        self.weeks_of = weeks_of(self.year.month_of)

    @property
    def room_l(self) -> float:
        """The dry room there is, as said or guessed; what is there already has its place, even where that is more."""
        own = self.household.year
        return (
            own.storage_l
            if own is not None and own.storage_l is not None
            else self.knowledge.figures["dry-storage-litres"].typical
        )

    def _year(self) -> Year:
        own = self.household.year
        holds = container_litres(self.household)
        container = self.household.answers.get("place.container", ())
        first = str(container[0]) if container and container[0] != "none" else None
        most = most_that_fits(self.household.room, holds, self.method, self.knowledge.figures, first)
        size = holds if holds else most if math.isfinite(most) else self.knowledge.figures["usual-heap-litres"].typical
        windows = windows_of(self.talk, most, holds)
        method = self.knowledge.methods[self.method]
        ripens = method.weeks.typical
        return Year(
            streams=tuple(flow.stream for flow in self.flows),
            month_of=calendar(self.begins),
            storage_l=max(self.room_l, sum(flow.stream.there_l * flow.stream.stored_l_per_l for flow in self.flows)),
            container_l=max(size, 1.0),
            bays=own.bays if own is not None and own.bays > 1 else 2 if "bays" in container else 1,
            ripens_months=max(1, math.ceil(ripens / _WEEKS_A_MONTH)),
            shrink=(method.shrinks_to.typical / 100) ** (1 / ripens),
            carbon_nitrogen=windows.carbon_nitrogen,
            moisture=windows.moisture,
            air_space=windows.air_space,
        )

    def _perishable_l(self) -> float:
        return sum(sum(flow.stream.comes_l) for flow in self.flows if not flow.stream.keeps)

    def _possible(self) -> bool:
        """Whether anything that spoils, or of browns alone anything at all, finds its way into a batch."""
        used = [sum(row) for row in self.plan.used_l]
        if (spoils := self._perishable_l()) <= 0:
            return sum(used) >= 1
        return sum(litres for litres, flow in zip(used, self.flows, strict=True) if not flow.stream.keeps) > (
            WORTH_SAYING * spoils
        )

    def _sacks_wanted(self) -> float:
        """Sacks of dry leaves that would bring all that spoils and is left out to the lower edge of C:N."""
        window = self.year.carbon_nitrogen
        if window is None:
            return 0.0
        wanted = 0.0
        for s, flow in enumerate(self.flows):
            one = per_litre(flow.stream.composition)
            wanted += sum(self.plan.lost_l[s]) * (window.low * one.nitrogen - one.carbon)
        leaf = per_litre(typical(self.knowledge.materials["dry-leaves"]))
        sack = measure_figure("sack", self.household, self.knowledge).typical
        return math.ceil(2 * wanted / ((leaf.carbon - window.low * leaf.nitrogen) * sack)) / 2

    def _full(self, week: int) -> bool:
        return self.plan.level_l[week] > 0.97 * self.year.container_l

    def _browns_in_store(self, week: int) -> bool:
        """Whether browns lie in store at the end of a week, by the measure."""
        stock = zip(self.flows, self.plan.stock_l, strict=True)
        return any(flow.material.role == "brown" and row[week] >= flow.stream.unit_l for flow, row in stock)

    def _targets(self) -> tuple[Because, ...]:
        found: list[Because] = []
        for what in ("carbon-nitrogen", "moisture"):
            aim = self.talk.number("target", "aim", what)
            if aim is not None:
                found += why.reasons(self.talk, Fact("target", "aim", what, aim).key, self.knowledge)
        return tuple(found)

    def _name(self, index: int) -> str:
        return MONTHS[month_number(self.begins, index) - 1]

    def _amounts(self, litres: Sequence[float]) -> tuple[Amount, ...]:
        return tuple(
            Amount(material=flow.stream.id, litres=amount)
            for flow, amount in zip(self.flows, litres, strict=True)
            if amount > 1e-3
        )

    def _counted(self, flow: Flow, litres: float) -> str:
        count = round(litres / flow.stream.unit_l * 2) / 2
        if count < 0.5:
            # Less than half a sack a week is a matter of buckets.
            buckets = round(2 * litres / measure_figure("bucket", self.household, self.knowledge).typical) / 2
            if buckets >= 0.5:
                return f"{counted(buckets, 'bucket')} of {flow.material.name}"
            return f"{volume_text(litres, self.units)} of {flow.material.name}"
        return f"{counted(count, flow.measure_name)} of {flow.material.name}"


def spans(names: Sequence[str], months: Sequence[int]) -> str:
    """ "Oct to Nov", "Apr", "Sep to Oct and Apr to Jun"."""
    runs: list[list[int]] = []
    for place, month in enumerate(months):
        if runs and months[runs[-1][-1]] == month - 1:
            runs[-1].append(place)
        else:
            runs.append([place])
    return joined([names[run[0]] if len(run) == 1 else f"{names[run[0]]} to {names[run[-1]]}" for run in runs])

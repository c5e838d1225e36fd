"""The year as a mixed-integer program, settled by HiGHS one wish after another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

import highspy
import numpy as np

from advisor.blend.program import Quiet
from advisor.blend.shapes import Window
from advisor.blend.year import Batch, Misses, Year, YearPlan, everything, per_litre, ratio, weeks_of, weighed
from advisor.errors import HeapwrightError

#: The same year gets the same plan: one thread, one seed, no clock. A count of nodes ends a search that goes on too
#: long; what has been found by then is used.
_OPTIONS: Mapping[str, bool | int | float | str] = {
    "threads": 1,
    "parallel": "off",
    "random_seed": 0,
    "mip_rel_gap": 1e-5,
    "mip_abs_gap": 1e-6,
    "mip_max_nodes": 400,
    "mip_feasibility_tolerance": 1e-7,
    "primal_feasibility_tolerance": 1e-8,
    "dual_feasibility_tolerance": 1e-8,
    **{f"mip_heuristic_run_{name}": False for name in ("feasibility_jump", "root_reduced_cost", "rins")},
}
#: From this wish on, of how things lie rather than of what is lost, missed or fetched, a thousandth is no matter.
_FINE_WISHES, _NEAR_ENOUGH = 4, 1e-3
#: How much of an earlier wish a later one may take back: less than any bucket shows.
_GIVE = 1e-6

_Row = dict[int, float]


class YearProgram:
    """Columns and rows of one year."""

    def __init__(self, year: Year) -> None:
        self.year = year
        self.weeks_of = weeks_of(year.month_of)
        self.stuff = [per_litre(stream.composition) for stream in year.streams]
        self._low: list[float] = []
        self._high: list[float] = []
        self._whole: list[int] = []
        self._rows: list[tuple[float, float, _Row]] = []
        weeks, months, batches = range(year.weeks), range(year.months), range(year.batches)
        streams = range(len(year.streams))
        self.used = [[self._column(0.0, self._most(s, t)) for t in weeks] for s in streams]
        self.lost = [[self._column(0.0, self._spoils(s, t)) for t in weeks] for s in streams]
        self.stock = [[self._column(0.0, year.storage_l if self._keeps(s) else 0.0) for _ in weeks] for s in streams]
        self.gathered = [[self._column(0.0, self._comes_in(s, k), whole=True) for k in months] for s in streams]
        self.taken = [[self._column(0.0, self._gathers(s, t)) for t in weeks] for s in streams]
        self.fetched = [[self._column(0.0, float(self.year.streams[s].fetch_most), whole=True) for _ in months]
                        for s in streams]  # fmt: skip
        self.open = [[self._column(0.0, 1.0, whole=True) for _ in months] for _ in batches]
        self.begun = [self._column(0.0, 1.0) for _ in months]
        self.into = [[[self._column(0.0, self._month_most(s, k)) for k in months] for _ in batches] for s in streams]
        self.water = [[self._column(0.0, year.container_l) for _ in months] for _ in batches]
        self.level = [self._column(0.0, year.container_l) for _ in weeks]
        self._balances()
        self._batches()
        self._levels()
        self._shares()
        self.misses = [self._windows(b) for b in batches]
        self.short = list(self._months())
        self.stray = dict(self._straying())

    # ------------------------------------------------------------ bounds

    def _keeps(self, s: int) -> bool:
        return self.year.streams[s].keeps

    def _spoils(self, s: int, t: int) -> float:
        stream = self.year.streams[s]
        return 0.0 if stream.keeps else stream.comes_l[t]

    def _gathers(self, s: int, t: int) -> float:
        stream = self.year.streams[s]
        return stream.comes_l[t] if stream.keeps else 0.0

    def _comes_in(self, s: int, k: int) -> float:
        """Whole measures that there are to be put by in a month."""
        litres = sum(self._gathers(s, t) for t in self.weeks_of[k])
        return float(int(litres / self.year.streams[s].unit_l + 1e-9))

    def _fetches_l(self, s: int) -> float:
        return self.year.streams[s].fetch_most * self.year.streams[s].unit_l

    def _most(self, s: int, t: int) -> float:
        stream = self.year.streams[s]
        there = self._ever(s) if stream.keeps else stream.comes_l[t]
        return min(there + self._fetches_l(s), self.year.container_l)

    def _ever(self, s: int) -> float:
        return self.year.streams[s].there_l + sum(self.year.streams[s].comes_l)

    def _month_most(self, s: int, k: int) -> float:
        return sum(self._most(s, t) for t in self.weeks_of[k])

    # ------------------------------------------------------------ rows

    def _balances(self) -> None:
        for s, stream in enumerate(self.year.streams):
            for k, weeks in self.weeks_of.items():
                whole: _Row = {self.taken[s][t]: 1.0 for t in weeks}
                self._keep(0.0, 0.0, {**whole, self.gathered[s][k]: -stream.unit_l})
            for t, k in enumerate(self.year.month_of):
                if stream.keeps:
                    # What is fetched in a month is there from its first week on.
                    row: _Row = {self.stock[s][t]: 1.0, self.used[s][t]: 1.0, self.taken[s][t]: -1.0}
                    if t:
                        row[self.stock[s][t - 1]] = -1.0
                    if t == self.weeks_of[k][0]:
                        row[self.fetched[s][k]] = -stream.unit_l
                    there = stream.there_l if t == 0 else 0.0
                    self._keep(there, there, row)
                else:
                    self._keep(stream.comes_l[t], stream.comes_l[t], {self.used[s][t]: 1.0, self.lost[s][t]: 1.0})
        for t in range(self.year.weeks):
            row = {self.stock[s][t]: stream.stored_l_per_l for s, stream in enumerate(self.year.streams)}
            self._keep(-np.inf, self.year.storage_l, row)

    def _batches(self) -> None:
        year = self.year
        for k in range(year.months):
            self._keep(1.0, 1.0, {self.open[b][k]: 1.0 for b in range(year.batches)})
            for b in range(year.batches):
                if k == 0:
                    self._keep(1.0 if b == 0 else 0.0, 1.0 if b == 0 else 0.0, {self.open[b][0]: 1.0})
                    continue
                row = {self.open[b][k]: 1.0, self.open[b][k - 1]: -1.0}
                if b:
                    row[self.open[b - 1][k - 1]] = -1.0
                self._keep(-np.inf, 0.0, row)
            if k:
                # The number of the open batch goes up by one where one is begun, and nowhere else.
                steps = {self.open[b][k]: float(b) for b in range(year.batches)}
                steps |= {self.open[b][k - 1]: -float(b) for b in range(year.batches)}
                self._keep(0.0, 0.0, {**steps, self.begun[k]: -1.0})
        for b in range(year.bays, year.batches):
            for k in range(year.months):
                for before in range(max(0, k - year.ripens_months), k):
                    self._keep(-np.inf, 1.0, {self.open[b][k]: 1.0, self.open[b - year.bays][before]: 1.0})
        for s in range(len(year.streams)):
            for k, weeks in self.weeks_of.items():
                row = {self.used[s][t]: 1.0 for t in weeks}
                self._keep(0.0, 0.0, {**row, **{self.into[s][b][k]: -1.0 for b in range(year.batches)}})
                for b in range(year.batches):
                    self._keep(-np.inf, 0.0, {self.into[s][b][k]: 1.0, self.open[b][k]: -self._month_most(s, k)})
        for b in range(year.batches):
            for k in range(year.months):
                self._keep(-np.inf, 0.0, {self.water[b][k]: 1.0, self.open[b][k]: -year.container_l})

    def _levels(self) -> None:
        for t, k in enumerate(self.year.month_of):
            added: _Row = {self.used[s][t]: -1.0 for s in range(len(self.year.streams))}
            self._keep(0.0, np.inf, {self.level[t]: 1.0, **added})
            if t:
                first = t == self.weeks_of[k][0]
                row = {self.level[t]: 1.0, **added, self.level[t - 1]: -self.year.shrink}
                if first:
                    row[self.begun[k]] = self.year.container_l
                self._keep(0.0, np.inf, row)

    def _shares(self) -> None:
        streams = self.year.streams
        for s, stream in enumerate(streams):
            if stream.share_cap is None:
                continue
            for b in range(self.year.batches):
                row: _Row = {}
                for other in range(len(streams)):
                    for k in range(self.year.months):
                        row[self.into[other][b][k]] = (1.0 if other == s else 0.0) - stream.share_cap
                self._keep(-np.inf, 0.0, row)

    def _windows(self, b: int) -> tuple[int, int, int]:
        """The windows of a batch; the columns of what it falls short by, of carbon, of water and of air."""
        missed = (self._column(0.0, np.inf), self._column(0.0, np.inf), self._column(0.0, np.inf))
        year = self.year
        if year.carbon_nitrogen is not None:
            for edge, sign in _edges(year.carbon_nitrogen):
                row = self._of_batch(b, [sign * (one.carbon - edge * one.nitrogen) for one in self.stuff])
                self._keep(0.0, np.inf, {**row, missed[0]: 1.0})
        if year.moisture is not None:
            for edge, sign in _edges(year.moisture):
                share = edge / 100.0
                row = self._of_batch(b, [sign * (one.water - share * one.mass) for one in self.stuff])
                row |= dict.fromkeys(self.water[b], sign * (1.0 - share))
                self._keep(0.0, np.inf, {**row, missed[1]: 1.0})
        if year.air_space is not None:
            share = year.air_space.low / 100.0
            row = self._of_batch(b, [1.0 - one.filled - share for one in self.stuff])
            row |= dict.fromkeys(self.water[b], -1.0)
            self._keep(0.0, np.inf, {**row, missed[2]: 1.0})
        return missed

    def _months(self) -> Iterator[int]:
        """For each month the column of the carbon that its loads want to reach the lower edge by themselves."""
        if (window := self.year.carbon_nitrogen) is None:
            return
        weights = [one.carbon - window.low * one.nitrogen for one in self.stuff]
        for weeks in self.weeks_of.values():
            short = self._column(0.0, np.inf)
            row: _Row = {self.used[s][t]: weight for s, weight in enumerate(weights) for t in weeks}
            self._keep(0.0, np.inf, {**row, short: 1.0})
            yield short

    def _of_batch(self, b: int, weights: Sequence[float]) -> _Row:
        return {column: weight for s, weight in enumerate(weights) for column in self.into[s][b]}

    def _straying(self) -> Iterator[tuple[int, float]]:
        """Columns for how far figures stray from their aims, with weights: C:N in each week, moisture in each batch.

        A stray by half the width of the window, in all that comes in the year, counts as 1.
        """
        window = self.year.carbon_nitrogen
        nitrogen, mass = weighed(self.year, self.stuff)
        if window is not None:
            of_one = [one.carbon - window.aim * one.nitrogen for one in self.stuff]
            for t in range(self.year.weeks):
                row = {self.used[s][t]: weight for s, weight in enumerate(of_one)}
                yield self._off(row), 2.0 / ((window.high - window.low) * nitrogen)
        window = self.year.moisture
        if window is not None:
            share = window.aim / 100.0
            for b in range(self.year.batches):
                row = self._of_batch(b, [one.water - share * one.mass for one in self.stuff])
                row |= dict.fromkeys(self.water[b], 1.0 - share)
                yield self._off(row), 200.0 / ((window.high - window.low) * mass)

    def _off(self, row: _Row) -> int:
        """A column no less than how far a row is from nought, either way."""
        off = self._column(0.0, np.inf)
        self._keep(0.0, np.inf, {**row, off: 1.0})
        self._keep(0.0, np.inf, {**{column: -weight for column, weight in row.items()}, off: 1.0})
        return off

    # ------------------------------------------------------------ wishes

    def wishes(self) -> Iterator[_Row]:
        """What is to be made least, in order of weight."""
        spares = zip(self.lost, self.year.streams, strict=True)
        lost = {column: stream.spare for row, stream in spares for column in row}
        whole = everything(self.year, self.stuff)
        missed = {column: 1.0 / each for three in self.misses for column, each in zip(three, whole, strict=True)}
        missed |= dict.fromkeys(self.short, 1.0 / whole[0])
        yield from (missed, lost) if self.year.balanced else (lost, missed)
        yield {column: 1.0 for row in self.fetched for column in row}
        yield dict.fromkeys(self.begun[1:], 1.0)
        yield self.stray
        yield {column: 1.0 for row in self.gathered for column in row}
        yield {column: 1.0 for row in self.water for column in row}
        # What remains open is settled for a low heap early on: stuff is put in when it comes.
        yield {column: 1.0 for row in self.stock for column in row}

    def solve(self) -> YearPlan:
        """Grant the wishes one after another."""
        solver = self._solver()
        came_to: list[float] = []
        values: list[float] = []
        for number, wish in enumerate(self.wishes()):
            if number == _FINE_WISHES:
                solver.setOptionValue("mip_rel_gap", _NEAR_ENOUGH)
            if not wish:
                came_to.append(0.0)
                continue
            values = self._minimise(solver, wish, values)
            reached = sum(weight * values[column] for column, weight in wish.items())
            came_to.append(reached)
            most = reached + _GIVE * max(1.0, abs(reached))
            _add(solver, -highspy.kHighsInf, most, wish)
        return self._plan(values, tuple(came_to))

    def _solver(self) -> Quiet:
        solver = Quiet()  # type: ignore[no-untyped-call]
        for name, value in _OPTIONS.items():
            solver.setOptionValue(name, value)
        infinite = highspy.kHighsInf
        lows = np.array([max(-infinite, low) for low in self._low])
        highs = np.array([min(infinite, high) for high in self._high])
        solver.addVars(len(lows), lows, highs)
        kinds = np.full(len(self._whole), highspy.HighsVarType.kInteger)
        solver.changeColsIntegrality(len(self._whole), np.array(self._whole, np.int32), kinds)
        for low, high, row in self._rows:
            _add(solver, max(-infinite, low), min(infinite, high), row)
        return solver

    def _minimise(self, solver: Quiet, wish: _Row, before: Sequence[float]) -> list[float]:
        count = len(self._low)
        costs = np.zeros(count)
        for column, weight in wish.items():
            costs[column] = weight
        solver.changeColsCost(count, np.arange(count, dtype=np.int32), costs)
        if before:
            known = highspy.HighsSolution()
            known.col_value = list(before)
            solver.setSolution(known)
        if solver.run() == highspy.HighsStatus.kError:
            solver.resetGlobalScheduler(True)  # its threads are shared by the whole process
            if solver.run() == highspy.HighsStatus.kError:
                raise HeapwrightError("the solver refused to look for a year's plan", hint="this is a fault of ours")
        if solver.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
            if before:
                return list(before)
            raise HeapwrightError("no year could be found at all", hint="this is a fault of ours")
        return list(solver.getSolution().col_value)

    # ------------------------------------------------------------ the answer

    def _plan(self, values: Sequence[float], wishes: tuple[float, ...]) -> YearPlan:
        year = self.year
        months = range(year.months)
        batch_of = [max(range(year.batches), key=lambda b: values[self.open[b][k]]) for k in months]
        used = tuple(tuple(_clean(values[column]) for column in row) for row in self.used)
        gathered = tuple(tuple(round(values[column]) for column in row) for row in self.gathered)
        water = tuple(_clean(sum(values[self.water[b][k]] for b in range(year.batches))) for k in months)
        return YearPlan(
            used_l=used,
            lost_l=tuple(tuple(_clean(values[column]) for column in row) for row in self.lost),
            stock_l=tuple(tuple(_clean(values[column]) for column in row) for row in self.stock),
            gathered=gathered,
            fetched=tuple(tuple(round(values[column]) for column in row) for row in self.fetched),
            left_l=tuple(
                _clean(sum(stream.comes_l) - sum(gathered[s]) * stream.unit_l) if stream.keeps else 0.0
                for s, stream in enumerate(year.streams)
            ),
            water_l=water,
            short_kg=tuple(_clean(values[column]) for column in self.short) or (0.0,) * year.months,
            level_l=tuple(_levels(year, used, batch_of)),
            batch_of=tuple(batch_of),
            batches=tuple(self._batch(b, values, used, water, batch_of) for b in sorted(set(batch_of))),
            wishes=wishes,
        )

    def _batch(
        self,
        b: int,
        values: Sequence[float],
        used: Sequence[Sequence[float]],
        water: Sequence[float],
        batch_of: Sequence[int],
    ) -> Batch:
        fed = [k for k, open_ in enumerate(batch_of) if open_ == b]
        litres = [sum(row[t] for k in fed for t in self.weeks_of[k]) for row in used]
        added = sum(water[k] for k in fed)
        carbon = sum(amount * one.carbon for amount, one in zip(litres, self.stuff, strict=True))
        nitrogen = sum(amount * one.nitrogen for amount, one in zip(litres, self.stuff, strict=True))
        mass = sum(amount * one.mass for amount, one in zip(litres, self.stuff, strict=True)) + added
        wet = sum(amount * one.water for amount, one in zip(litres, self.stuff, strict=True)) + added
        missed = [_clean(values[column]) for column in self.misses[b]]
        moisture = 100.0 * wet / mass if mass > 0 else 0.0
        return Batch(fed[0], fed[-1], sum(litres), ratio(carbon, nitrogen), moisture, Misses(*missed))

    # ------------------------------------------------------------ within

    def _column(self, low: float, high: float, *, whole: bool = False) -> int:
        self._low.append(low)
        self._high.append(high)
        if whole:
            self._whole.append(len(self._low) - 1)
        return len(self._low) - 1

    def _keep(self, low: float, high: float, row: _Row) -> None:
        self._rows.append((low, high, {column: weight for column, weight in row.items() if weight != 0.0}))


def _edges(window: Window) -> tuple[tuple[float, float], tuple[float, float]]:
    return (window.low, 1.0), (window.high, -1.0)


def _levels(year: Year, used: Sequence[Sequence[float]], batch_of: Sequence[int]) -> Iterator[float]:
    """What is in the open batch at the end of each week, shrunk by the week."""
    level = 0.0
    pairs = pairwise([year.month_of[0], *year.month_of])
    for t, (before, month) in enumerate(pairs):
        if batch_of[before] != batch_of[month]:
            level = 0.0
        level = level * year.shrink + sum(row[t] for row in used)
        yield level


def _add(solver: Quiet, low: float, high: float, row: _Row) -> None:
    columns = np.fromiter(row.keys(), np.int32, len(row))
    weights = np.fromiter(row.values(), float, len(row))
    solver.addRow(low, high, len(row), columns, weights)


def _clean(value: float) -> float:
    return value if value > 1e-6 else 0.0

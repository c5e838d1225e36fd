"""Whole measures by mixed-integer programming: the one place that knows HiGHS.

Importing this costs about a tenth of a second, so it is imported only when a recipe is asked for.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

import highspy
import numpy as np

from advisor.blend.offers import EXACT, Limit, Line, Task
from advisor.errors import HeapwrightError
from advisor.records import dataclass

#: How far a row may be overstepped, after it was scaled so that its largest coefficient is 1.
TOLERANCE = 1e-9

Options = Mapping[str, bool | int | float | str]

#: The same question gets the same answer: one thread, one seed, no clock; a mix is the best when no other is better
#: by a millionth. A count of nodes, which is the same everywhere, ends the rare search that would take seconds; what
#: has been found by then is used. Left out is what costs more time in programs this small than it saves; the jump
#: heuristic alone takes ten times as long as all the rest.
_OPTIONS: Options = {
    "threads": 1,
    "parallel": "off",
    "random_seed": 0,
    "mip_rel_gap": 1e-6,
    "mip_abs_gap": 1e-7,
    "mip_max_nodes": 500,
    "mip_feasibility_tolerance": TOLERANCE,
    "primal_feasibility_tolerance": TOLERANCE,
    "dual_feasibility_tolerance": TOLERANCE,
    "presolve": "off",
    "mip_allow_restart": False,
    "mip_detect_symmetry": False,
    "mip_heuristic_run_feasibility_jump": False,
}

#: Nearer to its aim than this a figure need not come: no household measure and no table of materials is finer.
#: Our own estimate. It also spares the solver the hunt for the one mix in millions that hits an aim exactly.
CLOSE_CARBON_NITROGEN, CLOSE_MOISTURE_PCT = 0.5, 1.0

Row = Mapping[int, float]


@dataclass(frozen=True, slots=True)
class Found:
    """Where the optimum lies: steps of each offer, litres of water, and every column in order."""

    counts: tuple[int, ...]
    water_l: float
    columns: tuple[float, ...]


class Quiet(highspy.Highs):
    """The solver without its banner."""

    def enableCallbacks(self) -> None:  # noqa: N802 - called while it is made, when its banner would go to the screen
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()  # type: ignore[no-untyped-call]


class Program:
    """How many steps of each offer, and how much water, under limits that are added one by one.

    Columns 0..n-1 are the steps, column n is the water in litres; `column` adds more. `options` are the solver's, where
    others than the usual ones suit.
    """

    def __init__(self, steps: Sequence[tuple[int, int]], most_water_l: float, options: Options | None = None) -> None:
        self._highs = Quiet()  # type: ignore[no-untyped-call]
        for name, value in {**_OPTIONS, **(options or {})}.items():
            self._highs.setOptionValue(name, value)
        self.offers = len(steps)
        self.water = self.offers
        self._bounds: list[tuple[float, float]] = []
        self._whole: set[int] = set()
        for least, most in steps:
            self.column(least, most, whole=True)
        self.column(0.0, most_water_l)

    def column(self, low: float, high: float, *, whole: bool = False) -> int:
        """A further unknown; returns its number."""
        self._highs.addCol(0.0, low, high, 0, np.empty(0, np.int32), np.empty(0))
        number = len(self._bounds)
        self._bounds.append((low, high))
        if whole:
            self._highs.changeColIntegrality(number, highspy.HighsVarType.kInteger)
            self._whole.add(number)
        return number

    def limit(self, limit: Limit, allowance: float = 0.0) -> None:
        """Keep a limit, or let it fall short by no more than `allowance`."""
        self.at_most(limit.excess(allowance))

    def at_most(self, line: Line, most: float = 0.0, extra: Row | None = None) -> None:
        """Keep a line, plus `extra` on other columns, at or below `most`."""
        self.keep({**self.row(line), **(extra or {})}, most - line.constant)

    def at_least(self, line: Line, least: float, extra: Row | None = None) -> None:
        """Keep a line, plus `extra` on other columns, at or above `least`."""
        turned = {column: -weight for column, weight in (extra or {}).items()}
        self.at_most(line.times(-1.0), -least, turned)

    def row(self, line: Line) -> dict[int, float]:
        """A line as weights on columns."""
        return {column: weight for column, weight in enumerate((*line.steps, line.water)) if weight != 0.0}

    def minimise(self, row: Row) -> Found | None:
        """The steps and water that make a row least; None if the limits leave nothing."""
        scale = max((abs(weight) for weight in row.values()), default=1.0) or 1.0
        costs = np.zeros(len(self._bounds))
        for column, weight in row.items():
            costs[column] = weight / scale
        self._highs.changeColsCost(len(costs), np.arange(len(costs), dtype=np.int32), costs)
        self._run()
        if self._highs.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
            return None
        values = tuple(
            float(round(value)) if column in self._whole else value
            for column, value in enumerate(self._highs.getSolution().col_value)
        )
        counts = tuple(int(value) for value in values[: self.offers])
        return Found(counts, max(0.0, values[self.water]), values)

    def _run(self) -> None:
        if self._highs.run() != highspy.HighsStatus.kError:
            return
        # Its threads are shared by the whole process, and somebody else has set up another number of them.
        self._highs.resetGlobalScheduler(True)
        if self._highs.run() == highspy.HighsStatus.kError:
            raise HeapwrightError("the solver refused to look for a recipe", hint="this is a fault of ours")

    def up_to(self, row: Row, enough: float) -> Row:
        """The wish for as much of a row as is enough."""
        reached = self.column(0.0, enough)
        self.keep({reached: 1.0, **{column: -weight for column, weight in row.items()}}, 0.0)
        return {reached: -1.0}

    def grant(self, wishes: Iterable[Row]) -> Found | None:
        """Make each of several rows least in turn, giving up nothing of the earlier ones.

        Returns None if the limits leave nothing.
        """
        found: Found | None = None
        for wish in wishes:
            if found is None or not self._is_least(wish, found):
                better = self.minimise(wish)
                if better is None:
                    return found
                found = better
            self._hold(wish, found)
        return found

    def _is_least(self, row: Row, found: Found) -> bool:
        """Whether no mix at all could do better for a row: each of its columns is at its bound already."""
        return all(
            column < len(found.columns) and found.columns[column] == self._bounds[column][weight < 0]
            for column, weight in row.items()
        )

    def _hold(self, row: Row, found: Found) -> None:
        """Give up nothing of what was found for a row, from now on."""
        scale = max((abs(weight) for weight in row.values()), default=1.0) or 1.0
        reached = sum(weight * found.columns[column] for column, weight in row.items())
        self.keep(row, reached + 10 * TOLERANCE * scale)

    def keep(self, row: Row, most: float) -> None:
        """Keep a row at or below `most`."""
        scale = max((abs(weight) for weight in row.values()), default=0.0)
        if scale == 0.0:
            row, scale = {self.water: 0.0}, 1.0  # still to be kept: 0 <= most may fail
        columns = np.fromiter(row.keys(), np.int32, len(row))
        weights = np.fromiter((weight / scale for weight in row.values()), float, len(row))
        self._highs.addRow(-highspy.kHighsInf, most / scale, len(row), columns, weights)


def settle(task: Task, allowances: Sequence[float] = ()) -> Found | None:
    """The best mix, one wish after another (see recipe.py); None if the limits leave nothing.

    Args:
        task: what is to be mixed.
        allowances: how far each edge may fall short; none if left out.
    """
    program = under_limits(task, allowances)
    return program.grant(_wishes(program, task))


def under_limits(task: Task, allowances: Sequence[float] = ()) -> Program:
    """A program for a task: its edges may fall short by the allowances, by nothing if left out."""
    steps = [(offer.steps if offer.id in task.all_of else 0, offer.steps) for offer in task.offers]
    program = Program(steps, task.most_water_l)
    for limit in task.kept:
        program.limit(limit)
    for limit, allowance in zip(task.edges, allowances or [0.0] * len(task.edges), strict=True):
        program.limit(limit, allowance)
    program.at_least(task.food, 1.0)
    return program


def _wishes(program: Program, task: Task) -> Iterator[Row]:
    """What is to be made least, in order of weight."""
    litres = tuple(offer.step_l for offer in task.offers)
    fills = task.mix.volume.steps
    keeps = [offer.storable for offer in task.offers]
    own = (offer.storable for offer in task.offers if offer.id not in task.all_of)
    if all(own) and task.windows.volume_l is None:
        keeps = [False] * len(keeps)  # with no size to reach and nothing that spoils, all of it is to be used
    yield chosen(litres, [-1.0 if offer.perishable else 0.0 for offer in task.offers])
    yield chosen(litres, [0.0 if kept else -1.0 for kept in keeps])
    if (size := task.windows.volume_l) is not None and any(keeps):
        yield program.up_to(chosen(fills, [1.0] * len(fills)), size.aim)
    yield _straying(program, task)
    yield chosen(litres, [1.0 if kept else 0.0 for kept in keeps])
    yield {program.water: 1.0}
    yield chosen(litres, [-offer.preference for offer in task.offers])
    yield chosen(litres, tie_weights(len(litres)))


def chosen(litres: Sequence[float], weights: Sequence[float]) -> Row:
    """Litres of the offers, each by a weight, as weights on columns."""
    return {
        column: each * weight
        for column, (each, weight) in enumerate(zip(litres, weights, strict=True))
        if weight != 0.0
    }


def _straying(program: Program, task: Task) -> Row:
    """How far C:N and moisture stray from their aims beyond what is close enough, each by its window's half-width.

    A stray of one unit in the whole stock counts as 1, and of one unit in half of the stock as a half: weighed so by
    the nitrogen and by the mass in the heap, both are straight lines.
    """
    mix, straying = task.mix, {}
    everything = [offer.steps for offer in task.offers]
    for window, of, per, close in (
        (task.windows.carbon_nitrogen, mix.carbon, mix.nitrogen, CLOSE_CARBON_NITROGEN),
        (task.windows.moisture, mix.water.times(100.0), mix.mass, CLOSE_MOISTURE_PCT),
    ):
        whole = per.at(everything, 0.0)
        if window is None or whole <= 0.0:
            continue
        stray = program.column(0.0, highspy.kHighsInf)
        program.at_most(of.minus(per.times(window.aim + close)), 0.0, {stray: -whole})
        program.at_most(per.times(window.aim - close).minus(of), 0.0, {stray: -whole})
        straying[stray] = 1.0 / max((window.high - window.low) / 2.0, close)
    return straying


def tie_weights(count: int) -> list[float]:
    """Square roots of the first primes: no two different whole-number sums of them are equal."""
    primes: list[int] = []
    number = 2
    while len(primes) < count:
        if all(number % prime for prime in primes):
            primes.append(number)
        number += 1
    return [math.sqrt(prime) for prime in primes]


def widen(task: Task) -> tuple[tuple[float, ...], Found] | None:
    """How far each edge has to give way when no mix meets them all.

    One rank after another, the later ones left open until their turn: first all edges of a rank by the same share, the
    smallest that leaves a mix; then each of its edges alone, in order, is brought back as far as the others allow.

    Returns:
        What each edge may fall short by, and a mix within that. None if not even one step of anything fits.
    """
    found = under_limits(replace(task, ranks=())).minimise({0: 0.0})
    if found is None:
        return None
    allowances: list[float] = []
    for place, rank in enumerate(task.ranks):
        so_far = replace(task, ranks=task.ranks[: place + 1])
        numbers = range(len(allowances), len(allowances) + len(rank))
        worst, found = _least_worst(so_far, numbers, allowances, found)
        allowances += [worst for _ in rank]
        for number in numbers if worst > 2 * EXACT else ():
            allowances[number], found = _least_worst(so_far, [number], allowances, found)
    return tuple(allowances), found


def _least_worst(
    task: Task, open_edges: Sequence[int], allowances: Sequence[float], found: Found
) -> tuple[float, Found]:
    """The least that the worst of some edges can fall short by, the other edges held to their allowances.

    The greatest of several ratios of straight lines is made least by the method of Dinkelbach, as generalised
    by Crouzeix, Ferland and Schaible (1985, from memory): a few programs, each from the best mix so far.
    """

    def worst_of(mix: Found) -> float:
        return max(task.edges[number].short(mix.counts, mix.water_l) for number in open_edges)

    worst = worst_of(found) if open_edges else 0.0
    while worst > EXACT:
        program = under_limits(replace(task, ranks=()))
        gain = program.column(0.0, 1.0)
        for number, edge in enumerate(task.edges):
            if number in open_edges:
                need = edge.need.at(found.counts, found.water_l)
                program.at_most(edge.excess(worst), 0.0, {gain: need} if need > 0.0 else None)
            else:
                program.limit(edge, allowances[number])
        better = program.minimise({gain: -1.0})
        if better is None or worst_of(better) >= worst - EXACT:
            break
        worst, found = worst_of(better), better
    return worst + EXACT, found

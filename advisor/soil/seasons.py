"""Rebuilding a spent soil in steps, laid out as a calendar from the frosts.

Common practice: half an inch worked only into the top 2 to 3 inches in the first year, under oats with field peas; an
inch in the second, with buckwheat and rye; vegetables in rotation from the third; from the fifth only upkeep. The
steps answer to the checks: `next_step` moves on sooner where the structure is good, and stays where it is poor.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final, Literal

from advisor.blend.shapes import Range
from advisor.heap.ranges import Figures, figure, plain
from advisor.knowledge.shapes import CropFamily, GreenManure
from advisor.soil.green_manures import Season, Window, cutting, planting_from, seed_grams, sowing
from advisor.soil.spreading import volume_litres

Step = Literal[1, 2, 3, 4, 5]
Structure = Literal["good", "fair", "poor"]
What = Literal["check", "spread", "sow", "cut", "wait", "plant", "cover"]

LAST_STEP: Final = 5

#: The family of crops for each year of a bed's turn, as families are known in rules/crop-families.toml. Common
#: practice: hungry crops after legumes, roots last, never a family on its own heels.
ROTATION: Final = ("legumes", "cabbages", "nightshades", "roots")


@dataclass(frozen=True, slots=True)
class Plot:
    """A bed: its area, the step it begins with, its place in the rotation."""

    name: str
    area_m2: float
    step: Step = 1
    turn: int = 0


@dataclass(frozen=True, slots=True)
class Seed:
    """A crop to sow, with its seed in grams."""

    crop: str
    grams: Range


@dataclass(frozen=True, slots=True)
class Task:
    """Something to do in a window of days: with compost (litres, cm deep, worked in cm), seed, or a family of crops."""

    what: What
    window: Window
    litres: float = 0.0
    depth_cm: float = 0.0
    worked_in_cm: float = 0.0
    seeds: tuple[Seed, ...] = ()
    family: str = ""


@dataclass(frozen=True, slots=True)
class Move:
    """The step of the year after, and the reason in a word."""

    step: Step
    reason: Literal["by-calendar", "sooner", "stays", "upkeep"]


@dataclass(frozen=True, slots=True)
class Year:
    """One season of one bed."""

    plot: Plot
    step: Step
    season: Season
    tasks: tuple[Task, ...]
    move: Move | None  # how this step was come to; None in the first year


def next_step(step: Step, structure: Structure | None) -> Move:
    """From this year's step to the next, by the structure that the spade shows at the end of it.

    Good structure skips the second year of green manure; poor structure repeats a year of building, and sends a bed of
    vegetables back to green manures; with fair structure, or none checked, the calendar decides.
    """
    if structure == "poor":
        return Move(1 if step == 1 else 2, "stays")
    if structure == "good" and step == 1:
        return Move(3, "sooner")
    if step == LAST_STEP:
        return Move(5, "upkeep")
    return Move(step + 1, "by-calendar")  # type: ignore[arg-type]  # below the last step


def years(
    plot: Plot,
    seasons: Sequence[Season],
    crops: Mapping[str, GreenManure],
    families: Mapping[str, CropFamily],
    figures: Figures,
    *,
    starts: date | None = None,
    structures: Mapping[int, Structure] | None = None,
) -> tuple[Year, ...]:
    """The seasons of one bed, in order.

    Args:
        seasons: one after another; the spring after the last is taken to come a year after its own.
        starts: no task before this day; what its window leaves is used, or the next crop that fits.
        structures: what the spade showed at the end of season 0, 1, 2 ...; a season not named was not checked.

    Raises:
        ValueError: a bed without area, or no season.
        KeyError: a crop or family that the rule base has not.
    """
    if not plot.area_m2 > 0:
        raise ValueError("a bed has some area")
    if not seasons:
        raise ValueError("there is no season to plan")
    step, move = plot.step, None
    found: list[Year] = []
    grown = 0  # years of vegetables so far: the rotation goes on from there
    for number, season in enumerate(seasons):
        spring = (
            seasons[number + 1].last_frost if number + 1 < len(seasons) else season.last_frost + timedelta(days=365)
        )
        layout = _Layout(plot, season, spring, crops, figures, starts if number == 0 else None)
        previous = found[-1].step if found else None
        family = ROTATION[(plot.turn + grown) % len(ROTATION)]
        grown += step >= 3
        families[family]  # a family that is not in the rule base is a fault here, not on the page
        found.append(Year(plot, step, season, layout.tasks(step, family, previous), move))
        move = next_step(step, (structures or {}).get(number))
        step = move.step
    return tuple(found)


class _Layout:
    """Lays out one season of one bed."""

    def __init__(
        self,
        plot: Plot,
        season: Season,
        next_spring: date,
        crops: Mapping[str, GreenManure],
        figures: Figures,
        starts: date | None,
    ) -> None:
        self.plot, self.season, self.spring, self.crops, self.figures = plot, season, next_spring, crops, figures
        self.starts = starts or date.min

    def tasks(self, step: Step, family: str, previous: Step | None) -> tuple[Task, ...]:
        # Oats and peas of the first step die in the frost; rye of the later ones stands until it is cut.
        rye, free = self.rye_cut() if previous is not None and previous >= 2 else ([], self.season.last_frost)
        found = self.first() if step == 1 else self.second() if step == 2 else self.vegetables(family, step, free)
        return tuple(sorted((self.check(), *rye, *found), key=lambda task: task.window.opens))

    # ------------------------------------------------------------ the steps

    def first(self) -> list[Task]:
        """Half an inch, oats with field peas, and the same again to stand over winter."""
        spring = self.green(("oats", "field-peas"))
        if spring is None:
            return [*self.dress("dressing-rebuild-first-cm", self.season.last_frost), *self.late()]
        sow, cut = spring
        tasks = [*self.dress("dressing-rebuild-first-cm", sow.window.opens), sow, cut]
        autumn = Window(self.autumn(-10), self.autumn(-6))
        if cut.window.closes <= autumn.closes:
            opens = max(autumn.opens, cut.window.closes)
            tasks.append(Task("sow", Window(opens, autumn.closes), seeds=self.seeds(("oats", "field-peas"))))
        return [*tasks, self.cover()]

    def second(self) -> list[Task]:
        """An inch, buckwheat in the warm months, rye over winter."""
        summer = self.green(("buckwheat",))
        if summer is None:
            return [*self.dress("dressing-rebuild-second-cm", self.season.last_frost), *self.late()]
        sow, cut = summer
        return [*self.dress("dressing-rebuild-second-cm", sow.window.opens), sow, cut, *self.late()]

    def vegetables(self, family: str, step: Step, opens: date) -> list[Task]:
        """Crops in rotation, clover between the rows, rye over winter."""
        tasks: list[Task] = []
        name = "dressing-upkeep-cm"
        depth = figure(self.figures, name).low if step == LAST_STEP else figure(self.figures, name).typical
        tasks += self.dress(name, opens, depth)
        opens = max(opens, self.starts)
        if opens < self.season.first_frost:
            tasks.append(Task("plant", Window(opens, self.season.first_frost), family=family))
            clover = Window(opens + timedelta(weeks=4), opens + timedelta(weeks=8))
            if clover.closes < self.season.first_frost:
                tasks.append(Task("sow", clover, seeds=self.seeds(("white-clover",))))
        return [*tasks, *self.late()]

    def rye_cut(self) -> tuple[list[Task], date]:
        """Last winter's rye cut, the wait after it, and the first day on which the bed is free."""
        cut = Window(self.season.last_frost - timedelta(weeks=2), self.season.last_frost)
        wait = planting_from(self.crops["winter-rye"], cut.opens)
        rye = (Seed("winter-rye", Range(0, 0, 0)),)
        return [Task("cut", cut, seeds=rye), Task("wait", Window(cut.opens, wait.opens), seeds=rye)], wait.opens

    def late(self) -> list[Task]:
        """Rye for the winter, if there is time to sow it; a mulch either way."""
        window = sowing(self.crops["winter-rye"], self.season)
        if window is None or window.closes < self.starts:
            return [self.cover()]
        opens = max(window.opens, self.starts)
        return [Task("sow", Window(opens, window.closes), seeds=self.seeds(("winter-rye",))), self.cover()]

    # ------------------------------------------------------------ pieces

    def check(self) -> Task:
        """The checks, in the same weeks each year: moist ground, before anything is spread."""
        opens = max(self.season.last_frost - timedelta(weeks=8), self.starts)
        closes = self.season.last_frost - timedelta(weeks=6)
        return Task("check", Window(opens, max(closes, opens + timedelta(weeks=1))))

    def green(self, names: tuple[str, ...]) -> tuple[Task, Task] | None:
        """Sowing and cutting of crops sown together; None if their window has closed before the start."""
        first = self.crops[names[0]]
        window = sowing(first, self.season)
        if window is None or window.closes < self.starts:
            return None
        opens = max(window.opens, self.starts)
        cuts = [cutting(self.crops[name], opens, self.spring) for name in names]
        # All are cut together, before the first of them has set seed.
        cut = Window(min(each.opens for each in cuts), min(each.closes for each in cuts))
        seeds = self.seeds(names)
        return Task("sow", Window(opens, window.closes), seeds=seeds), Task("cut", cut, seeds=seeds)

    def dress(self, name: str, before: date, depth: float | None = None) -> list[Task]:
        deep = figure(self.figures, name).typical if depth is None else depth
        worked = figure(self.figures, "worked-in-rebuild-cm").typical
        day = max(before - timedelta(weeks=1), self.starts)
        window = Window(day, max(before, day))
        litres = volume_litres(self.plot.area_m2, deep)
        return [Task("spread", window, litres=litres, depth_cm=deep, worked_in_cm=worked)]

    def seeds(self, names: tuple[str, ...]) -> tuple[Seed, ...]:
        mixed = len(names) > 1
        return tuple(
            Seed(name, plain(seed_grams(self.plot.area_m2, self.crops[name], self.figures, mixed=mixed)))
            for name in names
        )

    def cover(self) -> Task:
        return Task("cover", Window(self.autumn(0), self.spring))

    def autumn(self, weeks: int) -> date:
        return self.season.first_frost + timedelta(weeks=weeks)

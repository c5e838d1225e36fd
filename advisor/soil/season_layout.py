"""One season of one bed: what is checked, spread, sown, cut, planted and let live, and in which weeks.

Common practice: half an inch worked only into the top 2 to 3 inches in the first year, under oats with field peas; an
inch in the second, with buckwheat and rye; vegetables in rotation from the third; from the fifth only upkeep. Where it
never freezes, cowpeas with buckwheat stand for oats with peas, and cowpeas for rye, which wants a winter.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from typing import Final, Literal

from advisor.blend.shapes import Range
from advisor.heap.ranges import Figures, exactly, figure, plain, scaled, times
from advisor.knowledge.soil_shapes import GreenManure, LivingMulch
from advisor.records import dataclass
from advisor.soil.green_manures import Season, Window, cutting, planting_from, seed_grams, sowing
from advisor.soil.spreading import volume_litres

Step = Literal[1, 2, 3, 4, 5]
What = Literal["check", "spread", "sow", "cut", "wait", "plant", "cover"]

LAST_STEP: Final = 5


#: Which living mulches suit a step and a family of crops, by their names in rules/living-mulches.toml, the best first.
#: The family is empty for a bed that stands, of shrubs or flowers.
Between = Callable[[Step, str], tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Plot:
    """A bed: its area, the step it begins with, its place in the rotation.

    `dressing_cm` and `worked_in_cm` are a dressing that was asked for, in the first season alone; `stands_cm` is how
    deep a bed is dressed that is not replanted, shrubs or `lawn`: it has no steps and no rotation. `food` is what
    the soil is fit for: all crops, those of which the fruit is eaten, or none.
    """

    name: str
    area_m2: float
    step: Step = 1
    turn: int = 0
    rotation: tuple[str, ...] = ()  # families in their turn; that of common practice if empty
    dressing_cm: float | None = None
    worked_in_cm: float | None = None
    stands_cm: float | None = None
    lawn: bool = False
    food: Literal["all", "fruits", "none"] = "all"


@dataclass(frozen=True, slots=True)
class Seed:
    """A crop to sow, with its seed in grams."""

    crop: str
    grams: Range


@dataclass(frozen=True, slots=True)
class Task:
    """Something to do in a window of days: with compost (litres, cm deep, worked in cm), seed, or a family of crops.

    `between` names a living mulch; `plants` is how many of it are set out, if it is not sown.
    """

    what: What
    window: Window
    litres: float = 0.0
    depth_cm: float = 0.0
    worked_in_cm: float = 0.0
    seeds: tuple[Seed, ...] = ()
    family: str = ""
    between: str = ""
    plants: Range | None = None


@dataclass(frozen=True, slots=True)
class Tables:
    """What a season is laid out by."""

    crops: Mapping[str, GreenManure]
    mulches: Mapping[str, LivingMulch]
    figures: Figures
    between: Between
    small_seeded: frozenset[str] = frozenset()  # families sown in place from small seed


class Layout:
    """Lays out one season of one bed."""

    def __init__(
        self,
        plot: Plot,
        season: Season,
        next_spring: date,
        tables: Tables,
        starts: date | None = None,
        settled: frozenset[str] = frozenset(),
    ) -> None:
        """`settled` are living mulches that were set out in a year before, and are still there."""
        self.plot, self.season, self.spring, self.tables = plot, season, next_spring, tables
        self.settled = settled
        self.crops, self.figures = tables.crops, tables.figures
        self.starts = starts or date.min

    def tasks(self, step: Step, family: str, previous: Step | None) -> tuple[Task, ...]:
        """Everything of a season, by the day on which it may begin."""
        if self.plot.stands_cm is not None:
            found = self.standing(self.plot.stands_cm)
        else:
            # Oats and peas of the first step die in the frost; what the later ones leave stands until it is cut.
            stood, free = (
                self.winter_cut(family) if previous is not None and previous >= 2 else ([], self.season.last_frost)
            )
            made = self.first() if step == 1 else self.second() if step == 2 else self.vegetables(family, step, free)
            found = [*stood, *made]
        return tuple(sorted((self.check(), *found), key=lambda task: task.window.opens))

    # ------------------------------------------------------------ the steps

    def first(self) -> list[Task]:
        """Half an inch, oats with field peas, and the same again to stand over winter."""
        names: tuple[str, ...] = ("oats", "field-peas") if self.season.freezes else ("cowpeas", "buckwheat")
        autumn = Window(
            self.autumn(-self.weeks("rebuild-autumn-opens-weeks")),
            self.autumn(-self.weeks("rebuild-autumn-closes-weeks")),
        )
        spring = self.green(names, autumn.closes)
        if spring is None:
            # Begun too late for these: buckwheat has the whole summer.
            spring = self.green(("buckwheat",), autumn.closes)
        if spring is None:
            return [*self.dress("dressing-rebuild-first-cm", self.season.last_frost), *self.late()]
        sow, cut = spring
        tasks = [*self.dress("dressing-rebuild-first-cm", sow.window.opens), sow, cut]
        if cut.window.closes <= autumn.closes:
            opens = max(autumn.opens, cut.window.closes)
            tasks.append(Task("sow", Window(opens, autumn.closes), seeds=self.seeds(names)))
        return [*tasks, self.cover()]

    def second(self) -> list[Task]:
        """An inch, buckwheat in the warm months, rye over winter."""
        late = next((task.window.opens for task in self.late() if task.what == "sow"), self.season.first_frost)
        summer = self.green(("buckwheat",), late)
        if summer is None:
            return [*self.dress("dressing-rebuild-second-cm", self.season.last_frost), *self.late()]
        sow, cut = summer
        return [*self.dress("dressing-rebuild-second-cm", sow.window.opens), sow, cut, *self.late()]

    def vegetables(self, family: str, step: Step, opens: date) -> list[Task]:
        """Crops in rotation, something living or lying between the rows, rye over winter."""
        tasks: list[Task] = []
        name = "dressing-upkeep-cm"
        depth = figure(self.figures, name).low if step == LAST_STEP else figure(self.figures, name).typical
        tasks += self.dress(name, opens, depth)
        opens = max(opens, self.starts)
        if opens < self.season.first_frost:
            tasks.append(Task("plant", Window(opens, self.season.first_frost), family=family))
            tasks += self.between(self.tables.between(step, family), opens)
        return [*tasks, *self.late()]

    def standing(self, depth_cm: float) -> list[Task]:
        """A bed that is not replanted: a mulch, and something low among what stands."""
        if self.plot.lawn:
            return self.dress("", self.season.last_frost, depth_cm)
        laid_on = [replace(task, worked_in_cm=0.0) for task in self.dress("", self.season.last_frost, depth_cm)]
        opens = max(self.season.last_frost, self.starts)
        among = self.between(self.tables.between(LAST_STEP, ""), opens) if opens < self.season.first_frost else []
        return [*laid_on, *among, self.cover()]

    def winter_cut(self, family: str) -> tuple[list[Task], date]:
        """What stood over winter cut, the wait after it, and the first day on which the bed is free."""
        name = "winter-rye" if self.season.freezes else "cowpeas"
        cut = Window(self.season.last_frost - timedelta(weeks=2), self.season.last_frost)
        wait = planting_from(self.crops[name], cut.opens)
        free = wait.closes if family in self.tables.small_seeded else wait.opens
        stood = (Seed(name, exactly(0.0)),)
        return [Task("cut", cut, seeds=stood), Task("wait", Window(cut.opens, free), seeds=stood)], free

    def late(self) -> list[Task]:
        """Rye for the winter, if there is time to sow it; a mulch either way."""
        name = "winter-rye" if self.season.freezes else "cowpeas"
        window = sowing(self.crops[name], self.season)
        if not self.season.freezes:
            window = Window(self.autumn(-4), self.autumn(2))
        if window is None or window.closes < self.starts:
            return [self.cover()]
        opens = max(window.opens, self.starts)
        return [Task("sow", Window(opens, window.closes), seeds=self.seeds((name,))), self.cover()]

    # ------------------------------------------------------------ between the rows

    def between(self, names: tuple[str, ...], planted: date) -> list[Task]:
        """The living mulches there is time for; straw or leaves if there is none."""
        found = [task for name in names if (task := self.living(name, planted)) is not None]
        if found or self.plot.stands_cm is not None:
            return found  # what stands has its mulch
        lying = Window(planted + timedelta(weeks=4), self.season.first_frost)
        return [Task("cover", lying, between="straw")] if lying.opens <= lying.closes else []

    def living(self, name: str, planted: date) -> Task | None:
        """One of them: when it is begun, with its seed or plants; None if the season leaves no time."""
        if name in self.settled:
            return None
        mulch = self.tables.mulches[name]
        after = [planted + timedelta(weeks=weeks) for weeks in mulch.after_crop_weeks]
        opens = max(after[0], self.season.last_frost + timedelta(weeks=mulch.after_frost_weeks))
        closes = min(after[1], self.season.first_frost - timedelta(weeks=mulch.before_frost_weeks))
        if opens > closes:
            return None
        window = Window(opens, closes)
        covered = scaled(figure(self.figures, "living-mulch-share-pct"), self.plot.area_m2 / 100)
        if mulch.grams_per_m2 is not None:
            return Task("sow", window, seeds=(Seed(name, times(covered, mulch.grams_per_m2)),), between=name)
        if mulch.plants_per_m2 is not None:
            return Task("sow", window, plants=times(covered, mulch.plants_per_m2), between=name)
        return Task("cover", window, between=name)

    # ------------------------------------------------------------ pieces

    def check(self) -> Task:
        """The checks, in the same weeks each year: moist ground, before anything is spread."""
        opens = max(
            self.season.last_frost - timedelta(weeks=self.weeks("soil-check-opens-weeks")),
            self.starts,
        )
        closes = self.season.last_frost - timedelta(weeks=self.weeks("soil-check-closes-weeks"))
        return Task("check", Window(opens, max(closes, opens + timedelta(weeks=1))))

    def green(self, names: tuple[str, ...], before: date) -> tuple[Task, Task] | None:
        """Sowing and cutting of crops sown together; None if their window has closed before the start.

        They are sown while there is time to cut them, and to wait after that, before the day of the next sowing; where
        there is none, at once.
        """
        window = sowing(self.crops[names[0]], self.season)
        if window is None or window.closes < self.starts:
            return None
        opens = max(window.opens, self.starts)
        takes = self.cut_together(names, opens).closes - self.grows_from(opens)
        wait = timedelta(weeks=max(self.crops[name].wait_weeks[1] for name in names))
        closes = min(window.closes, before - wait - takes)
        first = self.cut_together(names, opens)
        cut = first if closes < opens else Window(first.opens, self.cut_together(names, closes).closes)
        seeds = self.seeds(names)
        sow = Window(opens, window.closes if closes < opens else closes)
        return Task("sow", sow, seeds=seeds), Task("cut", cut, seeds=seeds)

    def cut_together(self, names: tuple[str, ...], sown: date) -> Window:
        """When crops sown together on a day are cut: all of them, before the first has set seed."""
        cuts = [cutting(self.crops[name], self.grows_from(sown), self.spring) for name in names]
        return Window(min(each.opens for each in cuts), min(each.closes for each in cuts))

    def grows_from(self, sown: date) -> date:
        """The day from which what was sown grows."""
        if not self.season.freezes:
            return sown
        return max(sown, self.season.last_frost - timedelta(weeks=self.weeks("cold-ground-weeks")))

    def dress(self, name: str, before: date, depth: float | None = None) -> list[Task]:
        """Compost before a day: so deep as was asked for, as `depth` says, or as the figure of that name."""
        deep = self.plot.dressing_cm
        if deep is None:
            deep = figure(self.figures, name).typical if depth is None else depth
        worked = self.plot.worked_in_cm
        if worked is None:
            worked = figure(self.figures, "worked-in-rebuild-cm").typical
        day = max(before - timedelta(weeks=1), self.starts)
        window = Window(day, max(before, day + timedelta(weeks=1)))
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

    def weeks(self, name: str) -> float:
        return figure(self.figures, name).typical

    def autumn(self, weeks: float) -> date:
        return self.season.first_frost + timedelta(weeks=weeks)

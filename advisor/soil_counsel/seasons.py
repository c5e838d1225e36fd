"""Rebuilding a spent soil as a calendar: for these beds, between these frosts, answering to these checks."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from advisor.blend.shapes import Range
from advisor.counsel.plan import Because, Line, Spread
from advisor.counsel.why import computed
from advisor.counsel.why import figure as figure_because
from advisor.counsel.wording import joined
from advisor.errors import HouseholdError
from advisor.heap.ranges import figure
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.soil.green_manures import Season, season_of
from advisor.soil.seasons import ROTATION, Move, Plot, Step, Structure, Task, Year, years
from advisor.soil.spreading import volume_litres
from advisor.soil_counsel.ground import Ground
from advisor.soil_counsel.shapes import FrostFree, Part, SeasonsAnswer, TaskFound, YearFound
from advisor.soil_counsel.soil import Bed, read_beds, together
from advisor.units import Units, area_text, length_text, mass_text, volume_text

MOST_YEARS = 10

#: What each step is, and what to expect to see by its end. Common practice.
_STEPS: dict[int, tuple[str, str]] = {
    1: (
        "half an inch (1.3 cm), and roots: oats with field peas",
        "Expect a looser surface and the first worms; water goes in sooner than it did. The spade may still "
        "turn up lumps.",
    ),
    2: (
        "an inch (2.5 cm), buckwheat in summer, rye in winter",
        "Expect crumbs about the roots and a smell of earth; lumps break by hand.",
    ),
    3: (
        "vegetables, in rotation",
        "Expect fair crops of hungry kinds; the ring drains faster, and worms come up in most spadefuls.",
    ),
    4: (
        "vegetables, in rotation",
        "Expect crumbs down to a spade's depth, and organic matter just beginning to show in a test.",
    ),
    5: ("upkeep", "Expect a soil that needs little more than a thin dressing, a cover and rest from digging."),
}

_MOVES = {
    "sooner": "moved on sooner, for the spade shows good structure",
    "stays": "stays with green manures, for the spade shows poor structure",
    "by-calendar": "as the calendar has it",
    "upkeep": "upkeep from here on",
}


def seasons_answer(
    ground: Ground, knowledge: Knowledge, engine: Engine, *, number: int = 5, units: Units = "metric"
) -> SeasonsAnswer:
    """The calendar of some seasons.

    Args:
        ground: with its frosts, the day from which to plan, and beds of known area.
        number: seasons, 1 to 10.

    Raises:
        HouseholdError: frosts, the start, a bed or its area are missing, or a check's figures cannot be.
    """
    if ground.last_frost is None or ground.first_frost is None:
        raise HouseholdError(
            "when are the last and the first frost?", where=ground.name, hint="as in '04-20' and '10-10'"
        )
    if ground.starts is None:
        raise HouseholdError("from when is it to be planned?", where=ground.name, hint="give a date, as in 2026-03-01")
    if not ground.beds or any(bed.area_m2 is None for bed in ground.beds):
        raise HouseholdError("each bed needs an area", where=ground.name, hint="as in 'A, 1.2 x 6 m'")
    if not 1 <= number <= MOST_YEARS:
        raise HouseholdError(f"{number} seasons cannot be planned", where=ground.name, hint=f"1 to {MOST_YEARS}")
    beds = read_beds(ground, knowledge, engine, units)
    return _Writer(ground, knowledge, units, _seasons(ground, number)).answer(beds)


def _seasons(ground: Ground, number: int) -> list[Season]:
    """Seasons from the one in which, or before which, the start falls."""
    assert ground.last_frost and ground.first_frost and ground.starts  # seen by seasons_answer
    first = next(
        year
        for year in range(ground.starts.year - 1, ground.starts.year + 2)
        if season_of(year, ground.last_frost, ground.first_frost).first_frost > ground.starts
    )
    return [season_of(first + year, ground.last_frost, ground.first_frost) for year in range(number)]


class _Writer:
    def __init__(self, ground: Ground, knowledge: Knowledge, units: Units, seasons: Sequence[Season]) -> None:
        self.ground, self.knowledge, self.units, self.seasons = ground, knowledge, units, seasons
        self.lines = 0

    def answer(self, beds: Sequence[Bed]) -> SeasonsAnswer:
        found: list[YearFound] = []
        parts: list[Part] = []
        laid = [self.laid(place, bed) for place, bed in enumerate(beds)]
        cautions = tuple(together([(one.bed.name, one.judged.cautions) for one in beds], "c", self.units))
        parts.append(Part(title="First of all", lines=tuple(line for line, grave in cautions if grave), grave=True))
        for number in range(len(self.seasons)):
            lines: list[Line] = []
            for bed, of_bed in zip(beds, laid, strict=True):
                year = of_bed[number]
                head = self.head(year, bed, len(beds) > 1)
                tasks = tuple(self.task(task, bed, len(beds) > 1) for task in self.held_back(year.tasks, bed))
                lines += [head, *(task.line for task in tasks), self.expect(year, bed, len(beds) > 1)]
                found.append(YearFound(bed=bed.bed.name, year=number + 1, step=year.step, tasks=tasks))
            season = self.seasons[number]
            title = (
                f"Year {number + 1}: frost-free from {season.last_frost.isoformat()} to "
                f"{season.first_frost.isoformat()}"
            )
            parts.append(Part(title=title, lines=tuple(lines)))
        advice = tuple(
            line for line, _ in together([(one.bed.name, one.judged.advice) for one in beds], "a", self.units)
        )
        parts.append(Part(title="What the checks ask for besides", lines=advice))
        parts.append(Part(title="All the while", lines=self.always()))
        parts.append(Part(title="Take care", lines=tuple(line for line, grave in cautions if not grave)))
        return SeasonsAnswer(
            name=self.ground.name,
            units=self.units,
            parts=tuple(part for part in parts if part.lines),
            years=tuple(found),
            frost_free=tuple(
                FrostFree(last_frost=season.last_frost, first_frost=season.first_frost) for season in self.seasons
            ),
        )

    def laid(self, place: int, bed: Bed) -> tuple[Year, ...]:
        told = bed.bed
        wanted = [ROTATION.index(family) for family in told.crops if family in ROTATION]
        plot = Plot(told.name, told.area_m2 or 0.0, self.first_step(bed), wanted[0] if wanted else place)
        return years(
            plot,
            self.seasons,
            self.knowledge.green_manures,
            self.knowledge.crop_families,
            self.knowledge.figures,
            starts=self.ground.starts,
            structures=self.structures(bed),
        )

    def first_step(self, bed: Bed) -> Step:
        """The step told; or the third at once where the spade shows good structure before anything is done."""
        if bed.bed.step is not None:
            return bed.bed.step
        before = [word for on, word in self.spade(bed) if on <= self.seasons[0].last_frost]
        return 3 if before and before[-1] == "good" else 1

    def structures(self, bed: Bed) -> dict[int, Structure]:
        """What the spade showed between the spring of a season and the spring of the next."""
        found: dict[int, Structure] = {}
        for number, season in enumerate(self.seasons):
            year = season.last_frost.year + 1
            until = season_of(year, _month_day(season.last_frost), _month_day(season.first_frost)).last_frost
            for on, word in self.spade(bed):
                if season.last_frost < on <= until:
                    found[number] = word
        return found

    def spade(self, bed: Bed) -> list[tuple[date, Structure]]:
        return [
            (check.on, read.word)  # type: ignore[misc]  # words of the scale spade-score
            for check, read in bed.checks
            if check.guide == "spade" and check.on is not None
        ]

    def held_back(self, tasks: Iterable[Task], bed: Bed) -> Iterable[Task]:
        """Dressings as the checks allow them."""
        thin = figure(self.knowledge.figures, "dressing-upkeep-cm").low
        for task in tasks:
            if task.what != "spread" or bed.dressing == "full":
                yield task
            elif bed.dressing == "thin":
                depth = min(task.depth_cm, thin)
                yield replace(task, depth_cm=depth, litres=volume_litres(bed.bed.area_m2 or 0.0, depth))

    # ------------------------------------------------------------ lines

    def head(self, year: Year, bed: Bed, several: bool) -> Line:
        name = f"{bed.bed.name}, {area_text(year.plot.area_m2, self.units)}: " if several else ""
        move = "" if year.move is None else f" ({_MOVES[year.move.reason]})"
        text = f"{name}step {year.step}, {_STEPS[year.step][0]}{move}."
        return self.line("y", text, (self.step_why(year), *self.dressing_why(bed)))

    def step_why(self, year: Year) -> Because:
        moved = {
            None: "The first year of the plan.",
            "sooner": "Good structure needs no second year of green manure.",
            "stays": "Poor structure is not yet fit for crops that want digging, feeding and treading.",
            "by-calendar": "Fair structure, or none checked, moves on by the calendar: dig a spade test each spring.",
            "upkeep": "From the fifth year upkeep is enough.",
        }[year.move.reason if isinstance(year.move, Move) else None]
        return computed(f"step {year.step} of 5", sources=("common-practice", "vess-chart"), because=moved)

    def dressing_why(self, bed: Bed) -> tuple[Because, ...]:
        return bed.dressing_why

    def expect(self, year: Year, bed: Bed, several: bool) -> Line:
        name = f"{bed.bed.name}: " if several else ""
        because = computed(
            "what to look for",
            sources=("common-practice", "general-extension-memory"),
            because="Structure changes in one to three years, the share of organic matter in three to five.",
        )
        return self.line("y", f"{name}{_STEPS[year.step][1]}", (because,))

    def task(self, task: Task, bed: Bed, several: bool) -> TaskFound:
        lead = f"{bed.bed.name}, " if several else ""
        when = f"{task.window.opens.isoformat()} to {task.window.closes.isoformat()}"
        return TaskFound(
            what=task.what,
            opens=task.window.opens,
            closes=task.window.closes,
            litres=task.litres,
            depth_cm=task.depth_cm,
            seed_grams={seed.crop: _spread(seed.grams) for seed in task.seeds if seed.grams.high > 0},
            family=task.family,
            line=self.line("y", f"{lead}{when}: {self.say(task)}", self.why(task)),
        )

    def say(self, task: Task) -> str:
        crops = self.knowledge.green_manures
        names = joined([crops[seed.crop].name for seed in task.seeds])
        if task.what == "check":
            return "check the soil while it is moist: spade, ring and worms, in these weeks each year."
        if task.what == "spread":
            top = length_text(task.worked_in_cm / 100, self.units)
            return (
                f"spread {volume_text(task.litres, self.units)} of compost, "
                f"{length_text(task.depth_cm / 100, self.units)} deep, and rake it into the top {top} only."
            )
        if task.what == "sow":
            seeds = [
                f"{crops[seed.crop].name} ({mass_text(seed.grams.typical / 1000, self.units)} of seed)"
                for seed in task.seeds
            ]
            between = " between the rows, as a living mulch" if task.seeds[0].crop == "white-clover" else ""
            return f"sow {joined(seeds)}{between}."
        if task.what == "cut":
            # All are cut together, when the first of them is ready.
            first = min((crops[seed.crop] for seed in task.seeds), key=lambda crop: crop.cut_days or (365, 365))
            low, high = first.wait_weeks
            days = f" ({first.cut_days[0]} to {first.cut_days[1]} days after sowing)" if first.cut_days else ""
            return (
                f"cut the {names} {first.cut}{days}, and leave it lying or work it in no deeper than a hand; "
                f"wait {low} to {high} weeks before you sow."
            )
        if task.what == "wait":
            return f"wait after the {names}: set out plants from the end of this; small seeds come up badly in it."
        if task.what == "plant":
            family = self.knowledge.crop_families[task.family]
            return (
                f"grow {family.name}: {joined(list(family.crops[:4]), 'or')}. Nothing of this family here "
                "again for three years."
            )
        return "leave nothing bare until spring: what stands or lies there stays, and gaps get leaves or straw."

    def why(self, task: Task) -> tuple[Because, ...]:
        crops = self.knowledge.green_manures
        if task.what in ("sow", "cut", "wait"):
            rates = [
                figure_because(f"seed of {crops[seed.crop].name}", crops[seed.crop].grams_per_m2, " g/m2")
                for seed in task.seeds
            ]
            mixed = (
                [
                    figure_because(
                        "of each full rate, two together",
                        figure(self.knowledge.figures, "green-manure-mix-share-pct"),
                        " %",
                    )
                ]
                if len(task.seeds) > 1 and task.what == "sow"
                else []
            )
            cited = dict.fromkeys(source for seed in task.seeds for source in crops[seed.crop].source)
            note = " ".join(crops[seed.crop].note for seed in task.seeds if crops[seed.crop].note)
            return (computed("windows counted from the frosts", *rates, *mixed, sources=cited, because=note),)
        if task.what == "spread":
            return (figure_because("worked in", figure(self.knowledge.figures, "worked-in-rebuild-cm"), " cm"),)
        return (computed("counted from the frosts", sources=("common-practice",)),)

    def always(self) -> tuple[Line, ...]:
        because = (computed("what holds in every year", sources=("common-practice",)),)
        texts = (
            "Never leave it bare. Tread on paths and boards only, and dig no deeper than the rake goes.",
            "Between rows white clover or creeping thyme may live on; chickweed and the like are cut and left, "
            "before they seed.",
            "Cut every green manure before it sets seed: what has seeded is a weed next year.",
            "No lime, ash or fertiliser without a soil test.",
        )
        return tuple(self.line("y", text, because) for text in texts)

    def line(self, prefix: str, text: str, why: tuple[Because, ...]) -> Line:
        self.lines += 1
        return Line(id=f"{prefix}{self.lines}", text=text, why=why)


def _month_day(day: date) -> tuple[int, int]:
    return day.month, day.day


def _spread(spread: Range) -> Spread:
    return Spread(low=spread.low, typical=spread.typical, high=spread.high)

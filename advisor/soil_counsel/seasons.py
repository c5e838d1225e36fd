"""Rebuilding a spent soil as a calendar: for these beds, between these frosts, answering to these checks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from typing import Final

from advisor.counsel.plan import Line
from advisor.counsel.why import computed
from advisor.errors import HouseholdError
from advisor.heap.ranges import figure
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.soil.green_manures import Season, frostless_season, season_of
from advisor.soil.seasons import ROTATION, Plot, Step, Structure, Task, Year, years
from advisor.soil.spreading import volume_litres
from advisor.soil_counsel.between import BetweenRows
from advisor.soil_counsel.ground import DAYS_OF_YEAR, WANTS, Ground, SpreadOn
from advisor.soil_counsel.judging import Why, judge
from advisor.soil_counsel.season_lines import AS_GOOD_AS_DONE, SeasonLines, Shown, dated, from_frosts
from advisor.soil_counsel.shapes import FrostFree, Part, SeasonsAnswer, YearFound
from advisor.soil_counsel.soil import Bed, check_facts, read_beds, together
from advisor.units import Units

MOST_YEARS = 10

#: Frosts by which a calendar is laid out whose frosts nobody told; it is then written in weeks before and after them.
_ANY_LAST, _ANY_FIRST = (4, 15), (10, 15)


#: Beds that are not replanted each year.
_STANDS: Final = ("mulch", "lawn")

#: Families of which the fruit, pod or ear is eaten: what soil with some lead in it is fit for (lead-brochure).
_FRUITING: Final = ("legumes", "gourds", "nightshades", "grasses")


def seasons_answer(
    ground: Ground, knowledge: Knowledge, engine: Engine, *, number: int = 5, units: Units = "metric"
) -> SeasonsAnswer:
    """The calendar of some seasons.

    Args:
        ground: with beds of known area; with its frosts or the word that there are none, and then with the day from
            which to plan. Without frosts the calendar is written in weeks from them, and `years` is empty.
        number: seasons, 1 to 10.

    Raises:
        HouseholdError: the start, a bed or its area is missing, or a check's figures cannot be.
    """
    told = ground.frost_free or (ground.last_frost is not None and ground.first_frost is not None)
    if told and ground.starts is None:
        raise HouseholdError("from when is it to be planned?", where=ground.name, hint="give a date, as in 2026-03-01")
    if not ground.beds or any(bed.area_m2 is None for bed in ground.beds):
        raise HouseholdError("each bed needs an area", where=ground.name, hint="as in 'A, 1.2 x 6 m'")
    if not 1 <= number <= MOST_YEARS:
        raise HouseholdError(f"{number} seasons cannot be planned", where=ground.name, hint=f"1 to {MOST_YEARS}")
    beds = read_beds(ground, knowledge, engine, units)
    return _Planner(ground, knowledge, engine, units, _seasons(ground, number), beds).answer()


def _seasons(ground: Ground, number: int) -> list[Season]:
    """Seasons from the one in which, or before which, the start falls."""
    if ground.frost_free:
        assert ground.starts is not None  # seen by seasons_answer
        begins = (ground.starts.month, min(ground.starts.day, 28))
        return [frostless_season(date(ground.starts.year + year, *begins)) for year in range(number)]
    if ground.last_frost is None or ground.first_frost is None:
        known = [check.on for check in ground.checks if check.on is not None]
        year = max([*known, ground.starts or date.min], default=date.min).year
        return [season_of(max(year, 2000) + each, _ANY_LAST, _ANY_FIRST) for each in range(number)]
    assert ground.starts is not None
    first = next(
        year
        for year in range(ground.starts.year - 1, ground.starts.year + 2)
        if season_of(year, ground.last_frost, ground.first_frost).first_frost > ground.starts
    )
    return [season_of(first + year, ground.last_frost, ground.first_frost) for year in range(number)]


class _Planner:
    def __init__(
        self,
        ground: Ground,
        knowledge: Knowledge,
        engine: Engine,
        units: Units,
        seasons: Sequence[Season],
        beds: Sequence[Bed],
    ) -> None:
        self.ground, self.knowledge, self.engine, self.units = ground, knowledge, engine, units
        self.seasons, self.beds = seasons, beds
        self.between = BetweenRows(knowledge, engine)
        self.by_name = {bed.bed.name: bed for bed in beds}
        self.dated = ground.frost_free or (ground.last_frost is not None and ground.first_frost is not None)
        self.lines = SeasonLines(
            knowledge,
            units,
            several=len(beds) > 1,
            when=dated if self.dated else from_frosts,
            why_between=self.why_between,
        )

    def answer(self) -> SeasonsAnswer:
        beds = self.beds
        cautions = tuple(together([(one.bed.name, one.judged.cautions) for one in beds], "c", self.units))
        advice = together([(one.bed.name, one.judged.advice) for one in beds], "a", self.units)
        unknown = self.frosts()
        found, parts = self.calendar()
        living = {
            task.between for year in found for task in year.tasks if task.between in self.knowledge.living_mulches
        }
        keeping = self.lines.keeping(name for name in self.knowledge.living_mulches if name in living)
        freezes = self.seasons[0].freezes
        parts = [
            Part(title="First of all", lines=tuple(line for line, grave in cautions if grave), grave=True),
            Part(title="The frosts", lines=unknown),
            *parts,
            Part(title="Between the rows", lines=keeping),
            Part(title="What the checks ask for besides", lines=tuple(line for line, _ in advice)),
            Part(title="All the while", lines=self.lines.always(freezes=freezes)),
            Part(title="Take care", lines=tuple(line for line, grave in cautions if not grave), care=True),
        ]
        return SeasonsAnswer(
            name=self.ground.name,
            units=self.units,
            parts=tuple(part for part in parts if part.lines),
            years=tuple(found) if self.dated else (),
            frost_free=tuple(
                FrostFree(last_frost=season.last_frost, first_frost=season.first_frost) for season in self.seasons
            )
            if self.dated and freezes
            else (),
        )

    def calendar(self) -> tuple[list[YearFound], list[Part]]:
        """Every season of every bed, and a part of the page for each season."""
        found: list[YearFound] = []
        parts: list[Part] = []
        structures = [self.structures(bed) for bed in self.beds]
        laid = [self.laid(*one) for one in zip(range(len(self.beds)), self.beds, structures, strict=True)]
        for number, season in enumerate(self.seasons):
            lines: list[Line] = []
            for bed, of_bed, shown in zip(self.beds, laid, structures, strict=True):
                year = of_bed[number]
                head = self.lines.head(
                    year, shown.get(number - 1), bed.dressing_why, "" if number else self.unsaid(bed)
                )
                held = [*self.held_back(year.tasks, bed)]
                had = self.had(bed.bed.name, season)
                tasks = tuple(self.lines.task(task, year) for task in still_to_spread(held, had))
                done = self.lines.spread_already(bed.bed.name, had, held) if had else ()
                lines += [head, *done, *(task.line for task in tasks), self.lines.expect(year)]
                found.append(YearFound(bed=bed.bed.name, year=number + 1, step=year.step, tasks=tasks))
            parts.append(Part(title=self.title(number, season), lines=tuple(lines)))
        return found, parts

    def title(self, number: int, season: Season) -> str:
        if not self.dated:
            return f"Year {number + 1}"
        if not season.freezes:
            return f"Year {number + 1}: without frost, begun {season.last_frost.isoformat()}"
        return f"Year {number + 1}: frost-free from {season.last_frost.isoformat()} to {season.first_frost.isoformat()}"

    def frosts(self) -> tuple[Line, ...]:
        """What is said where the frosts are not known."""
        if self.dated:
            return ()
        text = (
            "The last frost of spring and the first of autumn were not both told, so weeks are counted from them. "
            "A neighbour who gardens knows them, or the weather service; a week or two out does little harm. "
            "Say them, as in 04-20 and 10-10, and weeks become days; or say that it never freezes, if it does not."
        )
        return (self.lines.line(text, (computed("no frosts were told", sources=("common-practice",)),)),)

    # ------------------------------------------------------------ a bed

    def laid(self, place: int, bed: Bed, structures: dict[int, Shown]) -> tuple[Year, ...]:
        told = bed.bed
        return years(
            self.plot(place, bed),
            self.seasons,
            self.knowledge.green_manures,
            self.knowledge.crop_families,
            self.knowledge.figures,
            starts=self.ground.starts if self.dated else None,
            structures={number: shown.word for number, shown in structures.items()},
            mulches=self.knowledge.living_mulches,
            between=lambda step, family: self.between.fitting(self.by_name[told.name], step, family),
        )

    def plot(self, place: int, bed: Bed) -> Plot:
        told = bed.bed
        depth = told.depth_cm
        if depth is None and told.wants:
            depth = 0.0 if told.wants == "none" else figure(self.knowledge.figures, WANTS[told.wants]).typical
        stands = told.wants in _STANDS
        leaded, bars_food = "leaded" in bed.judged.found, _bars_food(bed)
        if not stands and bars_food:
            # Kept covered, as what stands is.
            stands, depth = True, figure(self.knowledge.figures, WANTS["mulch"]).typical if depth is None else depth
        return Plot(
            told.name,
            told.area_m2 or 0.0,
            5 if stands else self.first_step(bed),
            rotation=_fruiting(told.crops, place) if leaded else _rotation(told.crops, place),
            dressing_cm=depth,
            worked_in_cm=self.knowledge.figures["forked-new-bed-cm"].typical if told.wants == "new" else None,
            stands_cm=depth if stands else None,
            lawn=told.wants == "lawn",
            food="none" if bars_food else "fruits" if leaded else "all",
        )

    def first_step(self, bed: Bed) -> Step:
        """The step told; or the third at once for a new bed, and where good structure was shown to begin with."""
        if bed.bed.step is not None:
            return bed.bed.step
        if bed.bed.wants == "new":
            return 3
        if ("kind", "pots") in bed.bed.facts:
            return 5
        before = [word for on, word in _spade(bed) if not self.dated or on <= self.seasons[0].last_frost]
        return 3 if before and before[-1] == "good" else 1

    def unsaid(self, bed: Bed) -> str:
        """Why the first step is what it is, where it was not told."""
        if bed.bed.step is not None:
            return ""
        if bed.bed.wants == "new":
            return "A new bed with its compost forked in is planted at once."
        if ("kind", "pots") in bed.bed.facts:
            return "Pots hold mix and no soil to rebuild: renew a quarter to a third of it each year."
        if self.first_step(bed) == 3:
            return "The spade shows good structure to begin with, so it needs no green manure first."
        return "Nobody said at which step it is, and no spade shows good structure: it begins at the first."

    def structures(self, bed: Bed) -> dict[int, Shown]:
        """What the checks showed between the spring of a season and the spring of the next, and why.

        The spade's word stands, but for a fair one that the rules call pressed tight by the other checks of that time.
        """
        found: dict[int, Shown] = {}
        if not self.dated:
            return found
        for number, season in enumerate(self.seasons):
            until = self.after(season).last_frost
            made = [
                (check, read)
                for check, read in bed.checks
                if check.on is not None and season.last_frost < check.on <= until
            ]
            spade = [read for check, read in made if check.guide == "spade"]
            if not spade:
                continue
            judged = judge(check_facts(made, self.knowledge), self.knowledge, self.engine)
            word: Structure = spade[-1].word  # type: ignore[assignment]  # words of the scale spade-score
            tight = judged.found.get("compacted", ())
            if tight and word != "poor":
                found[number] = Shown("poor", tight, tight=True)
            else:
                found[number] = Shown(word, (computed(spade[-1].text, sources=spade[-1].sources),))
        return found

    def after(self, season: Season) -> Season:
        """The season after one."""
        if not season.freezes:
            return frostless_season(season.last_frost.replace(year=season.last_frost.year + 1))
        assert self.ground.last_frost is not None and self.ground.first_frost is not None
        return season_of(season.last_frost.year + 1, self.ground.last_frost, self.ground.first_frost)

    def held_back(self, tasks: Iterable[Task], bed: Bed) -> Iterable[Task]:
        """Dressings as the checks allow them, and none where none was wanted."""
        thin = figure(self.knowledge.figures, "dressing-upkeep-cm").low
        for task in tasks:
            if task.what != "spread":
                yield task
            elif task.litres <= 0 or bed.dressing == "none":
                continue
            elif bed.dressing == "full":
                yield task
            else:
                depth = min(task.depth_cm, thin)
                yield replace(task, depth_cm=depth, litres=volume_litres(bed.bed.area_m2 or 0.0, depth))

    def had(self, bed: str, season: Season) -> tuple[SpreadOn, ...]:
        """What the diary says went on a bed for a season: in the year that ends with its first frost of autumn."""
        if not self.dated:
            return ()
        ends = season.first_frost
        return tuple(one for one in self.ground.spread if one.bed == bed and 0 <= (ends - one.on).days < DAYS_OF_YEAR)

    def why_between(self, task: Task, year: Year) -> Why:
        planted = [each.family for each in year.tasks if each.what == "plant"]
        bed = self.by_name[year.plot.name]
        return self.between.why(bed, year.step, planted[0] if planted else "", task.between)


def still_to_spread(tasks: Iterable[Task], had: Sequence[SpreadOn]) -> Iterator[Task]:
    """Tasks, with what went on already taken off their dressings, the first first; what is done is left out."""
    there = sum(one.litres for one in had)
    for task in tasks:
        if task.what != "spread" or there <= 0:
            yield task
            continue
        left = task.litres - there
        there = max(0.0, -left)
        if left > AS_GOOD_AS_DONE * task.litres:
            yield replace(task, depth_cm=task.depth_cm * left / task.litres, litres=left)


def _spade(bed: Bed) -> list[tuple[date, str]]:
    return [(check.on, read.word) for check, read in bed.checks if check.guide == "spade" and check.on is not None]


def _bars_food(bed: Bed) -> bool:
    """Whether the rules let nothing to eat grow in it."""
    return any(said.name == "no-food-here" for said in bed.judged.advice)


def _fruiting(crops: Sequence[str], place: int) -> tuple[str, ...]:
    """The turn of a bed with lead in it: fruiting families alone, those told first."""
    start = place % len(_FRUITING)
    told = [family for family in crops if family in _FRUITING]
    return tuple(dict.fromkeys((*told, *_FRUITING[start:], *_FRUITING[:start])))


def _rotation(crops: Sequence[str], place: int) -> tuple[str, ...]:
    """The families of a bed's turn: those told, the next first, then the others, which begin elsewhere for each bed."""
    turned = (*ROTATION[place % len(ROTATION) :], *ROTATION[: place % len(ROTATION)])
    if crops and crops[-1] in ROTATION:
        last = ROTATION.index(crops[-1]) + 1
        turned = (*ROTATION[last:], *ROTATION[:last])
    return tuple(dict.fromkeys((*crops, *turned)))

"""A calendar's lines: what a task says and why, what to expect of a step, how to keep what lives between the rows."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date, timedelta
from typing import Final

from advisor.counsel.plan import Because, Line, spread_of
from advisor.counsel.why import computed
from advisor.counsel.why import figure as figure_because
from advisor.counsel.wording import joined
from advisor.heap.ranges import figure
from advisor.household.days import MONTHS
from advisor.knowledge.base import Knowledge
from advisor.knowledge.soil_shapes import LivingMulch
from advisor.records import dataclass
from advisor.soil.green_manures import Season, Window
from advisor.soil.season_layout import Task
from advisor.soil.seasons import Structure, Year
from advisor.soil_counsel.ground import SpreadOn
from advisor.soil_counsel.judging import Why
from advisor.soil_counsel.shapes import TaskFound
from advisor.units import Units, area_text, fill, length_text, mass_text, volume_text

#: What each step is, and what to expect to see by its end. Common practice.
STEPS: dict[int, tuple[str, str]] = {
    1: (
        "{1.3 cm} of compost, and roots: oats with field peas",
        "Expect a looser surface and the first worms; water goes in sooner than it did. The spade may still "
        "turn up lumps.",
    ),
    2: (
        "{2.5 cm} of compost, buckwheat in summer, rye in winter",
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

#: The same where it never freezes, where it is another.
_FROSTLESS = {
    1: "{1.3 cm} of compost, and roots: cowpeas with buckwheat",
    2: "{2.5 cm} of compost, buckwheat, then cowpeas",
}
_TENTH_OUNCE_G = 2.835

#: Crops of fruiting families of which something else is eaten.
_NO_FRUIT = ("potato",)

_STANDING = ("it stays as it is planted: mulched, and let be", "Expect fewer weeds, and dark crumbs under the mulch.")

_NO_FOOD = (
    "nothing to eat is grown in it: mulched, and let be",
    "Expect no less lead: it stays. What the cover does is to keep its dust from hands and mouths.",
)

_LAWN = (
    "lawn, with a thin sieved dressing",
    "Expect a denser turf, and worm casts in spring and autumn; mow high and leave the clippings.",
)

MOVES = {
    "sooner": "moved on sooner, for the spade shows good structure",
    "stays": "stays with green manures, for the spade shows poor structure",
    "by-calendar": "as the calendar has it",
    "upkeep": "upkeep from here on",
}
_TIGHT = "stays with green manures, for the spade says fair and the other checks say pressed tight"
_MOVED = {
    "": "The first year of the plan.",
    "sooner": "Good structure needs no second year of green manure.",
    "stays": "Poor structure is not yet fit for crops that want digging, feeding and treading.",
    "by-calendar": "Fair structure, or none checked, moves on by the calendar: dig a spade test each spring.",
    "upkeep": "From the fifth year upkeep is enough.",
}

#: How a window of days is written, for the season it belongs to.
When = Callable[[Window, Season], str]


@dataclass(frozen=True, slots=True)
class Shown:
    """What the checks of a season showed of its structure, and why; `tight` if others than the spade made it poor."""

    word: Structure
    why: Why
    tight: bool = False


#: Why a living mulch is let live on a bed, or nothing living is: the task, the step, the family.
WhyBetween = Callable[[Task, Year], Why]


def dated(window: Window, _season: Season) -> str:
    """Days of the calendar."""
    return f"{window.opens.isoformat()} to {window.closes.isoformat()}"


def from_frosts(window: Window, season: Season) -> str:
    """Weeks before and after the frosts, for whoever does not know their days."""
    return f"from {_near(window.opens, season)} to {_near(window.closes, season)}"


def _near(day: date, season: Season) -> str:
    frosts = {"the last frost": season.last_frost, "the first frost": season.first_frost}
    frosts["the next last frost"] = season.last_frost + timedelta(days=365)
    name = min(frosts, key=lambda each: abs(frosts[each] - day))
    weeks = round((day - frosts[name]).days / 7)
    if weeks == 0:
        return name
    return f"{abs(weeks)} {'week' if abs(weeks) == 1 else 'weeks'} {'after' if weeks > 0 else 'before'} {name}"


#: What is left of a dressing when so much of it is on is not worth a walk, as a share. Common practice, no source.
AS_GOOD_AS_DONE: Final = 0.1


class SeasonLines:
    """Writes the lines of one calendar, and numbers them."""

    def __init__(
        self, knowledge: Knowledge, units: Units, *, several: bool, when: When, why_between: WhyBetween
    ) -> None:
        self.knowledge, self.units, self.several, self.when = knowledge, units, several, when
        self.why_between = why_between
        self.lines = 0

    def line(self, text: str, why: Why) -> Line:
        """A line with a name of its own."""
        self.lines += 1
        return Line(id=f"y{self.lines}", text=text, why=why)

    # ------------------------------------------------------------ a year

    def head(self, year: Year, shown: Shown | None, dressing_why: Why, unsaid: str = "") -> Line:
        """What a bed's season is, and how it was come to.

        Args:
            shown: what the checks of the season before showed.
            unsaid: why the step is what it is, where nobody said which.
        """
        name = f"{year.plot.name}, {area_text(year.plot.area_m2, self.units)}: " if self.several else ""
        if year.plot.stands_cm is not None:
            standing = _LAWN if year.plot.lawn else _NO_FOOD if year.plot.food == "none" else _STANDING
            return self.line(
                f"{name}{standing[0]}.",
                (_practice("a bed that is not replanted"), *dressing_why),
            )
        what = STEPS[year.step][0] if year.season.freezes else _FROSTLESS.get(year.step, STEPS[year.step][0])
        move = "" if year.move is None else f" ({MOVES[year.move.reason]})"
        if shown is not None and shown.tight and year.move is not None and year.move.reason == "stays":
            move = f" ({_TIGHT})"
        reason = _MOVED[year.move.reason if year.move else ""] if year.move or not unsaid else unsaid
        because = computed(
            f"step {year.step} of 5",
            *(shown.why if shown else ()),
            sources=("common-practice", "vess-chart"),
            because=reason,
        )
        text = f"{name}step {year.step}, {fill(what, {}, self.units)}{move}."
        return self.line(text, (because, *dressing_why))

    def expect(self, year: Year) -> Line:
        """What to look for by the end of it."""
        name = f"{year.plot.name}: " if self.several else ""
        standing = _LAWN if year.plot.lawn else _NO_FOOD if year.plot.food == "none" else _STANDING
        text = STEPS[year.step][1] if year.plot.stands_cm is None else standing[1]
        because = computed(
            "what to look for",
            sources=("common-practice", "general-extension-memory"),
            because="Structure changes in one to three years, the share of organic matter in three to five.",
        )
        return self.line(f"{name}{text}", (because,))

    def task(self, task: Task, year: Year) -> TaskFound:
        """Something to do, with its line."""
        lead = f"{year.plot.name}, " if self.several else ""
        say = self.say(task, year)
        text = f"{lead}{self.when(task.window, year.season)}: {say}"
        return TaskFound(
            what=task.what,
            opens=task.window.opens,
            closes=task.window.closes,
            litres=task.litres,
            depth_cm=task.depth_cm,
            seed_grams={seed.crop: spread_of(seed.grams) for seed in task.seeds if seed.grams.high > 0},
            plants=None if task.plants is None else spread_of(task.plants),
            family=task.family,
            between=task.between,
            say=say,
            line=self.line(text, self.why(task, year)),
        )

    def spread_already(self, bed: str, had: Sequence[SpreadOn], tasks: Sequence[Task]) -> tuple[Line, ...]:
        """What the diary says went on a bed for a season, and what that leaves to be done."""
        litres = sum(one.litres for one in had)
        wanted = sum(task.litres for task in tasks if task.what == "spread")
        days = joined([f"{one.on.day} {MONTHS[one.on.month - 1]} {one.on.year}" for one in had])
        said = f"{volume_text(litres, self.units)} went on {bed} on {days}"
        if wanted <= 0:
            then = "no more is due this season"
        elif wanted - litres <= AS_GOOD_AS_DONE * wanted:
            then = f"this season's {volume_text(wanted, self.units)} are done"
        else:
            left = volume_text(wanted - litres, self.units)
            then = f"of this season's {volume_text(wanted, self.units)} that leaves {left}"
        because = computed("by your diary, in the year that ends with the first frost of this autumn")
        return (self.line(f"By your diary {said}: {then}.", (because,)),)

    # ------------------------------------------------------------ a task in words

    def say(self, task: Task, year: Year) -> str:
        crops = self.knowledge.green_manures
        if task.between:
            return self.say_between(task)
        names = joined([crops[seed.crop].name for seed in task.seeds])
        if task.what == "check":
            return "check the soil while it is moist: spade, ring and worms, in these weeks each year."
        if task.what == "spread":
            return self.say_spread(task, lawn=year.plot.lawn)
        if task.what == "sow":
            seeds = [f"{crops[seed.crop].name} ({self.seed_text(seed.grams.typical)} of seed)" for seed in task.seeds]
            return f"sow {joined(seeds)}."
        if task.what == "cut":
            # All are cut together, when the first of them is ready.
            first = min((crops[seed.crop] for seed in task.seeds), key=lambda crop: crop.cut_days or (365, 365))
            low, high = first.wait_weeks
            cold = ", more if sown in the cold" if first.sow == "spring" and year.season.freezes else ""
            days = f" ({first.cut_days[0]} to {first.cut_days[1]} days after sowing{cold})" if first.cut_days else ""
            return (
                f"cut the {names} {fill(first.cut, {}, self.units)}{days}, and leave it lying or work it in no deeper "
                f"than a hand; wait {low} to {high} weeks before you sow."
            )
        if task.what == "wait":
            families = [self.knowledge.crop_families[each.family] for each in year.tasks if each.what == "plant"]
            small = any(family.small_seed for family in families)
            then = "small seeds can be sown" if small else "set out plants"
            return f"wait after the {names}: {then} from the end of this; small seeds come up badly in it."
        if task.what == "plant":
            family = self.knowledge.crop_families[task.family]
            crops_of_it = [crop for crop in family.crops if year.plot.food == "all" or crop not in _NO_FRUIT]
            only = ", but only for their fruit" if len(crops_of_it) < len(family.crops) else ""
            return (
                f"grow {family.name}{only}: {joined(crops_of_it[:4], 'or')}. Nothing of this family here "
                "again for three years."
            )
        until = "until spring" if year.season.freezes else "until the next year's sowing"
        return f"leave nothing bare {until}: what stands or lies there stays, and gaps get leaves or straw."

    def seed_text(self, grams: float) -> str:
        """A weight of seed: less than a tenth of an ounce is told in grams, as packets have it, in all units."""
        return mass_text(grams / 1000, "metric" if grams < _TENTH_OUNCE_G else self.units)

    def say_spread(self, task: Task, *, lawn: bool = False) -> str:
        deep = f"{volume_text(task.litres, self.units)} of compost, {length_text(task.depth_cm / 100, self.units)} deep"
        if lawn:
            return f"sieve and spread {deep}, and brush it in among the grass."
        if task.worked_in_cm <= 0:
            return f"lay on {deep}, as a mulch, and do not work it in."
        if task.worked_in_cm > figure(self.knowledge.figures, "worked-in-rebuild-cm").high:
            into = fill("{15-20 cm}", {}, self.units)
            return f"spread {deep}, and fork it in once, {into} down, while the soil crumbles."
        return f"spread {deep}, and rake it into the top {fill('{5-8 cm}', {}, self.units)} only."

    def say_between(self, task: Task) -> str:
        if task.between == "straw":
            return "lay straw or leaves between the rows, for nothing living suits here now."
        mulch = self.knowledge.living_mulches[task.between]
        if task.plants is not None:
            low, high = (max(1, round(count)) for count in (task.plants.low, task.plants.high))
            many = f"about {max(1, round(task.plants.typical))} plants of {mulch.name} ({low} to {high})"
            return f"set out {many} between the rows or along the edge."
        if task.seeds:
            weight = self.seed_text(task.seeds[0].grams.typical)
            return f"sow {mulch.name} between the rows, as a living mulch ({weight} of seed)."
        return f"let {mulch.name} stand between the rows, and cut them every {_weeks(mulch)}, before they seed."

    # ------------------------------------------------------------ why

    def why(self, task: Task, year: Year) -> Why:
        if task.between:
            return (*self.why_between(task, year), *self.rates_between(task))
        if task.what in ("sow", "cut", "wait"):
            return (self.why_green(task, year.season),)
        if task.what == "spread":
            return (figure_because("worked in", figure(self.knowledge.figures, "worked-in-rebuild-cm"), " cm"),)
        return (_practice(_counted(year.season)),)

    def why_green(self, task: Task, season: Season) -> Because:
        crops = self.knowledge.green_manures
        rates = [
            figure_because(f"seed of {crops[seed.crop].name}", crops[seed.crop].grams_per_m2, " g/m2")
            for seed in task.seeds
        ]
        if len(task.seeds) > 1 and task.what == "sow":
            share = figure(self.knowledge.figures, "green-manure-mix-share-pct")
            rates.append(figure_because("of each full rate, two together", share, " %"))
        cited = dict.fromkeys(source for seed in task.seeds for source in crops[seed.crop].source)
        note = " ".join(crops[seed.crop].note for seed in task.seeds if crops[seed.crop].note)
        return computed(f"windows {_counted(season)}", *rates, sources=cited, because=note)

    def rates_between(self, task: Task) -> Iterable[Because]:
        mulch = self.knowledge.living_mulches.get(task.between)
        if mulch is None:
            return
        if mulch.grams_per_m2 is not None:
            yield figure_because("seed", mulch.grams_per_m2, " g/m2 of what it covers")
        if mulch.plants_per_m2 is not None:
            yield figure_because("plants", mulch.plants_per_m2, " to the m2 of what it covers")
        if task.seeds or task.plants is not None:
            yield figure_because(
                "what it covers", figure(self.knowledge.figures, "living-mulch-share-pct"), " % of the bed"
            )
        yield computed("weeks counted from the crop and the frosts", sources=mulch.source, because=mulch.note)

    # ------------------------------------------------------------ at the end

    def keeping(self, names: Iterable[str]) -> tuple[Line, ...]:
        """How each living mulch is begun, kept down and ended, and where it does not belong."""
        found: list[Line] = []
        for name in names:
            mulch = self.knowledge.living_mulches[name]
            clear = mulch.clear_cm
            title = mulch.name[:1].upper() + mulch.name[1:]
            why = (
                figure_because("kept clear", clear, " cm"),
                computed(mulch.name, sources=mulch.source, because=mulch.note),
            )
            how = (
                f"{title}: {mulch.start}. Keep {{{clear.low:g}-{clear.high:g} cm}} clear to each side of the crop. "
                f"{_often(mulch)} {mulch.keep_down}. {mulch.end[:1].upper()}{mulch.end[1:]}."
            )
            where = f"{title}: it takes {mulch.takes}. {mulch.not_where[:1].upper()}{mulch.not_where[1:]}."
            found += [self.line(fill(text, {}, self.units), why) for text in (how, where)]
        return tuple(found)

    def always(self, *, freezes: bool) -> tuple[Line, ...]:
        """What holds in every year."""
        why = (_practice("what holds in every year"),)
        texts = [
            "Never leave it bare. Tread on paths and boards only, and dig no deeper than the rake goes.",
            "Cut every green manure before it sets seed: what has seeded is a weed next year.",
            "No lime, ash or fertiliser without a soil test.",
        ]
        if not freezes:
            texts.append(
                "The year is counted from the day it is begun: best as the rains come, or as the worst heat breaks. "
                "Nothing is killed by frost here, so every green manure has to be cut. If the months after it are "
                f"cool, with soil below {fill('{18 C}', {}, self.units)}, sow oats with field peas for cowpeas."
            )
        return tuple(self.line(text, why) for text in texts)


def _weeks(mulch: LivingMulch) -> str:
    low, high = mulch.keep_down_weeks
    return f"{low} to {high} weeks"


def _often(mulch: LivingMulch) -> str:
    """How often it is kept down: "Every 3 to 4 weeks", or, of what is cut once or twice a year, that."""
    return "Once or twice a year" if mulch.keep_down_weeks[0] >= 26 else f"Every {_weeks(mulch)}"


def _counted(season: Season) -> str:
    return "counted from the frosts" if season.freezes else "counted from the day on which the year is begun"


def _practice(statement: str) -> Because:
    return computed(statement, sources=("common-practice",))

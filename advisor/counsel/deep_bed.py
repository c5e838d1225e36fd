"""Deep bedding as advice: what to lay down and how often, how deep it grows, and the rows it makes in spring."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from advisor.blend.spread import typical
from advisor.counsel import why
from advisor.counsel.aims import window_for
from advisor.counsel.cautions import cautions
from advisor.counsel.measures import in_halves
from advisor.counsel.plan import Line, Shape, Spread, spread_of
from advisor.counsel.settle import is_barred
from advisor.counsel.stock import lots, measure_figure, nature
from advisor.counsel.wording import counted, joined, plural
from advisor.errors import HouseholdError
from advisor.heap.bedding import DAYS_PER_WEEK, Bed, Bedding, Dung, Herd, bed, dung, floor_m2, forked_out_l, rows
from advisor.heap.ranges import Figures, figure
from advisor.household.shapes import Household
from advisor.inference.engine import Consultation, Engine
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Material
from advisor.records import dataclass
from advisor.units import Units, area_text, length_text, mass_text, volume_text

#: What a winter's bedding is stacked in.
_ROWS = "windrow"
#: What is fetched where the bedding on hand does not reach.
_FETCHED = "straw"
#: What straw is bought by.
_BALE = "straw-bale"
_STANDARD = ("asae-d384",)
_BALANCE = ("cornell-mix-formula", "cornell-schools-moisture")
MOST_WEEKS = 60


class Laid(Shape):
    """So much of one bedding over the season."""

    material: str
    name: str
    kilograms: float
    litres: float
    litres_a_week: float
    fetched: bool
    line: Line


class DeepBed(Shape):
    """The whole answer."""

    units: Units
    weeks: float
    animals: tuple[Line, ...]
    nitrogen_kg: float
    dung_kg_a_day: Spread
    laid: tuple[Laid, ...]
    toppings_a_week: float
    moisture_pct: float
    carbon_nitrogen: float
    depth_m: Spread
    floor_m2: float
    rows: int
    row_length_m: float
    row_litres: float
    bed: tuple[Line, ...]
    spring: tuple[Line, ...]
    short: tuple[Line, ...]
    cautions: tuple[Line, ...]

    def lines(self) -> tuple[Line, ...]:
        """Every line that can be asked why, in the order of the page."""
        grave = [line for line in self.cautions if line.grave]
        plain = [line for line in self.cautions if not line.grave]
        laid = [each.line for each in self.laid]
        return (*grave, *self.animals, *laid, *self.bed, *self.spring, *self.short, *plain)


@dataclass(frozen=True, slots=True)
class Season:
    """How the animals are kept: weeks of it, the share of the day indoors, the floor in m2 if it was told."""

    weeks: float
    indoors: float = 1.0
    floor: float | None = None
    aim: str = "steady"
    longest_m: float | None = None


def deep_bed(
    herds: Sequence[Herd],
    season: Season,
    knowledge: Knowledge,
    engine: Engine,
    *,
    household: Household | None = None,
    units: Units = "metric",
) -> DeepBed:
    """A season's deep bed.

    Args:
        herds: the animals.
        season: how long, and how they are kept.
        knowledge: the rule base.
        engine: with the rules of `replacing`, which hold those of deep bedding.
        household: what there is to bed on: its browns. Straw is fetched where they do not reach.
        units: whose units to write in.

    Raises:
        HouseholdError: a season or a floor out of all bounds.
    """
    if not 1 <= season.weeks <= MOST_WEEKS:
        raise HouseholdError(f"a season of {season.weeks:g} weeks", where="--weeks", hint=f"1 to {MOST_WEEKS}")
    if not 0.01 <= season.indoors <= 1:
        raise HouseholdError("the share of the day indoors", where="--indoors", hint="1 to 100 %")
    if season.floor is not None and not 0.1 <= season.floor <= 10_000:
        raise HouseholdError(f"a floor of {season.floor:g} m2", where="--floor", hint="0.1 to 10000 m2")
    with engine.consultation() as talk:
        return _Writer(talk, herds, season, knowledge, household or Household("nobody"), units).answer()


class _Writer:
    def __init__(
        self,
        talk: Consultation,
        herds: Sequence[Herd],
        season: Season,
        knowledge: Knowledge,
        household: Household,
        units: Units,
    ) -> None:
        self.talk, self.herds, self.season = talk, herds, season
        self.knowledge, self.household, self.units = knowledge, household, units
        self.figures: Figures = knowledge.figures
        self.days = season.weeks * DAYS_PER_WEEK
        self.goal = window_for("carbon-nitrogen", _ROWS, season.aim, knowledge).aim
        self.daily: Dung = dung(herds, self.figures, season.indoors)
        self.floor = season.floor or floor_m2(herds, self.figures)
        self.offered = list(self._bedding())
        self.bed: Bed = bed(self.daily, self.days, self.offered, self.figures, floor=self.floor, goal_cn=self.goal)

    def _bedding(self) -> Iterator[Bedding]:
        """Browns on hand that nothing bars, in the order told; then straw, as much as it takes."""
        held = lots(self.household, self.knowledge)
        names = dict.fromkeys([*(lot.material_id for lot in held), _FETCHED])
        self.talk.tell(
            (fact for name in names for fact in nature(name, self.knowledge.materials[name])), "what there is to bed on"
        )
        there: dict[str, float] = {}
        for lot in held:
            fit = lot.material.role == "brown" and "farm-manure" not in lot.material.traits
            if fit and not is_barred(self.talk, lot.material_id, "windrow"):
                weeks = self.season.weeks if lot.weekly else 1.0
                there[lot.material_id] = there.get(lot.material_id, 0.0) + lot.kilograms.typical * weeks
        for name, kg in there.items():
            yield Bedding(name, typical(self.knowledge.materials[name]), kg)
        yield Bedding("fetched", typical(self.knowledge.materials[_FETCHED]), math.inf)

    def answer(self) -> DeepBed:
        """The whole of it."""
        pack, litres = self.bed, forked_out_l(self.bed, self.figures)
        stacked = rows(litres, self.figures, self.season.longest_m)
        self.talk.tell(self._facts(), "worked out from the animals and their bedding")
        return DeepBed(
            units=self.units,
            weeks=self.season.weeks,
            animals=tuple(self._animals()),
            nitrogen_kg=self.daily.nitrogen_kg * self.days,
            dung_kg_a_day=spread_of(self.daily.fresh_kg),
            laid=tuple(self._laid()),
            toppings_a_week=self._toppings(),
            moisture_pct=pack.moisture_pct,
            carbon_nitrogen=pack.carbon_nitrogen,
            depth_m=spread_of(pack.depth_m),
            floor_m2=self.floor,
            rows=stacked.number,
            row_length_m=stacked.length_m,
            row_litres=litres,
            bed=tuple(self._bed()),
            spring=tuple(self._spring()),
            short=tuple(self._short()),
            cautions=tuple(cautions(self.talk, self.knowledge, self.units)),
        )

    def _facts(self) -> Iterator[Fact]:
        for herd in self.herds:
            yield Fact("bedding", "animals", "", herd.animal)
        yield Fact("bedding", "moisture", "", self.bed.moisture_pct)
        yield Fact("bedding", "carbon_nitrogen", "", min(1000.0, self.bed.carbon_nitrogen))
        yield Fact("bedding", "depth", "", min(20.0, self.bed.depth_m.typical))
        for name, _ in self.bed.used:
            for word in _kinds(self._material(name)):
                yield Fact("bedding", "uses", "", word)

    def _material(self, name: str) -> Material:
        return self.knowledge.materials[_FETCHED if name == "fetched" else name]

    # ------------------------------------------------------------ lines

    def _animals(self) -> Iterator[Line]:
        for number, herd in enumerate(self.herds, 1):
            one = dung([herd], self.figures, self.season.indoors)
            live = herd.live_kg or figure(self.figures, f"{herd.animal}-live-kg").typical
            name = herd.animal if herd.count == 1 or herd.animal == "sheep" else plural(herd.animal)
            fresh = one.fresh_kg
            daily, low, high, nitrogen, weight = (
                mass_text(each, self.units) for each in (fresh.typical, fresh.low, fresh.high, one.nitrogen_kg, live)
            )
            text = (
                f"{herd.count:g} {name} of {weight}: {daily} of dung and urine a day ({low} to {high}), "
                f"with {nitrogen} of nitrogen"
            )
            parts = [
                why.figure(f"{what}, per tonne of {herd.animal} and day", self.figures[f"{herd.animal}-{name}"], " kg")
                for what, name in (
                    ("dung and urine", "manure-kg-per-t-day"),
                    ("solids", "solids-kg-per-t-day"),
                    ("nitrogen", "nitrogen-kg-per-t-day"),
                )
            ]
            share = why.told(f"indoors for {self.season.indoors:.0%} of the day")
            reason = why.computed("live weight times the standard's daily figures", share, *parts, sources=_STANDARD)
            yield Line(id=f"m{number}", text=text, why=(reason,))

    def _laid(self) -> Iterator[Laid]:
        for number, (name, kg) in enumerate(self.bed.used, 1):
            material = self._material(name)
            litres = kg / material.density.typical * 1000
            weekly = litres / self.season.weeks
            bales = self._bales(name, kg)
            of_these = "" if bales is None else f", about {counted(bales, self._bale_name())}"
            if bales is None:
                size = measure_figure("sack", self.household, self.knowledge).typical
                often = _how_often(weekly / size, "sack")
            else:
                often = _how_often(bales / self.season.weeks, self._bale_name())
            text = (
                f"{material.name}: {mass_text(kg, self.units)} over the season "
                f"({volume_text(litres, self.units)} loose{of_these}), {often}"
                f"{', to be fetched' if name == 'fetched' else ''}"
            )
            reason = why.computed(
                f"keeps the bed at {figure(self.figures, 'pack-moisture-pct').typical:g} % or drier, and brings it to "
                f"carbon to nitrogen {self.goal:g}: whichever takes more",
                why.properties(material),
                sources=_BALANCE,
            )
            yield Laid(
                material=_FETCHED if name == "fetched" else name,
                name=material.name,
                kilograms=kg,
                litres=litres,
                litres_a_week=weekly,
                fetched=name == "fetched",
                line=Line(id=f"r{number}", text=text, why=(reason,)),
            )

    def _bale_name(self) -> str:
        return self.knowledge.measures[_BALE].name

    def _bales(self, name: str, kg: float) -> int | None:
        """How many small bales so much straw is, as it is bought; None for what is not baled."""
        material = self._material(name)
        if name not in (_FETCHED, "fetched") or material.density_packed is None:
            return None
        bale = measure_figure(_BALE, self.household, self.knowledge).typical * material.density_packed.typical / 1000
        return max(1, math.ceil(kg / bale - 0.25))

    def _toppings(self) -> float:
        """Toppings a week: each covers the floor to a few centimetres, and there is at least one."""
        litres = sum(kg / self._material(name).density.typical * 1000 for name, kg in self.bed.used)
        thick_m = figure(self.figures, "bedding-topping-cm").typical / 100
        return max(1.0, litres / self.season.weeks / 1000 / (self.floor * thick_m))

    def _bed(self) -> Iterator[Line]:
        pack = self.bed
        often = self._toppings()
        when = "once a week" if often < 1.5 else f"{round(often)} times a week" if often < 6.5 else "every day"
        topping = length_text(figure(self.figures, "bedding-topping-cm").typical / 100, self.units)
        yield Line(
            id="b1",
            text=f"Top it up {when}, no more than {topping} at a time, and at once where it is wet or smells sharp.",
            why=(why.figure("thickness of a topping", self.figures["bedding-topping-cm"], " cm"),),
        )
        text = (
            f"The bed as laid: carbon to nitrogen {pack.carbon_nitrogen:.0f}, moisture {pack.moisture_pct:.0f} %. "
            "Nothing is taken off for what dries, so this is the most it should take: lay less while a knee pressed "
            "into it stays dry and nothing smells."
        )
        yield Line(id="b2", text=text, why=(why.computed("dung and bedding added up", sources=_BALANCE),))
        depth = [length_text(each, self.units) for each in (pack.depth_m.typical, pack.depth_m.low, pack.depth_m.high)]
        room = "" if self.season.floor else " (what so many want; nobody said)"
        on = f"{area_text(self.floor, self.units)} of floor{room}"
        text = f"It grows to about {depth[0]} ({depth[1]} to {depth[2]}) on {on}"
        reasons = [
            why.figure(words, self.figures[name], unit)
            for words, name, unit in (
                ("what is left of the mass in spring", "pack-mass-left-pct", " %"),
                ("weight of a trodden bed", "pack-density-kg-per-m3", " kg/m3"),
                ("usual over a winter", "pack-depth-usual-m", " m"),
            )
        ]
        yield Line(id="b3", text=text, why=tuple(reasons))

    def _spring(self) -> Iterator[Line]:
        litres = forked_out_l(self.bed, self.figures)
        found = rows(litres, self.figures, self.season.longest_m)
        long, wide, high = (length_text(m, self.units) for m in (found.length_m, found.width_m, found.height_m))
        forked = f"Forked out it is {volume_text(litres, self.units)}"
        reasons = (
            why.figure("height of a row", self.figures["row-height-m"], " m"),
            why.figure("width of a row", self.figures["row-width-m"], " m"),
            why.computed("two thirds of width times height", because="A rounded row is a parabola in section."),
        )
        if found.length_m < found.width_m:
            yield Line(id="w1", text=f"{forked}: too little for a row, so make one heap of it.", why=reasons)
            return
        each = "one row" if found.number == 1 else f"{found.number} rows, each"
        text = f"{forked}: {each} {long} long, {wide} wide and {high} high, rounded"
        yield Line(id="w1", text=text, why=reasons)
        ground = [length_text(m, self.units) for m in (found.ground_length_m, found.ground_width_m)]
        text = f"It wants {ground[0]} by {ground[1]} of ground, with room to walk round with a fork"
        yield Line(id="w2", text=text, why=(why.figure("aisle", self.figures["row-aisle-m"], " m"),))

    def _short(self) -> Iterator[Line]:
        fetched = dict(self.bed.used).get("fetched", 0.0)
        if fetched > 0 and len(self.offered) > 1:
            bales = self._bales("fetched", fetched)
            as_bales = "" if bales is None else f", about {counted(bales, self._bale_name())}"
            text = f"the bedding on hand does not reach: {mass_text(fetched, self.units)} of straw more{as_bales}"
            yield Line(id="x1", text=text, why=(why.computed("what the goals take, less what is there"),))
        bed_on = [self._material(name).name for name, _ in self.bed.used]
        if not bed_on:
            yield Line(
                id="x2",
                text="by the sums it needs no bedding at all; give them a dry bed all the same",
                why=(why.computed("dry and lean enough as it falls"),),
            )
        barred = [
            lot.material.name
            for lot in lots(self.household, self.knowledge)
            if lot.material.role == "brown" and lot.material_id not in {each.id for each in self.offered}
        ]
        if barred:
            text = f"not used as bedding: {joined(sorted(set(barred)))}"
            yield Line(id="x3", text=text, why=(why.computed("soiled already, or kept out by a rule"),))


def _how_often(weekly: float, measure: str) -> str:
    """ "2 sacks a week", or "1 sack every 5 weeks"."""
    if weekly >= 0.4:
        return f"{counted(in_halves(weekly, 1.0), measure)} a week"
    return f"{counted(1, measure)} every {round(1 / weekly)} weeks"


def _kinds(material: Material) -> Iterator[str]:
    traits = set(material.traits)
    if "leaf" in traits:
        yield "leaves"
    elif "woody" in traits:
        yield "wood"
    elif "paper" in traits:
        yield "paper"
    else:
        yield "straw"

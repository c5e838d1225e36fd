"""What a household gives in a flat: buckets in turn, soil to finish them, worms, comfrey, and a year of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from advisor.blend.shapes import Range
from advisor.counsel import why
from advisor.counsel.blending import blend
from advisor.counsel.cautions import together
from advisor.counsel.choose import Standing
from advisor.counsel.kitchen_shapes import BucketWay, Kitchen, WormWay, Yield
from advisor.counsel.plan import Because, Line, Plan, spread_of
from advisor.counsel.settle import is_barred, settle
from advisor.counsel.stock import Lot, lots, measure_figure
from advisor.counsel.texts import bucket_litres, days_text, scraps_of, weekly_scraps
from advisor.counsel.wording import counted
from advisor.counsel.writing import Writer
from advisor.errors import HouseholdError
from advisor.heap.bucket import Bucket, Finish, bucket, finish
from advisor.heap.kitchen import WEEKS_PER_YEAR, Tubs, comfrey_tub, finished_a_year, mass_lost_pct, tubs
from advisor.heap.ranges import figure, over, scaled, times
from advisor.heap.solids import LITRES_PER_M3
from advisor.heap.worms import HomeBin, WormBin, home_bin
from advisor.household.shapes import Holding, Household, Quantity
from advisor.inference.engine import Consultation, Engine
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.records import dataclass
from advisor.soil.spreading import LITRES_PER_M2_CM
from advisor.units import Units, area_text, length_text, mass_text, volume_text

MOST_PEOPLE = 50
#: Places without soil of their own, and those with nothing outdoors.
_NO_GROUND = ("flat", "balcony", "paved-yard")
_INDOORS = ("flat",)
_BUCKET, _WORMS = "fermented-bucket", "worm-bin"
_POT = "plant-pot"
_SCRAPS = "kitchen-scraps"
_MAKES = {_BUCKET: "dark soil made of the scraps", _WORMS: "castings, those of the bedding not counted"}


@dataclass(frozen=True, slots=True)
class _Way:
    """A consultation held to one vessel."""

    standing: Standing
    plan: Plan
    litres: Range  # of the scraps it takes in a week; of all of them if it may take none
    kg: Range
    against: tuple[Because, ...] = ()  # why it is ruled out, or may take none


def kitchen(
    knowledge: Knowledge,
    engine: Engine,
    *,
    people: float | None = None,
    space: str = "balcony",
    household: Household | None = None,
    units: Units = "metric",
) -> Kitchen:
    """What a kitchen gives, and what it comes to in a bucket, in a worm bin and beside a tub of comfrey.

    Args:
        knowledge: the rule base.
        engine: with the rules of planning.
        people: whose scraps, by the published kilograms a head and week.
        space: what kind of place it is, a word of `place.space`.
        household: whose own scraps are taken instead, with its vessels and its place.
        units: whose units to write in.

    Raises:
        HouseholdError: nobody, too many people, or a household that has no scraps.
    """
    if household is None:
        if people is None or not 1 <= people <= MOST_PEOPLE:
            said = "how many people is not said" if people is None else f"a household of {people:g}"
            raise HouseholdError(said, where="--people", hint=f"1 to {MOST_PEOPLE}")
        household = _of_people(people, space, knowledge)
    else:
        people = None
    return _Writer(household, people, knowledge, engine, units).answer()


def _of_people(people: float, space: str, knowledge: Knowledge) -> Household:
    litres, _ = scraps_of(people, knowledge)
    who = "1 person" if people == 1 else f"{people:g} people"
    scraps = Holding(_SCRAPS, Quantity(litres.typical, litres.low, litres.high, "L", "week"), f"the scraps of {who}")
    digging = "no" if space in _NO_GROUND else "yes"
    told: dict[str, tuple[Value, ...]] = {"place.space": (space,), "place.digging": (digging,)}
    return Household(who, (scraps,), told)


class _Writer:
    def __init__(
        self, household: Household, people: float | None, knowledge: Knowledge, engine: Engine, units: Units
    ) -> None:
        self.household, self.people, self.knowledge = household, people, knowledge
        self.engine, self.units, self.figures = engine, units, knowledge.figures
        said = household.answers.get("place.space", ())
        self.space = str(said[0]) if said else ""
        self.ground = household.answers.get("place.digging", ("no",))[0] == "yes"
        self.scraps = [lot for lot in lots(household, knowledge) if "kitchen" in lot.material.traits]
        if not self.scraps:
            raise HouseholdError("this household told of no kitchen scraps", hint="say --people 3 instead")
        self.litres, self.kg = self._weekly(self.scraps)

    def _weekly(self, scraps: Sequence[Lot]) -> tuple[Range, Range]:
        """By the published kilograms for people; for a household's own scraps, as its plan takes them."""
        if self.people is not None:
            return scraps_of(self.people, self.knowledge)
        return weekly_scraps(scraps, self.knowledge)

    def answer(self) -> Kitchen:
        """The whole of it."""
        with self.engine.consultation() as talk:
            settled = settle(talk, self.household, self.knowledge)
            blended = blend(talk, settled, self.household, self.knowledge)
            own = Writer(talk, self.household, self.knowledge, settled, blended, self.units).plan()
        ways = {name: self._way(name) for name in (_BUCKET, _WORMS)}
        comfrey = None if self.space in _INDOORS else comfrey_tub(self.figures).kg_a_year
        return Kitchen(
            household=self.household.name,
            units=self.units,
            people=self.people,
            space=self.space,
            weekly_litres=spread_of(self.litres),
            weekly_kg=spread_of(self.kg),
            scraps=tuple(self._scraps()),
            choice=own.choice.line,
            bucket=self._bucket(ways[_BUCKET]),
            worms=self._worms(ways[_WORMS]),
            comfrey_kg_a_year=spread_of(comfrey) if comfrey is not None else None,
            comfrey=tuple(self._comfrey()),
            cautions=tuple(together(way.plan for way in ways.values())),
        )

    def _way(self, method: str) -> _Way:
        """The plan for one vessel, whatever else would suit better, for what the rules let into it."""
        with self.engine.consultation() as talk:
            settled = settle(talk, self.household, self.knowledge, among=(method,))
            blended = blend(talk, settled, self.household, self.knowledge)
            plan = Writer(talk, self.household, self.knowledge, settled, blended, self.units).plan()
            taken = [lot for lot in self.scraps if not is_barred(talk, lot.material_id, method)]
            first = self.scraps[0].material_id
            against = () if taken else why.barred(talk, first, method, self.knowledge)
            against += _bans(settled.standings[0], talk, self.knowledge)
            return _Way(settled.standings[0], plan, *self._weekly(taken or self.scraps), against)

    # ------------------------------------------------------------ the scraps

    def _scraps(self) -> Iterator[Line]:
        vessels = ("kitchen-caddy", "bucket")
        many = [(each, round(self.litres.typical / self._size(each) * 2) / 2) for each in vessels]
        # What fills less than a half of a bucket is told by the caddy alone.
        told = [(each, count) for each, count in many if self.litres.typical >= 0.4 * self._size(each)]
        measures = " or ".join(
            counted(max(0.5, count), self.knowledge.measures[each].name) for each, count in told or many[:1]
        )
        if self.people is None:
            reasons = tuple(why.told(f"you said: {lot.holding.said}") for lot in self.scraps)
        else:
            reasons = (
                self._figure("a head and week", "kitchen-scraps-kg-per-person-week", " kg"),
                self._figure("a head and week, loose", "kitchen-scraps-litres-per-person-week", " L"),
            )
        week = f"A week: {self._volume(self.litres)}, {self._mass(self.kg)}; that is {measures}."
        yield _line("h1", week, *reasons, *map(self._holds, vessels))
        litres, kg = scaled(self.litres, WEEKS_PER_YEAR), scaled(self.kg, WEEKS_PER_YEAR)
        yield _line(
            "h2", f"A year: {self._volume(litres)}, {self._mass(kg)}.", why.computed("52 weeks of it", *reasons)
        )

    # ------------------------------------------------------------ the fermented bucket

    def _bucket(self, way: _Way) -> BucketWay:
        filled = bucket(way.litres, way.kg, self.figures, bucket_litres(self.household))
        done = finish(filled.litres, self.figures)
        held = tubs(filled, done, figure(self.figures, "garden-soil-kg-per-m3"), self.figures)
        return BucketWay(
            score=way.standing.score,
            possible=not way.against,
            bucket_litres=filled.litres,
            buckets=filled.buckets,
            fill_days=spread_of(filled.fill_days),
            bran_kg_a_year=spread_of(scaled(filled.bran_g_a_week, WEEKS_PER_YEAR / 1000)),
            tubs=0 if self.ground else held.number,
            soil_litres=spread_of(done.soil_litres),
            tub_kg=spread_of(held.kg),
            lines=(
                *_against(way, "b0"),
                *self._filling(filled),
                *(self._in_ground(done) if self.ground else self._in_tubs(done, held)),
            ),
            gives=self._yield(_BUCKET, way, "z"),
        )

    def _filling(self, filled: Bucket) -> Iterator[Line]:
        text = (
            f"{counted(filled.buckets, 'bucket')} of about {volume_text(filled.litres, self.units)} in turn: one fills "
            f"in about {days_text(filled.fill_days)}, and a full one stands sealed for two weeks or more."
        )
        pressed = self._figure("left of their loose volume, pressed down", "ferment-pressed-to-pct", " %")
        yield _line("b1", text, pressed, self._figure("days sealed", "ferment-sealed-days", ""))
        bran = self._mass(scaled(filled.bran_g_a_week, WEEKS_PER_YEAR / 1000))
        share = self._figure("of the weight of the scraps", "ferment-bran-share-pct", " %")
        yield _line("b2", f"Starter bran: {bran} a year.", share)

    def _in_ground(self, done: Finish) -> Iterator[Line]:
        trench = length_text(done.trench_m.typical, self.units)
        text = f"Each bucket is finished in the ground: about {trench} of trench, a spade wide."
        yield _line("b3", text, self._figure("of soil over it", "ferment-bury-depth-cm", " cm"))

    def _in_tubs(self, done: Finish, held: Tubs) -> Iterator[Line]:
        text = (
            f"Each bucket is finished in soil: {volume_text(done.soil_litres.typical, self.units)} of it to a bucket, "
            f"in {counted(held.number, 'tub')}{' by turns' if held.number > 1 else ''}. The soil serves again: only as "
            "much is taken out as the scraps have added."
        )
        parts = self._figure("parts of soil to one of ferment", "ferment-soil-parts", "")
        yield _line("b3", text, parts, self._figure("weeks in the tub", "ferment-tub-weeks", ""))
        text = f"A full tub weighs {self._mass(held.kg)}: ask what the floor bears before you fill it."
        yield _line("b4", text, self._figure("a cubic metre of soil", "garden-soil-kg-per-m3", " kg"))

    # ------------------------------------------------------------ the worm bin

    def _worms(self, way: _Way) -> WormWay:
        home = home_bin(way.kg, self.figures)
        found = home.bin
        return WormWay(
            score=way.standing.score,
            possible=not way.against,
            area_m2=spread_of(found.area_m2),
            worms_kg=spread_of(found.worms_kg),
            bedding_litres=spread_of(found.bedding_litres),
            lines=(*_against(way, "t0"), *self._bin(found), *self._too_much(home)),
            gives=self._yield(_WORMS, way, "x"),
        )

    def _bin(self, found: WormBin) -> Iterator[Line]:
        deep, side = (length_text(metres, self.units) for metres in (found.depth_m.typical, found.area_m2.typical**0.5))
        surface = self._area(found.area_m2)
        text = f"A worm bin with {surface} of surface, {deep} deep: {side} by {side}, or several smaller."
        yield _line("t1", text, self._figure("for a kilogram a week", "worm-bin-m2-per-weekly-kg", " m2"))
        bedding = volume_text(found.bedding_litres.typical, self.units)
        text = (
            f"{self._mass(found.worms_kg)} of compost worms, in {bedding} of damp torn paper or leaves. With fewer it "
            "is fed less at first; they breed to what there is."
        )
        worms = self._figure("of worms to one of daily scraps", "worms-per-daily-scraps", " kg")
        yield _line("t2", text, worms, self._figure("to a kilogram of worms", "worm-bedding-litres-per-kg-worms", " L"))

    def _too_much(self, home: HomeBin) -> Iterator[Line]:
        """What of the scraps no bin of a home takes."""
        if home.share < 1:
            text = (
                f"That is the largest bin a home can hold. It takes about {100 * home.share:.0f} % of the scraps; "
                "the rest needs another way."
            )
            yield _line("t3", text, self._figure("surface that a home can hold", "worm-bin-home-m2", " m2"))

    # ------------------------------------------------------------ what comes of it

    def _yield(self, method: str, way: _Way, letter: str) -> Yield:
        """What is left in a year; it weighs what castings or compost weigh, and serves pots or beds."""
        declared, castings = self.knowledge.methods[method], self.knowledge.materials["worm-castings"]
        litres = finished_a_year(way.litres, declared.shrinks_to)
        weighs = castings.density if method == _WORMS else figure(self.figures, "compost-kg-per-m3")
        kg = times(litres, scaled(weighs, 1 / LITRES_PER_M3))
        lost, pot = mass_lost_pct(way.kg, kg), self._size(_POT)
        pots = over(litres, scaled(figure(self.figures, "pot-share-pct"), pot / 100))
        bed = over(litres, scaled(figure(self.figures, "dressing-upkeep-cm"), LITRES_PER_M2_CM))
        text = (
            f"In a year {self._volume(litres)} of {_MAKES[method]}, {self._mass(kg)}: {lost.typical:.0f} % of the "
            f"weight goes off ({lost.low:.0f} to {lost.high:.0f}), most of it as water and breath."
        )
        left = why.figure("of the loose volume that is left", declared.shrinks_to, " %")
        density = why.figure("a cubic metre of it", weighs, " kg")
        serves = (
            f"It makes the mix for {pots.typical:.0f} pots of {volume_text(pot, self.units)} ({pots.low:.0f} to "
            f"{pots.high:.0f}), or dresses {self._area(bed)} of bed."
        )
        share = self._figure("of a potting mix", "pot-share-pct", " %")
        upkeep = self._figure("on a bed in a year", "dressing-upkeep-cm", " cm")
        return Yield(
            litres=spread_of(litres),
            kilograms=spread_of(kg),
            mass_lost_pct=spread_of(lost),
            pots=spread_of(pots),
            pot_litres=pot,
            bed_m2=spread_of(bed),
            lines=(
                _line(f"{letter}1", text, left, density),
                _line(f"{letter}2", serves, share, upkeep, self._holds(_POT)),
            ),
        )

    # ------------------------------------------------------------ comfrey

    def _comfrey(self) -> Iterator[Line]:
        if self.space in _INDOORS:
            hardy = why.computed("a hardy herb that dies back in winter", sources=("common-practice",))
            yield _line("y1", "Comfrey wants to stand outdoors; a flat is no place for it.", hardy)
            return
        tub, cuts = comfrey_tub(self.figures), figure(self.figures, "comfrey-cuts-a-year")
        fed = self._nitrogen("comfrey", tub.kg_a_year.typical)
        share = 100 * fed / self._nitrogen(_SCRAPS, self.kg.typical * WEEKS_PER_YEAR)
        text = (
            f"One comfrey in a tub of {volume_text(tub.litres, self.units)}: {self._mass(tub.kg_a_year)} of leaf a "
            f"year, in {cuts.low:g} to {cuts.high:g} cuts. That is {share:.1g} % of the nitrogen in the scraps."
        )
        ground = self._figure("from a square metre of ground in a year", "comfrey-kg-per-m2-year", " kg")
        in_tub = self._figure("of that in a tub", "comfrey-tub-yield-pct", " %")
        yield _line("y1", text, self._figure("the tub", "comfrey-tub-litres", " L"), ground, in_tub)
        steep = figure(self.figures, "steep-leaves-kg-per-litre")
        steeped = volume_text(tub.kg_a_year.typical / steep.typical, self.units)
        text = (
            f"Wilt it and give it to the worms, or steep it: {steeped} a year for the pots. It is not for the bucket."
        )
        kept_out = self.knowledge.rule("only-scraps-in-buckets")
        barred = why.computed("garden leaves in a bucket", sources=kept_out.source, because=kept_out.because)
        yield _line("y2", text, why.figure("of leaf to a litre", steep, " kg"), barred)
        hairs = self.knowledge.kinds["holding"].attributes["mind"].words["hairs"]
        known = self.knowledge.rule("comfrey-in-a-heap").source
        yield _line("y3", f"Mind: {hairs}.", why.computed("known of the plant", sources=known))

    def _nitrogen(self, name: str, kg: float) -> float:
        material = self.knowledge.materials[name]
        return kg * (1 - material.moisture.typical / 100) * material.nitrogen.typical / 100

    # ------------------------------------------------------------ words

    def _size(self, measure: str) -> float:
        return measure_figure(measure, self.household, self.knowledge).typical

    def _holds(self, measure: str) -> Because:
        size = measure_figure(measure, self.household, self.knowledge)
        return why.figure(f"what a {self.knowledge.measures[measure].name} holds", size, " L")

    def _figure(self, words: str, name: str, unit: str) -> Because:
        return why.figure(words, self.figures[name], unit)

    def _volume(self, spread: Range) -> str:
        return self._ranged(spread, volume_text)

    def _mass(self, spread: Range) -> str:
        return self._ranged(spread, mass_text)

    def _area(self, spread: Range) -> str:
        return self._ranged(spread, area_text)

    def _ranged(self, spread: Range, text: Callable[[float, Units], str]) -> str:
        typical, low, high = (text(each, self.units) for each in (spread.typical, spread.low, spread.high))
        return f"{typical} ({low} to {high})"


def _bans(standing: Standing, talk: Consultation, knowledge: Knowledge) -> tuple[Because, ...]:
    bans = [vote for vote in standing.votes if vote.weight == 0]
    return tuple(
        because for ban in bans for because in why.reasons(talk, ban.key, knowledge, only=frozenset({ban.rule}))[:1]
    )


def _against(way: _Way, name: str) -> Iterator[Line]:
    if way.against:
        text = f"Not for this, and not here: {way.against[0].because} What follows is for as much of other scraps."
        yield _line(name, text, *way.against)


def _line(name: str, text: str, *reasons: Because) -> Line:
    return Line(id=name, text=text, why=reasons)

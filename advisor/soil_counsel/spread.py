"""How much compost on which bed, what it brings, and what has to be gathered for it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from advisor.blend.shapes import Range
from advisor.counsel.plan import Because, Line, spread_of
from advisor.counsel.why import computed
from advisor.counsel.why import figure as figure_because
from advisor.counsel.wording import counted, joined
from advisor.errors import HouseholdError
from advisor.heap.ranges import figure
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.soil import spreading
from advisor.soil.spreading import Dressing, Want
from advisor.soil_counsel.build_up import warnings
from advisor.soil_counsel.gather import to_gather
from advisor.soil_counsel.ground import WANTS, Ground
from advisor.soil_counsel.shapes import BedDressed, Part, SpreadAnswer, ToGather
from advisor.soil_counsel.soil import Bed, read_beds, together
from advisor.units import Units, area_text, fill, length_text, mass_text, volume_text

#: Who gets it first when there is not enough: what is being built before what is kept up, hungry crops before light
#: ones, mulch last. Common practice.
_RANK = {"new": 1, "rebuild-first": 1, "rebuild-second": 1, "upkeep": 3, "lawn": 5, "mulch": 6, "none": 7}
#: Mixes: the share of compost, what it is called, and what the rest is.
_MIXES = (
    ("pot-share-pct", "potting mix", "something lean: sand, leaf mould, old mix"),
    ("seed-mix-share-pct", "seed mix", "something lean: sand, leaf mould, old mix"),
    ("raised-mix-share-pct", "fill for framed beds", "mineral soil, free of lead and weedkillers"),
)

#: Less than a full bucket is no heap, in litres.
SMALLEST_HEAP_L = 10.0

_HUNGER = {"hungry": -1, "middling": 0, "light": 1}

_SAY = {
    "new": "a new bed, dug in",
    "upkeep": "upkeep",
    "rebuild-first": "first year of rebuilding",
    "rebuild-second": "second year of rebuilding",
    "mulch": "mulch",
    "lawn": "lawn, sieved fine",
    "none": "nothing asked",
}


def spread_answer(
    ground: Ground,
    knowledge: Knowledge,
    engine: Engine,
    *,
    units: Units = "metric",
    screened: bool = False,
    pots_litres: float = 0.0,
    seed_mix_litres: float = 0.0,
    raised_mix_litres: float = 0.0,
    today: date | None = None,
) -> SpreadAnswer:
    """Dressings of the beds of a ground, and backwards to the heaps.

    Args:
        screened: only what goes through a screen is spread.
        pots_litres, seed_mix_litres, raised_mix_litres: mixes to be made as well, the last to fill framed beds; they
            are served before the beds.
        today: what was spread within the year before this day counts; that of the clock if left out.

    Raises:
        HouseholdError: no bed, a bed without area, or a check whose figures cannot be.
    """
    if not ground.beds:
        raise HouseholdError("no bed was told", where=ground.name, hint="say --bed 'A, 1.2 x 6 m, wants new'")
    for bed in ground.beds:
        if bed.area_m2 is None:
            raise HouseholdError(f"how big is bed {bed.name}?", where=ground.name, hint="give it an area")
    if ground.heap_litres is not None and ground.heap_litres < SMALLEST_HEAP_L:
        held = volume_text(ground.heap_litres, units)
        raise HouseholdError(
            f"a heap of {held} does not rot", where=ground.name, hint="write it as in '1 m3' or '300 L'"
        )
    method = knowledge.methods[ground.method or "open-heap"]
    if method.shrinks_to.typical <= 0:
        makers = ", ".join(name for name, made in knowledge.methods.items() if made.shrinks_to.typical > 0)
        raise HouseholdError(f"{method.name} leaves nothing to spread", where=ground.name, hint=f"what does: {makers}")
    writer = _Writer(ground, knowledge, read_beds(ground, knowledge, engine, units), units, today or date.today())
    return writer.answer(screened, (pots_litres, seed_mix_litres, raised_mix_litres))


#: What is short by a smaller share than this is enough.
_ENOUGH = 0.005


class _Writer:
    def __init__(self, ground: Ground, knowledge: Knowledge, beds: Sequence[Bed], units: Units, today: date) -> None:
        self.ground, self.knowledge, self.beds, self.units, self.today = ground, knowledge, beds, units, today
        self.figures = knowledge.figures

    def answer(self, screened: bool, asked: tuple[float, float, float]) -> SpreadAnswer:
        mixes = [mix for number, litres in enumerate(asked) if (mix := self.mix(litres, number))]
        for_mixes = sum(litres for litres, _ in mixes)
        wants = [self.want(bed) for bed in self.beds]
        wanted = sum(spreading.volume_litres(want.area_m2, want.depth_cm) for want in wants)
        there = self.ground.finished_litres
        left = wanted if there is None else max(0.0, there - for_mixes)
        served = spreading.share_out(wants, left)
        dressed = [
            self.bed(number, bed, one.litres, one.wanted_litres)
            for number, (bed, one) in enumerate(zip(self.beds, served, strict=True), 1)
        ]
        missing = wanted + for_mixes - (there or 0.0)
        missing = missing if missing > _ENOUGH * (wanted + for_mixes) else 0.0
        gathered = to_gather(missing, self.ground, self.knowledge, self.units, screened=screened)
        warned = warnings(
            dressed,
            [self.wants(bed) for bed in self.beds],
            self.figures,
            self.units,
            {bed.bed.name: self.there(bed) for bed in self.beds},
        )
        cautions = tuple(together([(one.bed.name, one.judged.cautions) for one in self.beds], "c", self.units))
        advice = [
            line for line, _ in together([(one.bed.name, one.judged.advice) for one in self.beds], "a", self.units)
        ]
        parts = (
            Part(title="First of all", lines=tuple(line for line, grave in cautions if grave), grave=True),
            Part(title="How much, where", lines=tuple(one.line for one in dressed)),
            Part(title="Mixes", lines=tuple(line for _, line in mixes)),
            Part(title="What it brings", lines=tuple(self.brings(dressed))),
            Part(title="In all", lines=tuple(self.totals(wanted + for_mixes, there, wants))),
            Part(title="What to gather for it", lines=gathered.lines if gathered else ()),
            Part(title="How and when", lines=tuple(self.how(dressed))),
            Part(title="What to do besides", lines=tuple(advice)),
            Part(
                title="Take care",
                lines=(
                    *(line for line, grave in cautions if not grave),
                    *self.always(dressed, sieved=screened or bool(mixes)),
                    *warned,
                ),
                care=True,
            ),
        )
        return SpreadAnswer(
            name=self.ground.name,
            units=self.units,
            parts=tuple(part for part in parts if part.lines),
            beds=tuple(dressed),
            finished_litres=sum(one.litres for one in dressed) + for_mixes,
            wanted_litres=wanted + for_mixes,
            raw_litres=spread_of(gathered.raw_litres) if gathered else None,
            heaps=gathered.heaps if gathered else None,
            gather=tuple(
                ToGather(
                    brown=found.brown.name,
                    greens=tuple(green.name for green in found.greens),
                    brown_litres=spread_of(found.brown_litres),
                    green_litres=spread_of(found.green_litres),
                    water_litres=found.water_litres,
                )
                for found in (gathered.recipes if gathered else ())
            ),
        )

    # ------------------------------------------------------------ beds

    def wants(self, bed: Bed) -> str:
        told = bed.bed
        if told.wants:
            return told.wants
        return {None: "upkeep", 1: "rebuild-first", 2: "rebuild-second", 3: "upkeep", 4: "upkeep", 5: "upkeep"}[
            told.step
        ]

    def want(self, bed: Bed) -> Want:
        """How deep, before it is known whether there is enough; what the checks hold back is held back here."""
        wanted = self.wants(bed)
        depth = 0.0
        if wanted != "none":
            spread = figure(self.figures, WANTS[wanted])
            depth = spread.low if bed.bed.step == 5 and not bed.bed.wants else spread.typical
            depth = depth if bed.bed.depth_cm is None else bed.bed.depth_cm
        if bed.dressing == "none":
            depth = 0.0
        elif bed.dressing == "thin":
            depth = min(depth, figure(self.figures, WANTS["upkeep"]).low)
        if depth and (there := self.there(bed)):
            rest = depth - spreading.depth_cm(there, bed.bed.area_m2 or 1.0)
            least = self.figures["dressing-rest-worth-spreading-pct"].typical / 100 * depth
            depth = rest if rest >= least else 0.0
        rank = _RANK[wanted]
        if wanted == "upkeep" and bed.bed.crops:
            rank += _HUNGER[self.knowledge.crop_families[bed.bed.crops[0]].hunger]
        return Want(bed.bed.name, bed.bed.area_m2 or 0.0, depth, rank)

    def there(self, bed: Bed) -> float:
        """Litres that went on a bed within a year, by the diary."""
        return self.ground.spread_on(bed.bed.name, self.today)

    def bed(self, number: int, bed: Bed, litres: float, wanted: float) -> BedDressed:
        area = bed.bed.area_m2 or 0.0
        deep = spreading.depth_cm(litres, area)
        made = spreading.dressing(area, deep, self.figures)
        by_year = spreading.nitrogen_by_year(made.nitrogen_kg, self.figures)
        return BedDressed(
            bed=bed.bed.name,
            area_m2=area,
            wanted_litres=wanted,
            litres=litres,
            depth_cm=deep,
            kilograms=spread_of(made.kg),
            nitrogen_kg=spread_of(made.nitrogen_kg),
            phosphate_kg=spread_of(made.phosphate_kg),
            potash_kg=spread_of(made.potash_kg),
            nitrogen_by_year_kg=(spread_of(by_year[0]), spread_of(by_year[1]), spread_of(by_year[2])),
            line=Line(id=f"b{number}", text=self.bed_text(bed, made, wanted), why=self.bed_why(bed, made)),
        )

    def bed_text(self, bed: Bed, made: Dressing, wanted: float) -> str:
        head = f"{bed.bed.name} ({area_text(made.area_m2, self.units)}, {_SAY[self.wants(bed)]})"
        if bed.dressing == "none":
            return f"{head}: none for now."
        had = self.there(bed)
        if wanted == 0:
            return f"{head}: none{self.had(had)}."
        if made.litres == 0:
            return f"{head}: nothing is left for it; it wants {volume_text(wanted, self.units)}."
        short = "" if made.litres >= wanted * 0.999 else f"; it wants {volume_text(wanted, self.units)}"
        thin = "; a thin dressing only" if bed.dressing == "thin" else ""
        thin += self.had(had)
        kg = mass_text(made.kg.typical, self.units)
        return (
            f"{head}: {length_text(made.depth_cm / 100, self.units)} deep, {volume_text(made.litres, self.units)}, "
            f"{self.barrows(made.litres)}, about {kg}{short}{thin}."
        )

    def had(self, litres: float) -> str:
        return f"; it had {volume_text(litres, self.units)} within the last year" if litres > 0 else ""

    def barrows(self, litres: float) -> str:
        return counted(max(1, round(litres / self.knowledge.measures["wheelbarrow"].litres.typical)), "barrow")

    def bed_why(self, bed: Bed, made: Dressing) -> tuple[Because, ...]:
        wanted = self.wants(bed)
        reasons = [*bed.dressing_why]
        if wanted != "none" and bed.bed.depth_cm is None:
            reasons.append(figure_because("how deep", figure(self.figures, WANTS[wanted]), " cm"))
        reasons.append(
            computed(
                f"{area_text(made.area_m2, self.units)} by {length_text(made.depth_cm / 100, self.units)} is "
                f"{volume_text(made.litres, self.units)}",
                figure_because("weight of a cubic metre", figure(self.figures, "compost-kg-per-m3"), " kg"),
                because="Area times depth: a litre to the square metre is a millimetre.",
            )
        )
        return tuple(reasons)

    # ------------------------------------------------------------ what it brings

    def brings(self, dressed: Sequence[BedDressed]) -> Iterable[Line]:
        total = [one for one in dressed if one.litres > 0]
        if not total:
            return
        area, litres = sum(one.area_m2 for one in total), sum(one.litres for one in total)
        made = spreading.dressing(area, spreading.depth_cm(litres, area), self.figures)
        names = ("nitrogen", "phosphate", "potash")
        amounts = (made.nitrogen_kg, made.phosphate_kg, made.potash_kg)
        shown = [f"{name} {self.between(amount)}" for name, amount in zip(names, amounts, strict=True)]
        contents = [
            figure_because(f"{name} of compost", figure(self.figures, f"compost-{name}-kg-per-t"), " kg/t")
            for name in names
        ]
        yield Line(
            id="f1",
            text=f"All beds together: {', '.join(shown)} (phosphate and potash as sacks print them, P2O5 and K2O).",
            why=(computed("weight times content", *contents),),
        )
        original = spreading.nitrogen_by_year(made.nitrogen_kg, self.figures)
        rest = spreading.nitrogen_by_year(made.nitrogen_kg, self.figures, "of-remainder")
        years = ", ".join(
            f"{self.between(part)} in the {word} year"
            for part, word in zip(original, ("first", "second", "third"), strict=True)
        )
        shares = [
            figure_because(name.removeprefix("compost-").replace("-", " "), figure(self.figures, name), "")
            for name in spreading.YEARS
        ]
        yield Line(
            id="f2",
            text=f"Of the nitrogen crops may take up {years}; the rest stays in the soil.",
            why=(
                computed(
                    "shares of what was spread, as ranges",
                    *shares,
                    because="Sources do not say whether the shares of later years are of what was spread or of "
                    "what is left. "
                    "By the first reading, used here, 15, 8 and 4 % of 1000 are 150, 80 and 40; by the second "
                    "150, 68 and 31. "
                    f"Here the second would give {' and '.join(self.typical(part) for part in rest[1:])} in the "
                    f"later years.",
                ),
            ),
        )
        phosphate, potash = spreading.next_crop(made, self.figures)
        yield Line(
            id="f3",
            text=f"Within reach of the next crop: phosphate {self.between(phosphate)}, potash {self.between(potash)}.",
            why=(
                figure_because(
                    "phosphate for the next crop", figure(self.figures, "compost-phosphate-next-crop-pct"), " %"
                ),
                figure_because("potash for the next crop", figure(self.figures, "compost-potash-next-crop-pct"), " %"),
            ),
        )

    def between(self, spread: Range) -> str:
        low = "nothing" if spread.low <= 0 else mass_text(spread.low, self.units)
        return f"{self.typical(spread)} ({low} to {mass_text(spread.high, self.units)})"

    def typical(self, spread: Range) -> str:
        return mass_text(spread.typical, self.units)

    # ------------------------------------------------------------ mixes, totals, backwards

    def mix(self, litres: float, number: int) -> tuple[float, Line] | None:
        """One of _MIXES: the compost for it, and the line; None if none was asked for."""
        if litres <= 0:
            return None
        name, what, rest_of_it = _MIXES[number]
        share = figure(self.figures, name)
        compost, rest = spreading.mix_parts(litres, share)
        text = (
            f"{volume_text(litres, self.units)} of {what}: {volume_text(compost.typical, self.units)} of compost "
            f"({volume_text(compost.low, self.units)} to {volume_text(compost.high, self.units)}), sieved, and "
            f"{volume_text(rest.typical, self.units)} of {rest_of_it}."
        )
        return compost.typical, Line(
            id=f"p{number + 1}", text=text, why=(figure_because("share of compost", share, " %"),)
        )

    def totals(self, wanted: float, there: float | None, wants: Sequence[Want]) -> Iterable[Line]:
        because = computed("the beds and mixes added up")
        if wanted <= 0:
            yield Line(id="t1", text="Wanted: no compost at all.", why=(because,))
            return
        text = f"Wanted: {volume_text(wanted, self.units)} of finished compost, {self.barrows(wanted)}."
        if there is not None:
            beyond = there - wanted
            what = f"{volume_text(abs(beyond), self.units)} {'left over' if beyond >= 0 else 'short'}"
            what = what if abs(beyond) > _ENOUGH * wanted else "just enough"
            text += f" There is {volume_text(there, self.units)}: {what}."
        yield Line(id="t1", text=text, why=(because,))
        if there is not None and there < wanted:
            yield Line(
                id="t2",
                text="It goes first to what is being built, then to hungry crops, to the rest, and to mulch last"
                f"{self.order(wants)}.",
                why=(computed("the order of serving", sources=("common-practice",)),),
            )

    def order(self, wants: Sequence[Want]) -> str:
        """The beds in the order of serving; empty if there is nothing to put in order."""
        asked = [want for want in wants if want.depth_cm > 0]
        ranks = sorted({want.rank for want in asked})
        if len(ranks) < 2:
            return ""
        named = [joined([want.name for want in asked if want.rank == rank]) for rank in ranks]
        return f": here {', then '.join(named)}"

    # ------------------------------------------------------------ what holds whatever the checks show

    def always(self, dressed: Sequence[BedDressed], *, sieved: bool) -> Iterable[Line]:
        """The wait after manure, and the dust of sieving."""
        if any(one.litres > 0 for one in dressed):
            splash, clear = (figure(self.figures, f"manure-wait-{name}-days") for name in ("splash", "clear"))
            yield Line(
                id="k1",
                text="If manure went into it, treat it as raw manure unless the heap was proven hot throughout: "
                f"{splash.typical:g} days before the harvest of what touches the soil, {clear.typical:g} days for the "
                "rest, and none on what is growing to be eaten raw.",
                why=(
                    figure_because("before what touches the soil", splash, " days"),
                    figure_because("before the rest", clear, " days"),
                ),
            )
        if sieved:
            notice = self.knowledge.notices["caution"]["compost-dust"]
            why = computed("whatever is sieved gives off dust", sources=notice.source)
            yield Line(id="k2", text=fill(notice.say, {}, self.units), why=(why,))

    # ------------------------------------------------------------ how

    def how(self, dressed: Sequence[BedDressed]) -> Iterable[Line]:
        worked = figure(self.figures, "worked-in-rebuild-cm")
        wants = {self.wants(bed) for bed, one in zip(self.beds, dressed, strict=True) if one.wanted_litres > 0}
        deep = fill("{5-8 cm}", {}, self.units)
        if wants & {"upkeep", "rebuild-first", "rebuild-second"}:
            yield Line(
                id="e1",
                text=f"Rake it into the top {deep} only, in spring a week or two before you sow, or lay it on "
                f"as a cover in autumn where winters do not wash it out.",
                why=(figure_because("worked in", worked, " cm"),),
            )
        if "new" in wants:
            yield Line(
                id="e2",
                text=f"On a new bed fork it in once, {fill('{15-20 cm}', {}, self.units)} deep, "
                f"when the soil crumbles; wait two to four weeks if it "
                f"smells of anything but earth.",
                why=(figure_because("a new bed", figure(self.figures, "dressing-new-bed-cm"), " cm"),),
            )
        if "mulch" in wants:
            yield Line(
                id="e3",
                text="Keep mulch a hand's width off stems and trunks.",
                why=(figure_because("mulch", figure(self.figures, "dressing-mulch-cm"), " cm"),),
            )

"""Backwards from the compost that is wanted: the raw stuff, the heaps, and the sacks and buckets to gather for them.

What is gathered is the ordinary recipe of 30 parts of carbon to one of nitrogen from what most people can get; what
somebody really has is a plan of its own (`heapwright plan`).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from advisor.blend.mix import carbon_nitrogen, second_for_cn, volume_l, water_to_add_kg
from advisor.blend.shapes import Part, Range
from advisor.blend.spread import typical
from advisor.counsel.aims import window_for
from advisor.counsel.plan import Because, Line
from advisor.counsel.why import computed, properties
from advisor.counsel.why import figure as figure_because
from advisor.heap.ranges import Spread, figure, over, scaled
from advisor.heap.town_limits import by_lot_litres, strictest_litres
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Material
from advisor.records import dataclass
from advisor.soil import spreading
from advisor.soil_counsel.ground import Ground
from advisor.units import Units, length_text, volume_text

#: A heap for the beds is to heat, and the method where none was told.
_WISH, _USUAL = "quick", "open-heap"

#: What most people can get: browns, the commonest first; greens, of which as many buckets of each are taken.
BROWNS: Final = ("dry-leaves", "straw", "cardboard")
GREENS: Final = ("grass-clippings", "kitchen-scraps")


@dataclass(frozen=True, slots=True)
class Recipe:
    """So much of a brown and of each green, in litres as gathered; water in litres, to wet what is dry."""

    brown: Material
    greens: tuple[Material, ...]
    brown_litres: Range
    green_litres: Range
    water_litres: float
    carbon_nitrogen: float


@dataclass(frozen=True, slots=True)
class Goal:
    """What a recipe aims at: carbon to nitrogen, and moisture in % of its weight."""

    carbon_nitrogen: float
    moisture_pct: float


def goal_for(method: str, knowledge: Knowledge) -> Goal:
    """What the rules aim at for a heap that is to heat."""
    ratio = window_for("carbon-nitrogen", method, _WISH, knowledge).aim
    return Goal(ratio, window_for("moisture", method, _WISH, knowledge).aim)


def recipe(raw_litres: Range, brown: Material, greens: Sequence[Material], goal: Goal) -> Recipe:
    """The brown and greens, as much of each green by volume, that fill a volume at the C:N aimed at.

    Source: the balance of carbon and nitrogen in advisor/blend/mix.py, at typical figures.

    Raises:
        CannotBeMet: the brown has no more carbon to its nitrogen than the goal, or the greens no less.
        ValueError: no green.
    """
    if not greens:
        raise ValueError("a recipe needs a green")
    litre_of_each = [_part(green, 1.0) for green in greens]
    brown_kg = second_for_cn(litre_of_each, typical(brown), goal.carbon_nitrogen)
    parts = [*litre_of_each, Part(typical(brown), brown_kg)]
    share = volume_l([parts[-1]]) / volume_l(parts)
    return Recipe(
        brown,
        tuple(greens),
        scaled(raw_litres, share),
        scaled(raw_litres, (1 - share) / len(greens)),
        water_to_add_kg(parts, goal.moisture_pct) * raw_litres.typical / volume_l(parts),
        carbon_nitrogen(parts),
    )


def _part(material: Material, litres: float) -> Part:
    composition = typical(material)
    return Part(composition, composition.density_kg_m3 * litres / 1000)


@dataclass(frozen=True, slots=True)
class Gathered:
    """What is to be brought together for the compost wanted, and the lines that say so."""

    raw_litres: Range
    heaps: int | None  # None for what is fed as it comes
    recipes: tuple[Recipe, ...]
    lines: tuple[Line, ...]


def to_gather(wanted: float, ground: Ground, knowledge: Knowledge, units: Units, *, screened: bool) -> Gathered | None:
    """From so many litres finished to the raw stuff; None if nothing is wanted."""
    if wanted <= 0:
        return None
    name = ground.method or _USUAL
    method = knowledge.methods[name]
    heap = ground.heap_litres or figure(knowledge.figures, "smallest-hot-heap-litres").typical
    found = spreading.gathering(wanted, method.shrinks_to, heap, knowledge.figures, screened=screened)
    raw = found.raw_litres
    sieved = f", {volume_text(found.unscreened_litres.typical, units)} before the screen" if screened else ""
    writer = _Writer(knowledge, units)
    text = (
        f"{volume_text(wanted, units)} finished{sieved} is about {writer.between(raw)} as built: "
        f"{found.heaps} "
        f"{'heap' if found.heaps == 1 else 'heaps'} of {volume_text(heap, units)}."
    )
    whose = "Your own." if ground.heap_litres else "The smallest that keeps its heat, since none was told."
    why = (
        figure_because(f"what is left of {method.name}", method.shrinks_to, " %"),
        computed(f"a heap of {volume_text(heap, units)}", because=whose),
    )
    if not method.has_body:
        fed = (
            f"{volume_text(wanted, units)} finished{sieved} is about {writer.between(raw)} of scraps, fed as they come."
        )
        return Gathered(raw, None, (), (Line(id="w1", text=fed, why=why[:1]),))
    lines = [Line(id="w1", text=text, why=why)]
    recipes: tuple[Recipe, ...] = ()
    if method.balanced:
        goal = goal_for(name, knowledge)
        greens = [knowledge.materials[each] for each in GREENS]
        recipes = tuple(recipe(raw, knowledge.materials[brown], greens, goal) for brown in BROWNS)
        lines += writer.recipes(recipes, found.heaps)
        lines.append(writer.towns(found.heaps, heap, ground.lot_m2, f"w{len(lines) + 1}"))
    else:
        lines.append(Line(id="w2", text=writer.leaves(raw), why=(writer.sack(),)))
    return Gathered(raw, found.heaps, recipes, tuple(lines))


class _Writer:
    def __init__(self, knowledge: Knowledge, units: Units) -> None:
        self.knowledge, self.units = knowledge, units
        self.sacks, self.buckets = knowledge.measures["sack"].litres, knowledge.measures["bucket"].litres

    def recipes(self, recipes: Sequence[Recipe], heaps: int) -> list[Line]:
        first, *others = recipes
        greens = " and ".join(
            f"{self.count(over(first.green_litres, self.buckets))} of {each.name}" for each in first.greens
        )
        text = (
            f"By the ordinary recipe, 30 parts of carbon to 1 of nitrogen, that is about "
            f"{self.count(over(first.brown_litres, self.sacks), 'garden sack')} of {first.brown.name} and, in buckets, "
            f"{greens}{self.water(first)}."
        )
        lines = [Line(id="w2", text=text, why=(self.why(first), self.sack(), self.bucket()))]
        for other in others:
            lines.append(Line(id=f"w{len(lines) + 2}", text=self.instead(other), why=(self.why(other), self.sack())))
        if heaps > 1:
            share = 1 / heaps
            each = self.count(over(scaled(first.brown_litres, share), self.sacks), "sack")
            buckets = self.count(over(scaled(first.green_litres, share * len(first.greens)), self.buckets), "bucket")
            text = f"For each of the {heaps} heaps that is {each} of browns and {buckets} of greens."
            lines.append(Line(id=f"w{len(lines) + 2}", text=text, why=(computed("shared among the heaps"),)))
        text = "Plan the heap itself from what you really have: greens differ much."
        why = computed(
            "typical figures of commonly had materials", because="Fed spring grass has twice the nitrogen of lean."
        )
        return [*lines, Line(id=f"w{len(lines) + 2}", text=text, why=(why,))]

    def between(self, litres: Range) -> str:
        low, middle, high = (volume_text(each, self.units) for each in (litres.low, litres.typical, litres.high))
        return f"{middle} ({low} to {high})"

    def instead(self, other: Recipe) -> str:
        brown = self.count(over(other.brown_litres, self.sacks), "sack")
        each = self.count(over(other.green_litres, self.buckets), "bucket")
        return f"With {other.brown.name} instead: {brown} of it and {each} of each green{self.water(other)}."

    def water(self, found: Recipe) -> str:
        """Nothing of water that is less than a bucket for the whole."""
        if found.water_litres < self.buckets.typical:
            return ""
        return f", and about {volume_text(found.water_litres, self.units)} of water on what is dry"

    def towns(self, heaps: int, heap: float, lot_m2: float | None, name: str) -> Line:
        """What published codes of towns allow, beside these heaps: one's own code binds."""
        figures = self.knowledge.figures
        least, in_all = strictest_litres(figures), heaps * heap
        height, line, house = (figure(figures, f"town-{what}-m") for what in ("height", "line", "house"))
        beside = "more than" if in_all > least * 1.005 else "within"
        text = (
            f"Towns limit heaps. Of the codes read for this the strictest allows {volume_text(least, self.units)} "
            f"in all, and these come to {volume_text(in_all, self.units)}: {beside} that"
        )
        why = [figure_because("in all, on any lot", figure(figures, "town-volume-litres"), " L")]
        if lot_m2 is not None:
            allowed = by_lot_litres(lot_m2, figures)
            text += f"; one that goes by the lot would allow {volume_text(allowed, self.units)} on yours"
            why.append(figure_because("for each step of a lot", figure(figures, "town-volume-by-lot-litres"), " L"))
        text += (
            f". They ask for no more than {self.metres(height)} of height, {self.metres(line)} to the boundary and "
            f"{self.metres(house)} to a neighbour's house. Your own town's code is what binds: ask."
        )
        why += [
            figure_because(what, value, " m")
            for what, value in (("height", height), ("to the boundary", line), ("to a neighbour's house", house))
        ]
        return Line(id=name, text=text, why=tuple(why))

    def metres(self, value: Spread) -> str:
        return f"{length_text(value.low, self.units)} to {length_text(value.high, self.units)}"

    def leaves(self, raw: Range) -> str:
        return f"That is about {self.count(over(raw, self.sacks), 'garden sack')} of leaves, and nothing else."

    def count(self, measured: Range, noun: str = "") -> str:
        """ "11 sacks (7 to 20)"; never none."""
        low, middle, high = (max(1, round(each)) for each in (measured.low, measured.typical, measured.high))
        named = f" {noun}{'' if middle == 1 else 's'}" if noun else ""
        return f"{middle}{named} ({low} to {high})" if low < high else f"{middle}{named}"

    def why(self, found: Recipe) -> Because:
        return computed(
            f"{found.brown.name} with as much of each green by volume, at a C:N of {found.carbon_nitrogen:.0f}",
            *(properties(material) for material in (found.brown, *found.greens)),
            because="Carbon and nitrogen are added up on dry mass and divided once.",
        )

    def sack(self) -> Because:
        return figure_because("what a garden sack holds", self.sacks, " L")

    def bucket(self) -> Because:
        return figure_because("what a bucket holds", self.buckets, " L")

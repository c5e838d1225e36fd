"""The second half of a consultation: the windows the rules set, the recipe, and what it comes to."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from advisor.blend.mix import water_to_add_kg
from advisor.blend.offers import Windows
from advisor.blend.recipe import Recipe, solve
from advisor.blend.shapes import Window
from advisor.blend.spread import BlendFigures, Portion, figures, typical_part
from advisor.counsel.ingredients import ADDED_ROLES, BODY_ROLES, Ingredient, fetchable, is_poured, on_hand
from advisor.counsel.settle import Settled, container_litres, is_barred
from advisor.counsel.stock import Lot, measure_figure, uses
from advisor.heap.geometry import HeapBody, body, leaf_cages, most_that_fits
from advisor.heap.ranges import figure
from advisor.household.shapes import Household
from advisor.inference.engine import Consultation
from advisor.inference.evaluate import State
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Method
from advisor.records import dataclass


@dataclass(frozen=True, slots=True)
class Blended:
    """What the second half worked out. `recipe` is None for methods that mix nothing."""

    ingredients: Mapping[str, Ingredient]
    extras: tuple[Lot, ...]  # minerals, starters and liquids that may go in
    recipe: Recipe | None
    windows: Windows
    range: BlendFigures | None
    body: HeapBody | None
    cages: int
    used_litres: Mapping[str, float]
    poured_litres: Mapping[str, float]  # liquids that the sums count, beside what makes up the body
    poor: bool = False  # it has too little nitrogen to heat

    def left_over(self, material_id: str) -> float:
        """Litres of what is on hand now that the recipe does not use; the rest of a measure goes in all the same."""
        ingredient = self.ingredients.get(material_id)
        if ingredient is None:
            return 0.0
        now = sum(lot.litres.typical for lot in ingredient.lots if not lot.weekly)
        due = sum(lot.due_litres for lot in ingredient.lots)
        used = self.used_litres.get(material_id, 0.0)
        over = due - used
        negligible = ingredient.unit.litres * ingredient.unit.step * 0.5 if used else 0.0
        return min(now, over) if over > negligible * (1 + 1e-9) else 0.0


def windows_of(talk: Consultation, most_litres: float, container: float | None) -> Windows:
    """The windows the rules set, with what the room or the container holds as the upper edge of the volume."""
    return Windows(
        carbon_nitrogen=window_of(talk, "carbon-nitrogen"),
        moisture=window_of(talk, "moisture"),
        air_space=window_of(talk, "air-space"),
        volume_l=_volume(talk, most_litres, container),
    )


def window_of(talk: Consultation | State, subject: str) -> Window | None:
    """The window as the rules set it, moved by what season and crop make of it, within its outer bounds."""
    low, aim, high = (talk.number("target", edge, subject) for edge in ("low", "aim", "high"))
    if low is None or aim is None or high is None:
        return None
    shift = shift_of_target(talk, subject)
    least, most = talk.number("target", "least", subject), talk.number("target", "most", subject)

    def moved(edge: float) -> float:
        # a bound holds back what is moved towards it, never what already lay beyond
        if shift < 0 and least is not None:
            return max(edge + shift, min(edge, least))
        if shift > 0 and most is not None:
            return min(edge + shift, max(edge, most))
        return edge + shift

    return Window(moved(low), moved(aim), moved(high))


def shift_of_target(talk: Consultation | State, subject: str) -> float:
    """How far a window is moved: every rule counts, though two may give the same shift."""
    return sum(
        float(value)
        for value in talk.values("target", "shift", subject)
        for _ in talk.concluding(Fact("target", "shift", subject, value).key)
    )


def _volume(talk: Consultation, most_litres: float, container: float | None) -> Window | None:
    wanted = window_of(talk, "volume")
    if wanted is None:
        return None
    high = min(wanted.high, most_litres)
    aim = high if container is not None else wanted.aim
    return Window(min(wanted.low, high), min(aim, high), high)


def blend(talk: Consultation, settled: Settled, household: Household, knowledge: Knowledge) -> Blended:
    """Work out the recipe for the method that stands, and tell the rules what came of it."""
    method = settled.method
    kind = knowledge.methods[method]
    allowed = [lot for lot in settled.lots if not is_barred(talk, lot.material_id, method)]
    holds = container_litres(household) if _uses_container(kind, household) else None
    most = (
        most_that_fits(household.ground, holds, method, knowledge.figures, _container(household))
        if kind.has_body
        else math.inf
    )
    windows = windows_of(talk, most, holds)
    extras = tuple(lot for lot in allowed if lot.material.role in ADDED_ROLES)
    ingredients = on_hand([lot for lot in allowed if lot.material.role in BODY_ROLES], talk, household, knowledge)
    recipe = None
    poured: dict[str, float] = {}
    if kind.balanced:
        ingredients |= on_hand([lot for lot in extras if is_poured(lot.material)], talk, household, knowledge)
        near = fetchable(talk, ingredients, household, knowledge, method)
        recipe = _buildable(_solved(ingredients, near, windows, knowledge), talk.word("plan", "aim"), knowledge)
        fetched = dict(recipe.fetch)
        ingredients |= {name: each for name, each in near.items() if name in fetched and name not in ingredients}
        amounts = {name: count * ingredients[name].unit.litres for name, count in recipe.counts}
        poured = {name: litres for name, litres in amounts.items() if ingredients[name].offer.poured}
        used = {name: litres for name, litres in amounts.items() if name not in poured}
    else:
        used = _everything(ingredients, method, most)
        if method == "leaf-heap":
            ingredients |= on_hand([lot for lot in extras if is_poured(lot.material)], talk, household, knowledge)
            counts = {name: litres / ingredients[name].unit.litres for name, litres in used.items()}
            thirst = _leaf_water(_portions(counts, ingredients, household, knowledge), windows)
            poured = _all_poured(ingredients, math.fsum(used.values()), thirst)
    result = _measured(recipe, ingredients, extras, windows, used, poured, household, knowledge, method, holds)
    talk.tell(facts_of(result, kind), "worked out from the recipe")
    return result


def _solved(
    here: Mapping[str, Ingredient], near: Mapping[str, Ingredient], windows: Windows, knowledge: Knowledge
) -> Recipe:
    """The recipe; if it is right but leaves much that spoils, with what to fetch so that the rest is used as well."""
    offers = [each.offer for each in here.values()]
    offered = [each.offer for each in near.values()]
    recipe = solve(offers, windows, fetchable=offered)
    final = recipe.with_fetch or recipe
    if final.status != "met":
        return recipe
    wasted = sum(
        count * here[name].unit.litres
        for name, count in final.left_over
        if name in here and here[name].offer.perishable
    )
    much = wasted >= knowledge.figures["left-over-worth-a-word-litres"].typical
    return solve(offers, windows, fetchable=offered, use_up=True) if much else recipe


def _buildable(recipe: Recipe, aim: str | None, knowledge: Knowledge) -> Recipe:
    """The recipe, or none with the same misses and the same things to fetch, where it is too poor or too little.

    A heap of sawdust lies for years, and a handful is no heap: that there is not enough yet is the honest answer.
    """
    reached = recipe.reached
    if reached is None or recipe.status != "nearest":
        return recipe
    poor = (
        aim != "fungal" and reached.carbon_nitrogen > figure(knowledge.figures, "poorest-mix-carbon-nitrogen").typical
    )
    if not poor and reached.volume_l >= figure(knowledge.figures, "smallest-mix-litres").typical:
        return recipe
    return replace(recipe, status="nothing", counts=(), water_l=0.0, reached=None, binding=())


def figures_of(
    counts: Mapping[str, float],
    ingredients: Mapping[str, Ingredient],
    water_l: float,
    household: Household,
    knowledge: Knowledge,
) -> BlendFigures:
    """The ranges of a blend of so many measures of each ingredient."""
    return figures(_portions(counts, ingredients, household, knowledge), water_l=water_l)


def _portions(
    counts: Mapping[str, float],
    ingredients: Mapping[str, Ingredient],
    household: Household,
    knowledge: Knowledge,
) -> list[Portion]:
    portions = []
    for name, count in counts.items():
        ingredient = ingredients[name]
        if len({lot.portion.measure for lot in ingredient.lots}) == 1:
            # the same words as the person used, so that what is vague in them stays vague
            lot = ingredient.lots[0]
            due = sum(one.due_litres for one in ingredient.lots)
            told = sum(one.due_portion.count for one in ingredient.lots)
            share = count * ingredient.unit.litres / due if due else 0.0
            portions.append(
                Portion(
                    name,
                    ingredient.material,
                    told * share,
                    lot.portion.measure,
                    lot.portion.litres,
                    lot.portion.packed,
                )
            )
        else:
            size = measure_figure(ingredient.unit.measure, household, knowledge)
            portions.append(Portion(name, ingredient.material, count, ingredient.unit.measure, size))
    return portions


def _everything(ingredients: Mapping[str, Ingredient], method: str, most: float) -> dict[str, float]:
    """What a method that mixes nothing takes: all of it, or as much as fits; a leaf heap takes leaves alone."""
    chosen = {
        name: sum(lot.due_litres for lot in each.lots)
        for name, each in ingredients.items()
        if method != "leaf-heap" or "leaf" in each.material.traits
    }
    if method == "collection":
        return {}
    total = sum(chosen.values())
    if method == "leaf-heap" and total > most > 0:
        return {name: litres * most / total for name, litres in chosen.items()}
    return chosen


def _measured(
    recipe: Recipe | None,
    ingredients: Mapping[str, Ingredient],
    extras: tuple[Lot, ...],
    windows: Windows,
    used: Mapping[str, float],
    poured: Mapping[str, float],
    household: Household,
    knowledge: Knowledge,
    method: str,
    holds: float | None,
) -> Blended:
    ranges = None
    heap = None
    cages = 0
    total = sum(used.values())
    if recipe is not None and recipe.counts:
        ranges = figures_of(dict(recipe.counts), ingredients, recipe.water_l, household, knowledge)
    elif method == "leaf-heap" and total > 0:
        counts = {name: litres / ingredients[name].unit.litres for name, litres in {**used, **poured}.items()}
        water = _leaf_water(_portions(counts, ingredients, household, knowledge), windows)
        recipe = Recipe("nothing", counts=tuple(counts.items()), water_l=water)
        ranges = figures_of(counts, ingredients, water, household, knowledge)
    if knowledge.methods[method].has_body and total > 0:
        heap = body(
            total,
            method=method,
            figures=knowledge.figures,
            container=_container(household),
            room=household.ground,
            container_litres=holds,
        )
        if heap.heats != "no" and _is_poor(ranges, knowledge):
            heap = replace(heap, heats="no")
        if method == "leaf-heap":
            cages = leaf_cages(total, knowledge.figures).number
    return Blended(
        ingredients, extras, recipe, windows, ranges, heap, cages, dict(used), dict(poured), _is_poor(ranges, knowledge)
    )


def _is_poor(ranges: BlendFigures | None, knowledge: Knowledge) -> bool:
    """Whether a mix has too little nitrogen to heat."""
    most = figure(knowledge.figures, "heap-heats-up-to-carbon-nitrogen").typical
    return ranges is not None and ranges.carbon_nitrogen.typical > most


def _all_poured(ingredients: Mapping[str, Ingredient], total: float, thirst: float) -> dict[str, float]:
    """Return the litres of each liquid on hand to pour on a heap whose C:N is left as it is.

    Args:
        total: litres of the heap.
        thirst: litres of water that the heap needs; the liquids take their place, and are no more than these.
    """
    liquids = {name: each for name, each in ingredients.items() if each.offer.poured}
    most = {
        name: min(each.offer.at_most * each.unit.litres, (each.offer.share_cap or 1.0) * total)
        for name, each in liquids.items()
    }
    together = math.fsum(most.values())
    share = min(1.0, thirst / together) if together > 0 else 0.0
    return {name: litres * share for name, litres in most.items() if litres * share > 0}


def _leaf_water(leaves: Sequence[Portion], windows: Windows) -> float:
    if windows.moisture is None:
        return 0.0
    return water_to_add_kg([typical_part(portion) for portion in leaves], windows.moisture.aim)


def _container(household: Household) -> str | None:
    said = household.answers.get("place.container", ())
    return str(said[0]) if said and said[0] != "none" else None


def _uses_container(method: Method, household: Household) -> bool:
    """Whether the size that was told is that of the container in which the heap is made."""
    return any(word in method.made_in for word in household.answers.get("place.container", ()))


# ---------------------------------------------------------------- what the rules are told of it


def facts_of(result: Blended, method: Method) -> Iterable[Fact]:
    """The recipe, the blend and the heap's body as facts."""
    recipe = result.recipe
    if not method.balanced:
        yield Fact("recipe", "status", "", "none")
    elif recipe is not None:
        yield Fact("recipe", "status", "", recipe.status)
        for word in recipe.short_of:
            yield Fact("recipe", "short_of", "", word)
    to_fetch = [name for name, _ in recipe.fetch] if recipe is not None else []
    yield from uses([result.ingredients[name].material for name in (*result.used_litres, *to_fetch)])
    yield from uses([lot.material for lot in result.extras])
    for name, ingredient in result.ingredients.items():
        if ingredient.lots and not ingredient.offer.poured:
            yield Fact("holding", "left_over", name, result.left_over(name))
    if recipe is not None and result.range is not None:
        yield Fact("blend", "water", "", recipe.water_l)
        yield Fact("blend", "moisture", "", result.range.moisture_pct.typical)
        yield Fact("blend", "air_space", "", max(0.0, result.range.free_air_space_pct.typical))
        ratio = result.range.carbon_nitrogen.typical
        if math.isfinite(ratio):
            yield Fact("blend", "carbon_nitrogen", "", min(1000.0, ratio))
        if recipe.reached is not None:
            yield Fact("blend", "dryness", "", recipe.reached.moisture_before_pct)
    if result.body is not None:
        yield Fact("heap", "litres", "", result.body.litres)
        yield Fact("heap", "height", "", result.body.height_m)
        yield Fact("heap", "heats", "", result.body.heats)
        if result.body.heats == "no":
            yield Fact("heap", "cold_because", "", "poor" if result.poor else "small")
        yield Fact("heap", "fits", "", "yes" if result.body.fits else "no")

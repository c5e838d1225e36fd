"""What browns each load of a weekly green asks for, by the balance of carbon and nitrogen."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.blend.mix import CannotBeMet, carbon_nitrogen, second_for_cn
from advisor.blend.shapes import Part
from advisor.counsel import why
from advisor.counsel.blending import Blended
from advisor.counsel.ingredients import Ingredient
from advisor.counsel.measures import in_halves
from advisor.counsel.plan import Because, Line
from advisor.counsel.stock import measure_figure
from advisor.counsel.wording import counted
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.units import Units, volume_text


class Loads:
    """Writes what goes in with each load of one plan."""

    def __init__(self, blended: Blended, method: str, household: Household, knowledge: Knowledge, units: Units) -> None:
        self.blended, self.method = blended, method
        self.household, self.knowledge, self.units = household, knowledge, units

    def per_load(self) -> Iterator[Line]:
        """What browns each load of a weekly green wants, by the balance of carbon and nitrogen."""
        for number, (text, reasons) in enumerate(self._loads(), 1):
            yield Line(id=f"q{number}", text=text, why=reasons)

    def load_phrases(self) -> list[str]:
        """The same, to stand in a sentence."""
        return [text.replace("With each", "each", 1).replace(",", " with", 1) for text, _ in self._loads()]

    def _loads(self) -> Iterator[tuple[str, tuple[Because, ...]]]:
        window = self.blended.windows.carbon_nitrogen
        brown = self._main_brown()
        if window is None or brown is None or not self.knowledge.methods[self.method].balanced:
            return
        for ingredient in self.blended.ingredients.values():
            weekly = any(lot.weekly for lot in ingredient.lots)
            if not weekly or ingredient.offer.poured or ingredient.material_id == brown.material_id:
                continue
            load = Part(
                ingredient.offer.composition,
                ingredient.unit.litres * ingredient.offer.composition.density_kg_m3 / 1000,
            )
            if carbon_nitrogen([load]) >= window.low:
                continue
            try:
                kilograms = second_for_cn([load], brown.offer.composition, window.aim)
            except CannotBeMet:
                continue
            litres = kilograms / brown.offer.composition.density_kg_m3 * 1000
            amount = self._amount(litres, brown)
            text = f"With each {ingredient.unit.name} of {ingredient.material.name}, {amount} of {brown.material.name}"
            reasons = (
                why.computed(
                    f"brings that load to {window.aim:g} of carbon to one of nitrogen",
                    why.properties(ingredient.material),
                    why.properties(brown.material),
                    sources=("cornell-cn-memory", "cornell-mix-formula"),
                    because="The mass of a second material for a carbon to nitrogen goal.",
                ),
            )
            yield text, reasons

    def _amount(self, litres: float, ingredient: Ingredient) -> str:
        """Litres in the measure of the material, or in buckets where that is too coarse."""
        size, name = ingredient.unit.litres, ingredient.unit.name
        if litres < 0.4 * size:
            size = measure_figure("bucket", self.household, self.knowledge).typical
            name = self.knowledge.measures["bucket"].name
        if litres < 0.4 * size:
            return volume_text(litres, self.units)
        return counted(in_halves(litres, size), name)

    def _main_brown(self) -> Ingredient | None:
        browns = [each for each in self.blended.ingredients.values() if each.material.role == "brown"]
        if not browns:
            return None
        return max(
            browns,
            key=lambda each: (bool(each.lots), sum(lot.due_litres for lot in each.lots), each.material_id),
        )

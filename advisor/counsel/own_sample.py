"""One sample's moisture and density, from what a scale, an oven and a bucket tell."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.blend.sample import bucket_density_kg_m3, oven_moisture_pct
from advisor.counsel import why
from advisor.counsel.own_mix_shapes import SampleSum
from advisor.counsel.plan import Line
from advisor.errors import HouseholdError
from advisor.units import Units


def sample_sum(
    *,
    dried_g: tuple[float, float, float] | None = None,
    weighed: tuple[float, float, float] | None = None,
    units: Units = "metric",
) -> SampleSum:
    """The moisture of a dried sample and the density of a weighed bucket.

    Args:
        dried_g: grams of the wet sample and of the dry one, both with the dish, and of the dish alone.
        weighed: kg of the full bucket and of the empty one, and the litres that it holds.

    Raises:
        HouseholdError: the weights cannot be: a dry sample heavier than the wet one, an empty bucket heavier than full.
    """
    moisture = None if dried_g is None else _moisture(*dried_g)
    density = None if weighed is None else _density(*weighed)
    return SampleSum(units=units, moisture_pct=moisture, density_kg_m3=density, said=tuple(_lines(moisture, density)))


def _moisture(wet: float, dry: float, dish: float) -> float:
    if not 0 <= dish < dry <= wet:
        hint = "give the wet and the dry sample, both with the dish, then the dish: --dried 14,6.3,4"
        raise HouseholdError(f"a sample of {wet:g} g cannot dry to {dry:g} g in a dish of {dish:g} g", hint=hint)
    return oven_moisture_pct(wet, dry, dish)


def _density(full: float, empty: float, litres: float) -> float:
    if not (0 <= empty < full and litres > 0):
        hint = "give the full bucket, the empty one, and its litres: --weighed 10,1,20"
        raise HouseholdError(
            f"a bucket of {litres:g} L cannot weigh {empty:g} kg empty and {full:g} kg full", hint=hint
        )
    return bucket_density_kg_m3(full, empty, litres)


def _lines(moisture: float | None, density: float | None) -> Iterator[Line]:
    if moisture is not None:
        text = f"Moisture: {moisture:.0f} % of the wet weight. Use it with --own 'NAME: moisture {moisture:.0f} %'."
        how = why.computed("what it lost, over the wet weight without the dish", sources=("cornell-schools-moisture",))
        yield Line(id="s1", text=text, why=(how,))
        text = (
            "Dry it 24 hours at 105 °C (220 °F), or in a microwave in short steps until the weight holds. Put a cup of "
            "water in the microwave beside it, stay with it, and stop if it smells burnt."
        )
        how = why.computed("a microwave comes within about 3 points of an oven", sources=("victoria-microwave",))
        yield Line(id="s2", text=text, why=(how,))
    if density is not None:
        text = f"Density: {density:.0f} kg/m³. Use it with --own 'NAME: density {density:.0f} kg/m3'."
        how = why.computed("its weight without the bucket, over its litres", sources=("art-and-science-supplement",))
        yield Line(id="s3", text=text, why=(how,))
        text = "Fill the bucket in thirds. Drop it on the ground a few times after the first two, then top it up loose."
        yield Line(id="s4", text=text, why=(how,))

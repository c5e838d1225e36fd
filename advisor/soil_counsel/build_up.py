"""How much compost is too much: at one time, and year upon year, for the phosphorus and salts that come with it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from advisor.counsel.plan import Line
from advisor.counsel.why import computed
from advisor.counsel.why import figure as figure_because
from advisor.counsel.wording import joined
from advisor.heap.ranges import Figures, figure
from advisor.soil import spreading
from advisor.soil_counsel.shapes import BedDressed
from advisor.units import Units, length_text, mass_text, volume_text


def warnings(
    dressed: Sequence[BedDressed],
    wants: Sequence[str],
    figures: Figures,
    units: Units,
    had: Mapping[str, float] | None = None,
) -> Iterable[Line]:
    """Lines of warning for beds and what each wants, a key of ground.WANTS.

    Args:
        had: litres that went on each bed within the last year.
    """
    found = [
        *_had(dressed, had or {}, figures, units),
        *_at_once(dressed, wants, figures, units),
        *_phosphate(dressed, wants, figures),
        *_ceiling(dressed, figures),
    ]
    for number, line in enumerate(found, 1):
        yield line.model_copy(update={"id": f"x{number}"})


def _had(dressed: Sequence[BedDressed], had: Mapping[str, float], figures: Figures, units: Units) -> Iterable[Line]:
    """What the dressings of the last year brought of phosphate, beside what crops carry off."""
    removed = figure(figures, "crop-phosphate-removal-g-per-m2")
    for one in dressed:
        litres = had.get(one.bed, 0.0)
        if litres <= 0:
            continue
        made = spreading.dressing(one.area_m2, spreading.depth_cm(litres, one.area_m2), figures)
        times = spreading.phosphate_balance(made.phosphate_kg.typical, one.area_m2, figures)
        text = (
            f"{one.bed}: the {volume_text(litres, units)} of the last year brought about "
            f"{mass_text(made.phosphate_kg.typical, units)} of phosphate, {times:.1f} times what a year of crops "
            "carries off. The rest stays in the soil."
        )
        why = (
            figure_because("phosphate that vegetables carry off in a year", removed, " g/m2"),
            figure_because("phosphate of compost", figure(figures, "compost-phosphate-kg-per-t"), " kg/t"),
        )
        yield Line(id="x", text=text, why=(computed("by your diary", *why, sources=("pnw-533",)),))


def _at_once(dressed: Sequence[BedDressed], wants: Sequence[str], figures: Figures, units: Units) -> Iterable[Line]:
    most = figure(figures, "dressing-most-at-once-cm")
    for want, one in zip(wants, dressed, strict=True):
        if one.depth_cm > most.high + 1e-9 and want != "mulch":
            deep, limit = (length_text(cm / 100, units) for cm in (one.depth_cm, most.high))
            text = (
                f"{one.bed}: {deep} is more than {limit}, the most that should be mixed in at one time; "
                "spread the rest next year."
            )
            yield Line(id="x", text=text, why=(figure_because("at one time", most, " cm"),))


def _phosphate(dressed: Sequence[BedDressed], wants: Sequence[str], figures: Figures) -> Iterable[Line]:
    """What upkeep brings in a year beside what crops carry off."""
    removed = figure(figures, "crop-phosphate-removal-g-per-m2")
    times = {
        one.bed: round(spreading.phosphate_balance(one.phosphate_kg.typical, one.area_m2, figures))
        for want, one in zip(wants, dressed, strict=True)
        if want == "upkeep" and one.litres > 0
    }
    much = {bed: ratio for bed, ratio in times.items() if ratio >= figures["phosphate-times-worth-a-word"].typical}
    if not much:
        return
    low, high = min(much.values()), max(much.values())
    times_over = f"{low}" if low == high else f"{low} to {high}"
    text = (
        f"{joined(list(much))}: such a dressing every year brings about {times_over} times "
        "the phosphate that crops carry off. It stays, and salts come with it: have phosphorus and salts tested every "
        "three to five years, and go down to half, or to every other year, when the test says plenty."
    )
    why = (
        figure_because("phosphate that vegetables carry off in a year", removed, " g/m2"),
        figure_because("phosphate of compost", figure(figures, "compost-phosphate-kg-per-t"), " kg/t"),
    )
    yield Line(id="x", text=text, why=(computed("what comes in over what goes out", *why, sources=("pnw-533",)),))


def _ceiling(dressed: Sequence[BedDressed], figures: Figures) -> Iterable[Line]:
    deepest = max(dressed, key=lambda one: one.depth_cm, default=None)
    if deepest is None or deepest.litres <= 0:
        return
    made = spreading.dressing(deepest.area_m2, deepest.depth_cm, figures)
    years = spreading.years_of_ceiling(made, figures)
    if years.typical > 1.5:
        text = (
            f"The deepest of these is what German law allows farmland of biowaste compost in about {years.typical:.0f} "
            "years. Year upon year such dressings build up phosphorus and salts: have the soil tested every three to "
            "five years."
        )
        three_years = figure(figures, "dry-matter-ceiling-kg-per-m2")
        yield Line(id="x", text=text, why=(figure_because("dry matter in three years", three_years, " kg/m2"),))

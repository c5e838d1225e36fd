"""The checks of the soil, each from what was measured to its figure, class and facts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from advisor.knowledge.conditions import Value
from advisor.soil import drainage, infiltration, slake, spade, texture, worms_count
from advisor.soil_counsel.reading import CheckRead, Told
from advisor.units import Units, length_text

#: What is beyond these was not measured in a garden: a slip of the pen, a unit forgotten, or a leak. Our own bounds.
_DEEPEST_BLOCK_MM: Final = 600.0
_FASTEST_MM_H: Final = 10_000.0
_MOST_WORMS_M2: Final = 10_000.0
_TALLEST_JAR_MM: Final = 600.0
_DEEPEST_FALL_MM: Final = 600.0


def _spade(told: Told) -> CheckRead:
    scores, depths = told.numbers("scores"), told.numbers("depths")
    if sum(depths) > _DEEPEST_BLOCK_MM:
        raise ValueError(f"no spade lifts a block {sum(depths) / 10:g} cm deep: give the depths as in '10 15 cm'")
    if len(scores) != len(depths):
        raise ValueError(f"{len(scores)} scores and {len(depths)} depths: give one of each for every layer")
    layers = [spade.SpadeLayer(score, depth / 10) for score, depth in zip(scores, depths, strict=True)]
    block = spade.spade_block(layers, told.knowledge.scales)
    worst = ""
    if len(layers) > 1 and block.worst.score >= 4:
        worst = (
            f"; the worst begins at {length_text(block.worst_from_cm / 100, told.units)}: "
            if block.worst_from_cm
            else "; the worst is at the top: "
        )
        worst += spade.LOOKS[round(block.worst.score)].split(":")[0]
    return told.found(
        "spade",
        f"spade score {block.score:.1f}, {block.band.say}{worst}",
        {"structure": block.band.word},
        value=block.score,
        word=block.band.word,
        tracked="spade",
        tracked_value=block.score,
        because="Score times depth of each layer, over the depth of all: 1 to 2.9 good, 3 to 3.9 fair, 4 to 5 poor.",
    )


def _ring(told: Told) -> CheckRead:
    width, litres = told.number("width"), told.number("water")
    deep = infiltration.depth_mm(litres, width)
    minutes = told.numbers("minutes")
    fills = [infiltration.Fill(minute) for minute in minutes[:-1]]
    fills.append(infiltration.Fill(minutes[-1], told.number("left")))
    found = infiltration.infiltration(deep, fills, told.knowledge.scales)
    if found.rate_mm_h > _FASTEST_MM_H:
        raise ValueError("water that is gone in seconds ran out beside the ring: drive it deeper, and pour again")
    rate = rate_text(found.rate_mm_h, told.units)
    dry = "; one filling alone reads fast on dry ground, so do a second" if found.dry_start else ""
    inch = infiltration.litres_for(infiltration.MM_PER_INCH, width) * 1000
    because = (
        f"So much water stands {length_text(deep / 1000, told.units)} deep in this ring; "
        f"an inch (25.4 mm) would take {inch:.0f} ml of it."
    )
    if abs(litres - infiltration.KIT_LITRES) < 1e-3:
        because += " The kit's 444 ml are an inch only in a ring of 5.87 in inside."
    return told.found(
        "ring",
        f"water goes in at {rate}: {found.band.say}{dry}",
        {"intake": found.band.word},
        value=found.rate_mm_h,
        unit="mm/h",
        word=found.band.word,
        tracked="ring",
        tracked_value=found.rate_mm_h,
        because=because,
    )


def _jar(told: Told) -> CheckRead:
    if told.number("top") > _TALLEST_JAR_MM:
        raise ValueError("no jar is that high: give the marks in cm, or with their unit")
    found = texture.jar(told.number("sand"), told.number("silt"), told.number("top"))
    return _textured(told, "jar", found, "Each mark less the one below it, over the whole.")


def _texture(told: Told) -> CheckRead:
    found = texture.texture(told.number("sand"), told.number("silt"), told.number("clay"))
    return _textured(told, "texture", found, "As the laboratory reports them, by the triangle of the USDA.")


def _textured(told: Told, guide: str, found: texture.Texture, because: str) -> CheckRead:
    name = told.knowledge.kinds["check"].attributes["texture"].words[found.name]
    shares = f"{found.sand_pct:.0f} % sand, {found.silt_pct:.0f} % silt, {found.clay_pct:.0f} % clay"
    return told.found(
        guide, f"{name}: {shares}", {"texture": found.name}, word=found.name, texture=found, because=because
    )


def _slake(told: Told) -> CheckRead:
    soft = told.count("soft")
    crumbs = [slake.Crumb(left_pct=left) for left in told.numbers("left")]
    crumbs += [slake.Crumb(half_lost_seconds=seconds) for seconds in told.numbers("seconds")]
    crumbs += [slake.Crumb(too_soft=True)] * soft
    found = slake.slake(crumbs)
    say = told.knowledge.kinds["check"].attributes["hold"].words[found.hold]
    few = f" (of {len(crumbs)}; sixteen make a test)" if len(crumbs) < slake.CRUMBS else ""
    return told.found(
        "slake",
        f"crumbs in water: class {found.mean:.1f} of 6, {say}{few}",
        {"hold": found.hold},
        value=found.mean,
        word=found.hold,
        tracked="slake",
        tracked_value=found.mean,
        because="The mean class of the crumbs: 0 too soft to lift, 6 nearly whole after five dips.",
    )


def _worms(told: Told) -> CheckRead:
    found = worms_count.worm_count(told.numbers("counts"), told.knowledge.scales, told.number("side") / 10)
    if found.per_m2 > _MOST_WORMS_M2:
        raise ValueError(f"{found.per_m2:.0f} earthworms to the square metre cannot be: count again, block by block")
    return told.found(
        "worms",
        worms_text(found, told.units),
        {"worms": found.band.word},
        value=found.per_m2,
        unit="per m2",
        word=found.band.word,
        tracked="worms",
        tracked_value=found.per_m2,
        because="By the British mark for a block of 20 by 20 cm (8 by 8 in); "
        f"by that of the United States for a square foot: {found.us_band.say}.",
    )


def worms_text(found: worms_count.WormCount, units: Units) -> str:
    """A count in words, by the square metre or foot and by the block that the classes are for."""
    each = (
        f"{found.per_m2:.0f} earthworms to the square metre"
        if units == "metric"
        else f"{found.per_ft2:.0f} earthworms to the square foot"
    )
    return f"{each}, or {found.per_block:.0f} to a block of {length_text(0.2, units)} each way: {found.band.say}"


def _casts(told: Told) -> CheckRead:
    count = told.number("count")
    band = worms_count.casts(count, told.knowledge.scales, told.number("side") / 10)
    return told.found("casts", f"{count:.0f} worm casts: {band.say}", {"casts": band.word}, value=count, word=band.word)


def _percolation(told: Told) -> CheckRead:
    if told.number("fell") > _DEEPEST_FALL_MM:
        raise ValueError("the hole is 30 cm (12 in) deep: water cannot fall further than that")
    found = drainage.percolation(told.number("fell"), told.number("hours"), told.knowledge.scales)
    return told.found(
        "percolation",
        f"water sinks at {rate_text(found.rate_mm_h, told.units)}: {found.band.say}",
        {"percolation": found.band.word},
        value=found.rate_mm_h,
        unit="mm/h",
        word=found.band.word,
    )


def _hole(told: Told) -> CheckRead:
    hours = told.number("hours")
    if hours == 0:
        raise ValueError("if no water stayed at all, say the hours as in 0.1")
    band = drainage.hole(hours, told.knowledge.scales)
    return told.found(
        "hole",
        f"the hole was empty in {hours:g} h: {band.say}",
        {"hole": band.word},
        value=hours,
        unit="h",
        word=band.word,
    )


def _weeds(told: Told) -> CheckRead:
    names = told.words("names")
    meaning = told.knowledge.guides["weeds"].inputs["names"].words
    hints = tuple(dict.fromkeys(meaning[name] for name in names))
    words = told.knowledge.kinds["check"].attributes["weeds"].words
    text = f"{', '.join(name.replace('-', ' ') for name in names)}: hints at {', '.join(words[each] for each in hints)}"
    return told.found("weeds", text, {"weeds": tuple(hints)})


def _looks(told: Told) -> CheckRead:
    seen = told.words("seen")
    words = told.knowledge.kinds["check"].attributes["looks"].words
    return told.found("looks", "; ".join(words[each] for each in seen), {"looks": tuple(seen)})


def _laboratory(told: Told) -> CheckRead:
    attributes = told.knowledge.kinds["check"].attributes
    given: dict[str, Value | tuple[Value, ...]] = {}
    parts = []
    for name in ("ph", "phosphorus", "salt", "lead", "organic_matter"):
        if name in told.values:
            value = told.number(name)
            low, high = attributes[name].number or (0.0, 0.0)
            if not low <= value <= high:
                raise ValueError(f"{attributes[name].about} lies between {low:g} and {high:g}, not {value:g}")
            given[name] = value
            parts.append(_figure_text(told, name, value))
    if not given:
        raise ValueError("a report gives at least one figure: " + ", ".join(told.knowledge.guides["laboratory"].inputs))
    organic = given.get("organic_matter")
    kept = "organic-matter" if isinstance(organic, float) else ""
    return told.found(
        "laboratory",
        "; ".join(parts),
        given,
        tracked=kept,
        tracked_value=float(organic) if isinstance(organic, float) else 0.0,
    )


def _figure_text(told: Told, name: str, value: float) -> str:
    declared = told.knowledge.kinds["check"].attributes[name]
    shown = "pH" if name == "ph" else name.replace("_", " ")
    band = told.knowledge.scales[f"soil-{name.replace('_', '-')}"].of(value)
    return f"{shown} {value:g} {declared.unit}".strip() + f" ({band.say})"


def rate_text(mm_h: float, units: Units) -> str:
    """A rate of water going down: "122 mm an hour" or "4.8 in an hour"."""
    figure = mm_h if units == "metric" else mm_h / infiltration.MM_PER_INCH
    shown = f"{figure:.0f}" if figure >= 10 else f"{figure:.2g}"
    return f"{shown} {'mm' if units == 'metric' else 'in'} an hour"


READERS: Final[Mapping[str, Callable[[Told], CheckRead]]] = {
    "spade": _spade,
    "ring": _ring,
    "jar": _jar,
    "texture": _texture,
    "slake": _slake,
    "worms": _worms,
    "casts": _casts,
    "percolation": _percolation,
    "hole": _hole,
    "weeds": _weeds,
    "looks": _looks,
    "laboratory": _laboratory,
}

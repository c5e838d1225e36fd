"""Each guided check: from what was measured to a figure, its published class, and the facts the rules read.

`read_check` is all that a talk or a screen needs beside the guide itself (`Knowledge.guides`), whose inputs say what
to ask.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from advisor.errors import HouseholdError
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.soil import drainage, germination, infiltration, sanitising, slake, spade, texture, worms_count
from advisor.soil_counsel.inputs import Values
from advisor.units import Units, length_text


@dataclass(frozen=True, slots=True)
class CheckRead:
    """A check as read.

    `value` is in `unit`, or None if the check is no figure; `tracked` names its entry of soil.trend.TRACKED, if it is
    kept as a trend; `texture` is set by those that give one, `heat` by the log.
    """

    guide: str
    text: str
    facts: tuple[Fact, ...]
    sources: tuple[str, ...]
    value: float | None = None
    unit: str = ""
    word: str = ""
    tracked: str = ""
    tracked_value: float = 0.0
    because: str = ""
    texture: texture.Texture | None = None
    heat: tuple[sanitising.Recorded, ...] = ()


def read_check(guide: str, values: Values, knowledge: Knowledge, units: Units, where: str = "") -> CheckRead:
    """Work out one check.

    Args:
        guide: id of the guide.
        values: what `inputs.read_values` made of what was told.
        where: where it was told, for the error.

    Raises:
        HouseholdError: figures that cannot be.
        KeyError: no such guide.
    """
    try:
        return _READERS[guide](_Told(values, knowledge, units))
    except ValueError as error:
        raise HouseholdError(str(error), where=where or knowledge.guides[guide].name) from None


@dataclass(frozen=True, slots=True)
class _Told:
    values: Values
    knowledge: Knowledge
    units: Units

    def numbers(self, name: str) -> tuple[float, ...]:
        return tuple(float(value) for value in self.values.get(name, ()))

    def number(self, name: str) -> float:
        return float(self.values[name][0])

    def words(self, name: str) -> tuple[str, ...]:
        return tuple(str(value) for value in self.values.get(name, ()))

    def found(self, guide: str, text: str, facts: Mapping[str, Value | tuple[Value, ...]], **more: object) -> CheckRead:
        """The result, its facts of the kind that the guide is about."""
        told = self.knowledge.guides[guide]
        kind = "check" if told.of == "soil" else "finish"
        listed = {name: value if isinstance(value, tuple) else (value,) for name, value in facts.items()}
        if kind == "check":
            listed["basis"] = ("laboratory" if guide in ("laboratory", "texture") else "home",)
        made = tuple(Fact(kind, name, "", value) for name, values in listed.items() for value in values)
        return CheckRead(guide, text, made, told.source, **more)  # type: ignore[arg-type]  # named as its fields are


def _spade(told: _Told) -> CheckRead:
    scores, depths = told.numbers("scores"), told.numbers("depths")
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


def _ring(told: _Told) -> CheckRead:
    width, litres = told.number("width"), told.number("water")
    deep = infiltration.depth_mm(litres, width)
    minutes = told.numbers("minutes")
    fills = [infiltration.Fill(minute) for minute in minutes[:-1]]
    fills.append(infiltration.Fill(minutes[-1], told.number("left")))
    found = infiltration.infiltration(deep, fills, told.knowledge.scales)
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


def _jar(told: _Told) -> CheckRead:
    found = texture.jar(told.number("sand"), told.number("silt"), told.number("top"))
    return _textured(told, "jar", found, "Each mark less the one below it, over the whole.")


def _texture(told: _Told) -> CheckRead:
    found = texture.texture(told.number("sand"), told.number("silt"), told.number("clay"))
    return _textured(told, "texture", found, "As the laboratory reports them, by the triangle of the USDA.")


def _textured(told: _Told, guide: str, found: texture.Texture, because: str) -> CheckRead:
    name = told.knowledge.kinds["check"].attributes["texture"].words[found.name]
    shares = f"{found.sand_pct:.0f} % sand, {found.silt_pct:.0f} % silt, {found.clay_pct:.0f} % clay"
    return told.found(
        guide, f"{name}: {shares}", {"texture": found.name}, word=found.name, texture=found, because=because
    )


def _slake(told: _Told) -> CheckRead:
    soft = round(told.number("soft"))
    if soft < 0:
        raise ValueError("crumbs too soft to lift are counted from nought")
    crumbs = [slake.Crumb(left_pct=left) for left in told.numbers("left")]
    crumbs += [slake.Crumb(half_lost_seconds=seconds) for seconds in told.numbers("seconds")]
    crumbs += [slake.Crumb(too_soft=True)] * soft
    found = slake.slake(crumbs)
    say = told.knowledge.kinds["check"].attributes["hold"].words[found.hold]
    few = f" ({len(crumbs)} crumbs; sixteen make a test)" if len(crumbs) < slake.CRUMBS else ""
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


def _worms(told: _Told) -> CheckRead:
    found = worms_count.worm_count(told.numbers("counts"), told.knowledge.scales, told.number("side") / 10)
    each = (
        f"{found.per_m2:.0f} earthworms to the square metre"
        if told.units == "metric"
        else f"{found.per_ft2:.0f} earthworms to the square foot"
    )
    return told.found(
        "worms",
        f"{each}, or {found.per_block:.0f} to a block of {length_text(0.2, told.units)} each way: {found.band.say}",
        {"worms": found.band.word},
        value=found.per_m2,
        unit="per m2",
        word=found.band.word,
        tracked="worms",
        tracked_value=found.per_m2,
        because="By the British mark for a block of 20 by 20 cm (8 by 8 in); "
        f"by that of the United States for a square foot: {found.us_band.say}.",
    )


def _casts(told: _Told) -> CheckRead:
    count = told.number("count")
    band = worms_count.casts(count, told.knowledge.scales, told.number("side") / 10)
    return told.found("casts", f"{count:.0f} worm casts: {band.say}", {"casts": band.word}, value=count, word=band.word)


def _percolation(told: _Told) -> CheckRead:
    found = drainage.percolation(told.number("fell"), told.number("hours"), told.knowledge.scales)
    return told.found(
        "percolation",
        f"water sinks at {rate_text(found.rate_mm_h, told.units)}: {found.band.say}",
        {"percolation": found.band.word},
        value=found.rate_mm_h,
        unit="mm/h",
        word=found.band.word,
    )


def _hole(told: _Told) -> CheckRead:
    hours = told.number("hours")
    band = drainage.hole(hours, told.knowledge.scales)
    return told.found(
        "hole",
        f"the hole was empty in {hours:g} h: {band.say}",
        {"hole": band.word},
        value=hours,
        unit="h",
        word=band.word,
    )


def _weeds(told: _Told) -> CheckRead:
    names = told.words("names")
    meaning = told.knowledge.guides["weeds"].inputs["names"].words
    hints = tuple(dict.fromkeys(meaning[name] for name in names))
    words = told.knowledge.kinds["check"].attributes["weeds"].words
    text = f"{', '.join(name.replace('-', ' ') for name in names)}: hints at {', '.join(words[each] for each in hints)}"
    return told.found("weeds", text, {"weeds": tuple(hints)})


def _looks(told: _Told) -> CheckRead:
    seen = told.words("seen")
    words = told.knowledge.kinds["check"].attributes["looks"].words
    return told.found("looks", "; ".join(words[each] for each in seen), {"looks": tuple(seen)})


def _laboratory(told: _Told) -> CheckRead:
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


def _figure_text(told: _Told, name: str, value: float) -> str:
    declared = told.knowledge.kinds["check"].attributes[name]
    shown = "pH" if name == "ph" else name.replace("_", " ")
    band = f" ({told.knowledge.scales['soil-lead'].of(value).say})" if name == "lead" else ""
    return f"{shown} {value:g} {declared.unit}".strip() + band


# ---------------------------------------------------------------- finished compost


def _radish(told: _Told) -> CheckRead:
    sown, grown = round(told.number("sown")), round(told.number("grown"))
    found = germination.radish(sown, grown, told.knowledge.scales)
    return told.found(
        "radish",
        f"{grown} of {sown} radishes grew, {found.pct:.0f} %: {found.band.say}",
        {"sprouted": found.pct, "tested": "yes"},
        value=found.pct,
        unit="%",
        word=found.band.word,
        because="Three quarters or more, and it is ready for any use.",
    )


def _cress(told: _Told) -> CheckRead:
    sown = round(told.number("sown"))
    sample = germination.Dish(sown, round(told.number("sprouted")), _mean(told.numbers("roots")))
    control = germination.Dish(sown, round(told.number("control_sprouted")), _mean(told.numbers("control_roots")))
    index = germination.germination_index(sample, control, told.knowledge.scales)
    relative = germination.relative_growth(sample, control, told.knowledge.scales)
    because = (
        f"{sample.sprouted} of {control.sprouted} sprouted, times {sample.root_mm:g} of {control.root_mm:g} mm of "
        f"root; the worse of the two alone is {relative.pct:.0f} % of the control: {relative.band.say}."
    )
    return told.found(
        "cress",
        f"germination index {index.pct:.0f} %: {index.band.say}",
        {"index": index.pct, "relative": relative.pct, "tested": "yes"},
        value=index.pct,
        unit="%",
        word=index.band.word,
        because=because,
    )


def _mean(values: tuple[float, ...]) -> float:
    return sum(values) / len(values)


def _bag(told: _Told) -> CheckRead:
    (smell,) = told.words("smell")
    say = told.knowledge.guides["bag"].inputs["smell"].words[smell]
    return told.found("bag", f"out of the bag it smelt of {say}", {"bag": smell}, word=smell)


def _flask(told: _Told) -> CheckRead:
    rise = told.number("peak") - told.number("room")
    band = told.knowledge.scales["self-heating"].of(rise)
    shown = f"{rise:.0f} °C" if told.units == "metric" else f"{rise * 1.8:.0f} °F"
    return told.found(
        "flask", f"it warmed {shown} above the room: {band.say}", {"rise": rise}, value=rise, unit="°C", word=band.word
    )


def _weed_seeds(told: _Told) -> CheckRead:
    per_litre, band = germination.weed_seeds(
        round(told.number("seedlings")), told.number("litres"), told.knowledge.scales
    )
    return told.found(
        "weed-seeds",
        f"{per_litre:.1f} seedlings a litre: {band.say}",
        {"weed_seeds": per_litre},
        value=per_litre,
        unit="per litre",
        word=band.word,
    )


def _heat(told: _Told) -> CheckRead:
    days, degrees = told.numbers("days"), told.numbers("degrees")
    if len(days) != len(degrees):
        raise ValueError(f"{len(days)} days and {len(degrees)} readings: give one of each")
    readings = [sanitising.Reading(day, celsius) for day, celsius in zip(days, degrees, strict=True)]
    turned = told.numbers("turned")
    found = sanitising.recorded(readings, turned, turned=told.words("vessel") != ("yes",))
    reached = [one for one in found if one.reached]
    text = (
        f"recorded: the numbers of {len(reached)} of {len(found)} published rules"
        if reached
        else "recorded: the numbers of no published rule"
    )
    return told.found(
        "heat",
        f"{text}, over {max(days) - min(days) + 1:g} days, {len(turned)} turnings",
        {"heat": "reached" if reached else "missed"},
        word="reached" if reached else "missed",
        heat=found,
        because="A thermometer reads one place: this is a record, and no certificate.",
    )


_READERS: Mapping[str, Callable[[_Told], CheckRead]] = {
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
    "radish": _radish,
    "cress": _cress,
    "bag": _bag,
    "flask": _flask,
    "weed-seeds": _weed_seeds,
    "heat": _heat,
}


def rate_text(mm_h: float, units: Units) -> str:
    """A rate of water going down: "122 mm an hour" or "4.8 in an hour"."""
    figure = mm_h if units == "metric" else mm_h / infiltration.MM_PER_INCH
    shown = f"{figure:.0f}" if figure >= 10 else f"{figure:.2g}"
    return f"{shown} {'mm' if units == 'metric' else 'in'} an hour"

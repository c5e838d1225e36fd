"""The tests of finished compost, each from what was counted or measured to its figure, class and facts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from advisor.knowledge.conditions import Value
from advisor.soil import germination, sanitising
from advisor.soil_counsel.reading import CheckRead, Told


def _radish(told: Told) -> CheckRead:
    sown, grown = told.count("sown"), told.count("grown")
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


def _cress(told: Told) -> CheckRead:
    sown = told.count("sown")
    sample = germination.Dish(sown, told.count("sprouted"), _mean(told.numbers("roots")))
    control = germination.Dish(sown, told.count("control_sprouted"), _mean(told.numbers("control_roots")))
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


def _bag(told: Told) -> CheckRead:
    (smell,) = told.words("smell")
    say = told.knowledge.guides["bag"].inputs["smell"].words[smell]
    return told.found("bag", f"out of the bag it smelt of {say}", {"bag": smell}, word=smell)


def _beans(told: Told) -> CheckRead:
    (leaves,) = told.words("leaves")
    say = told.knowledge.guides["beans"].inputs["leaves"].words[leaves]
    return told.found("beans", f"beans grew {say}", {"beans": leaves}, word=leaves)


def _flask(told: Told) -> CheckRead:
    rise = told.number("peak") - told.number("room")
    if rise < -told.knowledge.figures["flask-draught-celsius"].typical:
        raise ValueError("it was colder than the room: let it come to the room's heat first, and read again")
    rise = max(rise, 0.0)
    band = told.knowledge.scales["self-heating"].of(rise)
    shown = f"{rise:.0f} °C" if told.units == "metric" else f"{rise * 1.8:.0f} °F"
    return told.found(
        "flask", f"it warmed {shown} above the room: {band.say}", {"rise": rise}, value=rise, unit="°C", word=band.word
    )


def _report(told: Told) -> CheckRead:
    given: dict[str, Value | tuple[Value, ...]] = {}
    parts = []
    if "salt" in told.values:
        salt = told.number("salt")
        if not 0 <= salt <= 100:
            raise ValueError(f"salts lie between 0 and 100 dS/m, not {salt:g}")
        given["salt"] = salt
        parts.append(f"salts {salt:g} dS/m: {told.knowledge.scales['compost-salt'].of(salt).say}")
    if ("ammonium" in told.values) != ("nitrate" in told.values):
        raise ValueError("ammonium and nitrate are read together")
    if "ammonium" in told.values:
        if told.number("ammonium") < 0 or not told.number("nitrate") > 0:
            raise ValueError("give nitrate as the least the laboratory can see, if it saw none")
        ratio = min(told.number("ammonium") / told.number("nitrate"), 10_000.0)
        given["ratio"] = ratio
        parts.append(f"ammonium to nitrate {ratio:.3g}: {told.knowledge.scales['ammonium-nitrate'].of(ratio).say}")
    if not given:
        raise ValueError("a report gives at least one figure: " + ", ".join(told.knowledge.guides["report"].inputs))
    return told.found("report", "; ".join(parts), given)


def _weed_seeds(told: Told) -> CheckRead:
    per_litre, band = germination.weed_seeds(told.count("seedlings"), told.number("litres"), told.knowledge.scales)
    return told.found(
        "weed-seeds",
        f"{per_litre:.1f} seedlings a litre: {band.say}",
        {"weed_seeds": per_litre},
        value=per_litre,
        unit="per litre",
        word=band.word,
    )


def _heat(told: Told) -> CheckRead:
    days, degrees = told.numbers("days"), told.numbers("degrees")
    if len(days) != len(degrees):
        raise ValueError(f"{len(days)} days and {len(degrees)} readings: give one of each")
    readings = [sanitising.Reading(day, celsius) for day, celsius in zip(days, degrees, strict=True)]
    turned = told.numbers("turned")
    found = sanitising.recorded(
        readings, turned, rules=told.knowledge.heat_rules, turned=told.words("vessel") != ("yes",)
    )
    meant = [one for one in found if one.rule.sanitises]
    reached = [one for one in meant if one.reached]
    many = f"{len(reached)} of {len(meant)}" if reached else f"none of {len(meant)}"
    turnings = "1 turning" if len(turned) == 1 else f"{len(turned)} turnings"
    return told.found(
        "heat",
        f"recorded: the numbers of {many} published rules against germs, "
        f"over {max(days) - min(days) + 1:g} days, {turnings}",
        {"heat": "reached" if reached else "missed"},
        word="reached" if reached else "missed",
        heat=found,
        because="A thermometer reads one place: this is a record, and no certificate.",
    )


READERS: Final[Mapping[str, Callable[[Told], CheckRead]]] = {
    "radish": _radish,
    "cress": _cress,
    "bag": _bag,
    "beans": _beans,
    "flask": _flask,
    "weed-seeds": _weed_seeds,
    "report": _report,
    "heat": _heat,
}

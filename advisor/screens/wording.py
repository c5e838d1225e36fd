"""Short words for the figures of a plan, as the side of the screen has room for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.units import length_text, volume_text

if TYPE_CHECKING:
    from advisor.counsel.plan import Body, Gauge, Plan
    from advisor.diagnosis.shapes import Diagnosis
    from advisor.household.shapes import Household
    from advisor.units import Units

#: What a figure is called beside its scale.
NAMES = {"carbon-nitrogen": "Carbon to nitrogen", "moisture": "Moisture", "air-space": "Air in it", "volume": "Size"}

#: And where there is little room.
SHORT_NAMES = {"carbon-nitrogen": "C:N", "moisture": "moisture", "air-space": "air", "volume": "size"}

#: Whether a body will heat, in the fewest words.
HEATS = {"yes": "will heat", "barely": "may heat", "no": "won't heat"}

_TOO_LOW = {
    "carbon-nitrogen": "too green",
    "moisture": "too dry",
    "air-space": "too dense",
    "volume": "too little",
}
_TOO_HIGH = {
    "carbon-nitrogen": "too brown",
    "moisture": "too wet",
    "air-space": "too airy",
    "volume": "too much",
}
_EDGE = 0.05  # of the window: nearer to its edge than that is only just inside
_ENDLESS = 1e5  # a ratio so high means that there is next to no nitrogen


def figures(gauge: Gauge, units: Units) -> str:
    """The figure, its stretch and its window: "29 (25 to 34), wanted 25 to 35"."""
    low, typical, high = (_figure(gauge.what, value, units) for value in _ends(gauge))
    return f"{typical} ({low} to {high}){_wanted(gauge, units)}"


def verdict(gauge: Gauge) -> str:
    """Whether it will do, in a word or two; "likely" where the stretch says it may be otherwise.

    "Too green" is too little carbon for the nitrogen, as the trade says it; "too brown" the other way round.
    """
    goal, spread = gauge.goal, gauge.spread
    if goal is None or (gauge.what == "volume" and goal.low <= 0 and gauge.inside):
        return ""  # any size will do
    if gauge.inside:
        if goal.low <= spread.low and spread.high <= goal.high:
            return "good"
        edge = min(spread.typical - goal.low, goal.high - spread.typical)
        return "just inside" if edge < _EDGE * (goal.high - goal.low) else "good, likely"
    low = spread.typical < goal.low
    said = _TOO_LOW[gauge.what] if low else _TOO_HIGH[gauge.what]
    sure = spread.high < goal.low if low else spread.low > goal.high
    return said if sure else f"{said}, likely"


def short(gauge: Gauge, units: Units) -> str:
    """The gauge in one breath: "C:N 29, good"."""
    unit = " %" if gauge.what in ("moisture", "air-space") else ""
    text = f"{SHORT_NAMES[gauge.what]} {_figure(gauge.what, gauge.spread.typical, units)}{unit}"
    said = verdict(gauge).removesuffix(", likely")
    return f"{text}, {said}" if said else text


def size(body: Body, units: Units) -> str:
    """The sides of the body: "83 cm long, 83 cm wide, 83 cm high"."""
    long, wide, high = (length_text(side, units) for side in (body.length_m, body.width_m, body.height_m))
    if long == wide:
        return f"{wide} across, {high} high"
    return f"{long} long, {wide} wide, {high} high"


def warmth(plan: Plan) -> str:
    """Whether the body is big enough to heat; empty where heat is not looked for."""
    if plan.body is None or not any(gauge.what == "volume" for gauge in plan.recipe.gauges):
        return ""
    return {"yes": "big enough to heat", "barely": "on the edge of heating", "no": "too small to run hot"}[
        plan.body.heats
    ]


def standing(plan: Plan) -> str:
    """The method in a few words: "Bin, worked hot"."""
    name = plan.choice.name
    aim = {"hot": ", worked hot", "fungal": ", slow and woody"}.get(plan.choice.aim, "")
    return f"{name[:1].upper()}{name[1:]}{aim}"


def _ends(gauge: Gauge) -> tuple[float, float, float]:
    return gauge.spread.low, gauge.spread.typical, gauge.spread.high


def _figure(what: str, value: float, units: Units) -> str:
    if what == "volume":
        return volume_text(value, units)
    if value >= _ENDLESS:
        return "no nitrogen"
    return f"{value:.0f}"


def _wanted(gauge: Gauge, units: Units) -> str:
    goal = gauge.goal
    if goal is None:
        return ""
    unit = " %" if gauge.what in ("moisture", "air-space") else ""
    low, high = (_figure(gauge.what, value, units) for value in (goal.low, goal.high))
    if gauge.what == "volume":
        return f", wanted {low} or more" if goal.low > 0 else f", best {_figure(gauge.what, goal.aim, units)}"
    if gauge.what == "air-space":
        return f"{unit}, wanted {low} or more"
    return f"{unit}, wanted {low} to {high}"


def room(plan: Plan, household: Household | None) -> str:
    """The room there is, beside what the body takes: "of 1.5 by 2 m free"."""
    ground = household.room if household is not None else None
    if plan.body is None or ground is None:
        return ""
    sides = f"{length_text(ground.length_m, plan.units)} by {length_text(ground.width_m, plan.units)}"
    return f"{sides} of ground is free" if plan.body.fits else f"more than {sides} of ground will hold"


def ails(cure: Diagnosis) -> str:
    """What ails a heap, in a few words: "too many greens", "too wet or not enough air?", "nothing is wrong"."""
    if cure.verdict == "normal":
        return "nothing is wrong"
    settled = [suspect.name for suspect in cure.standing]
    if settled and cure.verdict != "tied":
        return settled[0] if cure.verdict == "settled" else f"{settled[0]}, at a guess"
    return f"{' or '.join(suspect.name for suspect in cure.causes[:2])}?"


def look_again(cure: Diagnosis) -> str:
    """When to look whether the first remedy has worked; empty if there is none to look after."""
    days = cure.remedies[0].look_again_days if cure.remedies else 0
    return "" if not days else "look again tomorrow" if days == 1 else f"look again in {days} days"

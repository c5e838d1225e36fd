"""The card: what stands, in six short lines, shown as soon as there is a mix and after every change of it."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.counsel.plan import Plan, RecipeLine
from advisor.counsel.wording import joined, plural
from advisor.counsel.writing import weeks_text
from advisor.knowledge.base import Knowledge
from advisor.talk.saying import number, upper
from advisor.units import Units, volume_text

#: So many ingredients are named; the plan has the rest.
_MOST_NAMED = 4
_WIDTH = 15

_HEATS = {
    "yes": "yes, it is big enough to run hot",
    "barely": "perhaps, it is just big enough",
    "no": "no, it is too small to run hot; it rots slowly and well",
}


def card(plan: Plan, knowledge: Knowledge, units: Units) -> str:
    """The card of a plan as lines of text, each with its heading on the left."""
    return "\n".join(f"  {heading:<{_WIDTH}}{text}" for heading, text in rows(plan, knowledge, units))


def rows(plan: Plan, knowledge: Knowledge, units: Units) -> Iterator[tuple[str, str]]:
    """Headings and texts of the card, in the order in which things are done."""
    recipe = plan.recipe
    yield (
        "Best",
        f"{plan.choice.name}" + (f"; next best, {plan.choice.runner_up.name}" if plan.choice.runner_up else ""),
    )
    mix = recipe.whole or recipe.lines
    if mix:
        named = [_amount(line, knowledge, units) for line in mix]
        shown = named if len(named) <= _MOST_NAMED else [*named[:_MOST_NAMED], f"{len(named) - _MOST_NAMED} more"]
        yield "Mix", joined(shown)
    if recipe.poured:
        yield "Pour on", joined([f"{volume_text(one.litres, units)} of {one.name}" for one in recipe.poured])
    if recipe.fetch:
        yield "Still to get", joined([_amount(line, knowledge, units) for line in recipe.fetch])
    if mix:
        water = recipe.whole_water_litres if recipe.whole else recipe.water_litres
        yield "Water", volume_text(water, units) if water >= 1 else "none, it is moist enough"
    if plan.body is not None and knowledge.methods[plan.choice.method].balanced:
        yield "Will it heat?", _HEATS[plan.body.heats]
    weeks = plan.ready_weeks
    if weeks is not None:
        yield "Ready", f"in about {weeks_text(weeks.typical)} ({weeks_text(weeks.low)} to {weeks_text(weeks.high)})"
    if plan.prepare:
        yield "First", upper(plan.prepare[0].text)
    elif plan.steps:
        yield "First", plan.steps[0].text


def _amount(line: RecipeLine, knowledge: Knowledge, units: Units) -> str:
    if line.count < 0.5:
        return f"{volume_text(line.litres, units)} of {line.name}"
    measure = knowledge.measures[line.measure].name
    return f"{number(line.count)} {measure if line.count <= 1 else plural(measure)} of {line.name}"

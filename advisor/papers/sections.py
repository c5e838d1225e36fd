"""The parts of a plan in the order they are read, for every paper and page that shows them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from advisor.counsel.plan import Event, Line, Plan


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and its lines. `grave` marks what is never left out; `drawn` the one that the layers belong to."""

    title: str
    lines: tuple[Line, ...]
    grave: bool = False
    drawn: bool = False


#: What fetching is for, by whether the mix is right as it stands.
FETCH = {False: "To fetch, and the mix would be right", True: "To fetch, and what is left over would go in too"}


def sections(plan: Plan) -> tuple[Section, ...]:
    """Every part of the plan that has something to say; every line of the plan stands in one of them."""
    recipe, choice = plan.recipe, plan.choice
    grave = [line for line in plan.cautions if line.id.startswith("g")]
    mix = [*(line.line for line in recipe.lines), *_some(recipe.water), *recipe.additions, *recipe.per_load]
    fetch = [*(line.line for line in recipe.fetch), *_some(recipe.with_fetch)]
    found = [
        _section("What there is", [heard.line for heard in plan.heard]),
        _section("The way", [choice.line, *_some(choice.runner_up_line)]),
        _section("First of all", grave, grave=True),
        _section("The mix", mix),
        _section("What that comes to", [gauge.line for gauge in recipe.gauges]),
        _section("What is not right yet", recipe.misses),
        _section(FETCH[recipe.status == "met"], fetch),
        _section("The body of it", _some(plan.body.line if plan.body else None), drawn=True),
        _section("Get or make ready", plan.needs),
        _section("Do this to it first", plan.prepare),
        _section("How to go about it", plan.steps),
        _section("The calendar", [*(dated(event) for event in plan.events), plan.ready]),
        _section("Keep out", plan.stays_out),
        _section("Left over", plan.left_over),
        _section("Worth knowing", plan.notes),
        _section("Take care", [line for line in plan.cautions if line not in grave]),
        _section("Not said yet, and what it would change", [doubt.line for doubt in plan.doubts]),
    ]
    return tuple(section for section in found if section.lines)


def dated(event: Event) -> Line:
    """The line of an event with its day, week or date before it."""
    when = event.date or (f"day {event.day}" if event.day < 22 else f"week {round(event.day / 7)}")
    return event.line.model_copy(update={"text": f"{when}: {event.line.text}"})


def _section(title: str, lines: Iterable[Line], *, grave: bool = False, drawn: bool = False) -> Section:
    return Section(title, tuple(lines), grave, drawn)


def _some(line: Line | None) -> list[Line]:
    return [line] if line is not None else []

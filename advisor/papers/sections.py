"""The parts of a plan in the order they are read, for every paper and page that shows them."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.counsel.plan import Event, Line, Plan
from advisor.records import dataclass
from advisor.units import Units


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and its lines.

    `grave` marks what is never left out, `care` the other cautions; `drawn` the one that the layers belong to; `ticked`
    the names of the lines that are things to do, which paper gives a box to tick.
    """

    title: str
    lines: tuple[Line, ...]
    grave: bool = False
    drawn: bool = False
    care: bool = False
    ticked: frozenset[str] = frozenset()


#: What fetching is for, by whether the mix is right without it.
FETCH = {False: "To fetch, and the mix would be right", True: "To fetch, and what is left over would go in too"}


def sections(plan: Plan) -> tuple[Section, ...]:
    """Every part of the plan that has something to say; every line of the plan stands in one of them."""
    recipe, choice = plan.recipe, plan.choice
    mix = [*(line.line for line in recipe.lines), *_some(recipe.water)]
    calendar = [*(dated(event) for event in plan.events), plan.ready]
    fetch = [*(line.line for line in recipe.fetch), *_some(recipe.with_fetch)]
    found = [
        _section("What there is", [heard.line for heard in plan.heard]),
        _section("The method", [choice.line, *_some(choice.runner_up_line)]),
        first_of_all(plan.cautions),
        _section("The mix", [*mix, *recipe.additions, *recipe.per_load], ticked=mix),
        _section(FETCH[recipe.status == "met"], fetch, ticked=fetch),
        _section("What that comes to", [gauge.line for gauge in recipe.gauges]),
        _section("What is not right yet", recipe.misses),
        _section("Its size", _some(plan.body.line if plan.body else None), drawn=True),
        _section("Get or make ready", plan.needs, ticked=plan.needs),
        _section("Do this to it first", plan.prepare, ticked=plan.prepare),
        _section("How to go about it", plan.steps, ticked=plan.steps),
        _section("The calendar", calendar, ticked=calendar),
        _section("Keep out", plan.stays_out),
        _section("Left over", plan.left_over),
        _section("Worth knowing", plan.notes),
        take_care(plan.cautions),
        _section("Not said yet, and what it would change", [doubt.line for doubt in plan.doubts]),
    ]
    return tuple(section for section in found if section.lines)


def dated(event: Event) -> Line:
    """The line of an event with its day, week or date before it."""
    when = event.date or (f"day {event.day}" if event.day < 22 else f"week {round(event.day / 7)}")
    return event.line.model_copy(update={"text": f"{when}: {event.line.text}"})


def first_of_all(cautions: Iterable[Line]) -> Section:
    """The grave cautions of an answer."""
    return Section("First of all", tuple(line for line in cautions if line.grave), grave=True)


def take_care(cautions: Iterable[Line], before: Iterable[Line] = ()) -> Section:
    """The other cautions of an answer; `before` are lines that go in front of them."""
    return Section("Take care", (*before, *(line for line in cautions if not line.grave)), care=True)


def _section(title: str, lines: Iterable[Line], *, drawn: bool = False, ticked: Iterable[Line] = ()) -> Section:
    return Section(title, tuple(lines), drawn=drawn, ticked=frozenset(line.id for line in ticked))


def _some(line: Line | None) -> list[Line]:
    return [line] if line is not None else []


def thickness(centimetres: float, units: Units) -> str:
    """How thick a layer is, in whole centimetres or inches: nobody lays one by the millimetre."""
    return f"{centimetres:.0f} cm" if units == "metric" else f"{centimetres / 2.54:.0f} in"

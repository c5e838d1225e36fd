"""The plan, as it is shown, saved and handed on. `heapwright plan --schema` prints this as JSON Schema.

Amounts are in litres, kilograms, metres and per cent; `text` is the same for people, in the units they asked for.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

from pydantic import BaseModel, ConfigDict, Field

from advisor.knowledge.base import cites_local

if TYPE_CHECKING:
    from advisor.heap.ranges import Spread as AnySpread

Origin = Literal["told", "computed", "rule"]
What = Literal["carbon-nitrogen", "moisture", "air-space", "volume"]


class Shape(BaseModel):
    model_config = ConfigDict(defer_build=True, frozen=True, extra="forbid")


class Because(Shape):
    """One reason, with what it rests on."""

    statement: str = Field(description="what holds")
    origin: Origin = Field(description="told by the household, computed, or concluded by a rule")
    rule: str = Field(default="", description="id of the rule, if a rule concluded it")
    because: str = Field(default="", description="the reason in plain words")
    sources: tuple[str, ...] = Field(default=(), description="ids of the bibliography")
    evidence: str = Field(default="", description="measured, guidance or tradition, for rules")
    rests_on: tuple[Because, ...] = Field(default=(), description="the facts it saw")

    @property
    def local(self) -> str:
        """What it rests on that is local: "local rule", "local entry", or nothing."""
        return ("local rule" if self.rule else "local entry") if cites_local(self.sources) else ""

    @property
    def about(self) -> str:
        """Rule, evidence and sources on one line, and whether they are local."""
        parts = (self.local, self.rule, self.evidence, ", ".join(self.sources))
        return "; ".join(part for part in parts if part)


class Line(Shape):
    """A line of advice that can be asked why."""

    id: str = Field(description="name of the line within this plan, such as r2")
    text: str
    why: tuple[Because, ...] = ()

    @property
    def grave(self) -> bool:
        """Whether it is a caution that is never left out: the names of those begin with g."""
        return self.id.startswith("g")


class Spread(Shape):
    """A figure with what it may plausibly be.

    What a mix comes to was drawn: it lies between low and high 8 times out of 10. A figure that was worked out from the
    ranges of tables, as of a dressing, a bucket or a year, is only as sure as these are.
    """

    low: float
    typical: float
    high: float


def spread_of(figure: AnySpread, most: float = math.inf) -> Spread:
    """A figure with its range as an answer shows it, nothing above `most`."""
    return Spread(low=min(most, figure.low), typical=min(most, figure.typical), high=min(most, figure.high))


class Goal(Shape):
    """The window a figure should lie in, and where in it to aim."""

    low: float
    aim: float
    high: float


class Heard(Shape):
    """A material as understood from what was said."""

    said: str
    material: str
    name: str
    litres: Spread
    kilograms: Spread
    weekly: bool = Field(default=False, description="so much each week, rather than once")
    line: Line


class Ranked(Shape):
    """A method with what speaks for and against it."""

    method: str
    name: str
    score: float
    ruled_out: bool
    why: tuple[Because, ...]


class Choice(Shape):
    """The method that stands, the runner-up, and the rest."""

    method: str
    name: str
    aim: str
    line: Line
    runner_up: Ranked | None
    runner_up_line: Line | None
    ranking: tuple[Ranked, ...]


class RecipeLine(Shape):
    """So much of one material."""

    material: str
    name: str
    count: float
    measure: str
    litres: float
    kilograms: float
    line: Line


class Gauge(Shape):
    """A figure of the blend beside its window."""

    what: What
    spread: Spread
    goal: Goal | None
    inside: bool = Field(description="whether the typical figure lies in the window")
    line: Line


class Layer(Shape):
    """A layer of the heap, from the ground up."""

    material: str
    name: str
    litres: float
    thickness_cm: float
    place: Literal["base", "body", "cover"]
    forked: bool = Field(default=False, description="whether it is forked through the layers beside it")


class Body(Shape):
    """The heap's body."""

    shape: str
    length_m: float
    width_m: float
    height_m: float
    litres: float
    fits: bool
    heats: Literal["yes", "barely", "no"]
    finished_litres: Spread
    line: Line


class Poured(Shape):
    """A liquid that is poured on for its nitrogen, and how much of it."""

    material: str
    name: str
    litres: float


class Recipe(Shape):
    """What goes in."""

    status: Literal["met", "nearest", "none", "nothing"]
    lines: tuple[RecipeLine, ...] = ()
    water_litres: float = 0.0
    poured: tuple[Poured, ...] = Field(default=(), description="liquids that bring nitrogen; counted in the figures")
    water: Line | None = None
    gauges: tuple[Gauge, ...] = ()
    additions: tuple[Line, ...] = Field(default=(), description="minerals and starters, with the most there should be")
    per_load: tuple[Line, ...] = Field(default=(), description="what to add with each load that comes in")
    misses: tuple[Line, ...] = Field(default=(), description="which windows are missed, and why")
    fetch: tuple[RecipeLine, ...] = Field(default=(), description="the shortest list that would make it right")
    with_fetch: Line | None = Field(default=None, description="the mix with those")
    whole: tuple[RecipeLine, ...] = Field(default=(), description="what goes in once those are there")
    whole_water_litres: float = Field(default=0.0, description="the water that goes in then")


class Event(Shape):
    """Something to do or expect, so many days after building."""

    day: int
    date: str = Field(default="", description="ISO date, if the day of building is known")
    what: str = Field(
        default="", description="what it is, the same in every plan: the name of a notice, or turn-2 for a turning"
    )
    every_days: int = Field(default=0, description="days from one time to the next, if it is done again and again")
    times: int = Field(default=1, description="how often it is done in all")
    line: Line


class Doubt(Shape):
    """Something nobody has said yet, and what it would change."""

    attribute: str
    ask: str
    line: Line


class Plan(Shape):
    """The whole answer to one household."""

    household: str
    units: Literal["metric", "us"]
    heard: tuple[Heard, ...]
    choice: Choice
    recipe: Recipe
    body: Body | None
    layers: tuple[Layer, ...]
    needs: tuple[Line, ...]
    steps: tuple[Line, ...]
    stays_out: tuple[Line, ...]
    prepare: tuple[Line, ...]
    left_over: tuple[Line, ...]
    events: tuple[Event, ...]
    built: str = Field(default="", description="ISO date of building, if it is known")
    ready: Line
    ready_date: str = Field(default="", description="ISO date on which it is likely to be ready, if that can be told")
    ready_weeks: Spread | None = Field(default=None, description="weeks from the last filling; nothing if none waits")
    notes: tuple[Line, ...]
    cautions: tuple[Line, ...]
    doubts: tuple[Doubt, ...]

    def lines(self) -> tuple[Line, ...]:
        """Every line that can be asked why, in the order of the page."""
        choice = self.choice
        found: list[Line | None] = [*(heard.line for heard in self.heard), choice.line, choice.runner_up_line]
        recipe = self.recipe
        found += [line.line for line in recipe.lines]
        found += [recipe.water, *(gauge.line for gauge in recipe.gauges), *recipe.additions, *recipe.per_load]
        found += [*recipe.misses, *(line.line for line in recipe.fetch), recipe.with_fetch]
        found += [
            self.body.line if self.body else None,
            *self.needs,
            *self.prepare,
            *self.steps,
            *self.stays_out,
        ]
        found += [
            *self.left_over,
            *(event.line for event in self.events),
            self.ready,
            *self.notes,
            *self.cautions,
        ]
        found += [doubt.line for doubt in self.doubts]
        return tuple(line for line in found if line is not None)

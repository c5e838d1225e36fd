"""The quick heap beside the slow one, as it is shown and handed on. `heapwright paces --schema` prints this."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from advisor.counsel.plan import Body, Gauge, Line, RecipeLine, Shape, Spread
from advisor.units import Units

Name = Literal["quick", "slow"]
Suits = Literal["quick", "slow", "either"]


class Pace(Shape):
    """A heap of what there is, held to one pace."""

    pace: Name
    possible: bool
    score: float = Field(description="added up from the rules that spoke")
    method: str = Field(description="empty if it cannot be built")
    line: Line
    recipe: tuple[RecipeLine, ...] = ()
    water: Line | None = None
    gauges: tuple[Gauge, ...] = ()
    misses: tuple[Line, ...] = Field(default=(), description="which windows are missed")
    fetch: tuple[RecipeLine, ...] = Field(default=(), description="the shortest list that would make it right")
    with_fetch: Line | None = None
    left_over: tuple[Line, ...] = ()
    body: Body | None = None
    turnings: int = 0
    hours: Spread | None = Field(default=None, description="forking it up and turning it, for one person")
    weeks: Spread | None = Field(default=None, description="from the last filling")
    work: Line | None = None
    ready: Line | None = None
    suits: tuple[Line, ...] = ()
    limits: tuple[Line, ...] = Field(default=(), description="what it does not do")

    @property
    def carbon_nitrogen(self) -> Gauge | None:
        """The ratio it comes to, beside its window."""
        return next((gauge for gauge in self.gauges if gauge.what == "carbon-nitrogen"), None)

    def mix(self) -> tuple[Line, ...]:
        """What goes in, and what is short."""
        found = [*(each.line for each in self.recipe), *([self.water] if self.water else [])]
        found += [gauge.line for gauge in self.gauges if gauge.what in ("carbon-nitrogen", "moisture")]
        return tuple(found)

    def short(self) -> tuple[Line, ...]:
        """What is short, and what would mend it."""
        with_fetch = [self.with_fetch] if self.with_fetch else []
        return (*self.misses, *(each.line for each in self.fetch), *with_fetch)

    def course(self) -> tuple[Line, ...]:
        """Its size, the work and the wait, and what is left over."""
        found = [self.body.line if self.body else None, self.work, self.ready]
        over = (line.model_copy(update={"text": f"left over: {line.text}"}) for line in self.left_over)
        return (*(line for line in found if line is not None), *over)

    def lines(self) -> tuple[Line, ...]:
        """Every line of it, in the order of the page."""
        return (self.line, *self.mix(), *self.short(), *self.course(), *self.suits, *self.limits)


class Paces(Shape):
    """Both heaps, and which of them suits."""

    household: str
    units: Units
    suits: Suits
    verdict: Line
    quick: Pace
    slow: Pace
    cautions: tuple[Line, ...]

    def lines(self) -> tuple[Line, ...]:
        """Every line that can be asked why, in the order of the page."""
        grave = [line for line in self.cautions if line.grave]
        plain = [line for line in self.cautions if not line.grave]
        return (self.verdict, *grave, *self.quick.lines(), *self.slow.lines(), *plain)

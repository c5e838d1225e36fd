"""A diagnosis, as it is shown, saved and handed on. Frozen, like a plan; `heapwright diagnose --json` prints it."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from advisor.counsel.plan import Line

#: settled: a cause stands out. tied: two that exclude each other are as likely. unsettled: suspicions only.
#: guessed: no more is asked, and the most likely is acted on. normal: nothing is wrong.
Verdict = Literal["settled", "tied", "unsettled", "guessed", "normal"]


class Shape(BaseModel):
    model_config = ConfigDict(defer_build=True, frozen=True, extra="forbid")


class Sign(Shape):
    """Something seen, smelt or felt, as understood."""

    attribute: str = Field(description="attribute of `sign`, such as smell")
    value: str | float
    text: str
    said: str = Field(default="", description="the words it was read from")


class Suspect(Shape):
    """A cause with what speaks for it and against it."""

    cause: str
    name: str
    score: float = Field(description="the weights of the rules that spoke, added up")
    normal: bool = Field(description="nothing is wrong, if it is this")
    stands: bool = Field(description="likely enough to act on")
    line: Line
    speaks_for: tuple[Line, ...] = ()
    speaks_against: tuple[Line, ...] = ()
    tell: str = Field(description="how to tell it from its neighbours")


class AnswerOffered(Shape):
    """A word a question may be answered with."""

    value: str
    text: str


class NextQuestion(Shape):
    """What to ask next, and how much it would settle."""

    attribute: str = Field(description="full name, such as sign.smell")
    ask: str
    why: str
    ease: int
    settles: float = Field(description="uncertainty over the causes that an answer takes away, in bits, as expected")
    answers: tuple[AnswerOffered, ...] = Field(description="empty if a number is asked for")
    unit: str = ""


class Dose(Shape):
    """How much of something, and what it changes. Figures of the heap are typical ones."""

    material: str
    name: str
    litres: float
    text: str
    rests_on: str = Field(default="", description="a sentence: what the dose rests on, and what it changes")
    known: bool = Field(description="worked out from what went in; otherwise a small dose to begin with")
    moot: bool = Field(default=False, description="what went in shows that a dose would change nothing")
    carbon_nitrogen_before: float | None = None
    carbon_nitrogen_after: float | None = None
    moisture_before_pct: float | None = None
    moisture_after_pct: float | None = None


class Cure(Shape):
    """A remedy: what to do, what to see and by when, what next."""

    remedy: str
    line: Line
    dose: Dose | None = None
    expect: str
    look_again_days: int
    otherwise: str
    provisos: tuple[Line, ...] = Field(default=(), description="how to keep it from making another trouble worse")


class Diagnosis(Shape):
    """The whole answer to what somebody sees."""

    household: str = Field(default="", description="whose heap it is, if a household was named")
    verdict: Verdict
    sure: bool = Field(description="what stands outweighs by far all that might be; no more need be asked")
    summary: Line
    signs: tuple[Sign, ...]
    unplaced: tuple[str, ...] = Field(default=(), description="words that were not understood")
    cautions: tuple[Line, ...] = Field(description="grave ones first; ids of these begin with g")
    causes: tuple[Suspect, ...] = Field(description="the most likely first; what stands is marked")
    questions: tuple[NextQuestion, ...] = Field(description="the most telling first; empty once sure")
    remedies: tuple[Cure, ...]
    avoid: tuple[Line, ...] = Field(description="what not to do, and why")

    @property
    def standing(self) -> tuple[Suspect, ...]:
        """The causes to act on."""
        return tuple(suspect for suspect in self.causes if suspect.stands)

    def lines(self) -> tuple[Line, ...]:
        """Every line that can be asked why, in the order of the page."""
        found: list[Line] = [self.summary, *self.cautions]
        for suspect in self.causes:
            found += [suspect.line, *suspect.speaks_for, *suspect.speaks_against]
        for cure in self.remedies:
            found += [cure.line, *cure.provisos]
        return (*found, *self.avoid)

"""The published courses, read, and run through the balance."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from advisor.heat.balance import run
from advisor.heat.draws import Draws
from advisor.heat.setting import Goes, Setting, Tables, heap, physics, water_to
from advisor.heat.shapes import Policy, Run
from advisor.knowledge.load import shipped

#: Where a source says nothing of the water: 58 % is the middle of the usual 50 to 65 (cornell-moisture-goal).
MOISTURE = 58.0


@dataclass(frozen=True)
class Course:
    """A course as the file has it."""

    id: str
    mix: dict[str, float]
    litres: float
    vessel: str
    air_c: float
    title: str
    publisher: str
    printed: str
    ours: str
    standing: str
    year: int | None = None
    kg: float | None = None
    moisture: float = MOISTURE
    carbon_nitrogen: float | None = None
    wall_w_k: float | None = None
    blown_kg_day: float = 0.0
    start_c: float | None = None
    fed_days: float = 0.0
    turned: tuple[float, ...] = ()
    peak_c: tuple[float, float] | None = None
    peak_day: tuple[float, float] | None = None
    points: tuple[tuple[float, float], ...] = ()
    off_peak: float | None = None  # K, measured: of the balance, signed; 0 within what is printed
    off_day: float | None = None  # days, likewise

    @property
    def days(self) -> float:
        """So long it is foreseen."""
        last = max([day for day, _ in self.points], default=0.0)
        return max(min(self.fed_days + 8.0, 40.0) if self.fed_days else 5.0 if self.litres < 20 else 8.0, last + 0.5)


def courses() -> list[Course]:
    raw = tomllib.loads((Path(__file__).parent / "courses.toml").read_text("utf-8"))["course"]
    return [Course(**one) for one in raw]


def tables() -> Tables:
    knowledge = shipped()
    return Tables(knowledge.heat, knowledge.decay)


def setting_of(course: Course) -> Setting:
    materials = shipped().materials
    whole = sum(course.mix.values()) * shipped().heat["settles-to-share"].typical
    litres = {name: course.litres * part / whole for name, part in course.mix.items()}
    goes = tuple(
        Goes(name, materials[name], share / 1000 * materials[name].density.typical) for name, share in litres.items()
    )
    water = water_to(goes, course.moisture)
    if course.kg is not None:
        # a weighed vessel: dry matter and water as printed
        factor = course.kg / (sum(one.kg for one in goes) + water)
        goes = tuple(replace(one, kg=one.kg * factor) for one in goes)
        water *= factor
    return Setting(
        goes,
        course.litres / shipped().heat["settles-to-share"].typical,
        water,
        course.vessel,  # type: ignore[arg-type]
        fed_days=course.fed_days,
        blown_kg_day=course.blown_kg_day,
        wall_w_k=course.wall_w_k,
        start_c=course.start_c,
        carbon_nitrogen=course.carbon_nitrogen,
    )


def foreseen(course: Course, draws: Draws, found: Tables | None = None) -> Run:
    found = found or tables()
    air = course.air_c + draws.about(4.0, "air")
    return run(
        heap(setting_of(course), found, draws),
        physics(found, draws),
        lambda _: air,
        course.days,
        Policy(days=tuple(course.turned)),
    )


def peak_of(run: Run, draw: int = 0) -> tuple[float, float]:
    """The hottest, and its day: the first within 1 K of it, since a plateau has no day of its own."""
    celsius = run.celsius[:, draw]
    hottest = float(celsius.max())
    return hottest, float(run.days[int(np.argmax(celsius >= hottest - 1.0))])


def off(value: float, span: tuple[float, float]) -> float:
    """How far a value lies from what was printed as a range; 0 inside."""
    low, high = span
    return value - high if value > high else value - low if value < low else 0.0

"""A check as read, and what its reader works with."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.records import dataclass
from advisor.soil import sanitising, texture
from advisor.soil_counsel.inputs import Values
from advisor.units import Units


@dataclass(frozen=True, slots=True)
class CheckRead:
    """A check as read.

    `value` is in `unit`, or None if the check is no figure; `tracked` names its entry of soil.trend.tracked, if it is
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


@dataclass(frozen=True, slots=True)
class Told:
    """What was told of a check, with the knowledge to read it by and the units to say it in."""

    values: Values
    knowledge: Knowledge
    units: Units

    def numbers(self, name: str) -> tuple[float, ...]:
        return tuple(float(value) for value in self.values.get(name, ()))

    def number(self, name: str) -> float:
        return float(self.values[name][0])

    def count(self, name: str) -> int:
        """A number of things. Raises ValueError if it is not a whole number, nought or more."""
        value = self.number(name)
        if value < 0 or value != round(value):
            raise ValueError(f"{name.replace('_', ' ')}: whole numbers are counted here, not {value:g}")
        return round(value)

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

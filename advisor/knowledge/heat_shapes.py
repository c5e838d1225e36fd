"""The shapes of what rules/decay.toml and rules/climates.toml hold: how stuff decays, and air through the year."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Field, model_validator

from advisor.knowledge.shapes import Figure, Id, Material, Role, Shape, Sources, Text, _tuple_of_one

Words = Annotated[tuple[Id, ...], BeforeValidator(_tuple_of_one)]


class Decay(Shape):
    """How a class of materials decays: what of it, how much of that fast, and at which rates.

    The class holds the materials named, and those with one of its traits or roles that no class before it holds.
    `degradable` is % of the organic dry matter that decays in a heap's time, `fast` the % of it that decays fast;
    the rates are first-order, per day, at the best temperature with all else right.
    """

    name: Text
    materials: tuple[Id, ...] = ()
    traits: tuple[Id, ...] = ()
    roles: tuple[Role, ...] = ()
    degradable: Figure
    fast: Figure
    fast_per_day: Figure
    slow_per_day: Figure
    about: str = ""

    def holds(self, name: str, material: Material) -> bool:
        """Whether a material is of this class, if it is of none before it."""
        return name in self.materials or bool(set(self.traits) & set(material.traits)) or material.role in self.roles


class Climate(Shape):
    """A climate by the mean temperature of each month, January first, in °C, at a place that is typical of it."""

    name: Text
    aliases: tuple[str, ...] = ()
    place: Text
    latitude: float = Field(ge=-90, le=90)
    months: tuple[float, ...]
    source: Sources

    @model_validator(mode="after")
    def _a_year(self) -> Climate:
        if len(self.months) != 12:
            raise ValueError(f"months are twelve figures, January first; got {len(self.months)}")
        return self

"""Plans of the shipped households, worked out once for all tests that only look at them."""

from __future__ import annotations

from functools import cache

from advisor.counsel.consult import consult, shipped_engine
from advisor.counsel.plan import Plan
from advisor.household.files import read_household
from advisor.household.shapes import Holding, Household, Quantity, Room
from advisor.knowledge.load import shipped
from advisor.places import scenarios_folder

NAMES = tuple(sorted(path.stem for path in scenarios_folder().glob("*.toml")))


@cache
def shipped_plan(name: str, units: str = "metric", *, doubts: bool = False) -> Plan:
    """The plan of a shipped household."""
    household = read_household(scenarios_folder() / f"{name}.toml", shipped())
    return consult(household, shipped(), shipped_engine(), units=units, with_doubts=doubts)


@cache
def plan_for(*told: tuple[str, float, str], room: tuple[float, float] | None = None, **answers: str) -> Plan:
    """A plan for an invented household: materials as (id, count, measure), answers as place__space="garden"."""
    holdings = tuple(
        Holding(material, Quantity(count, count, count, measure), f"{count:g} {measure} {material}")
        for material, count, measure in told
    )
    given = {attribute.replace("__", "."): (word,) for attribute, word in answers.items()}
    household = Household("invented", holdings, given, Room(*room) if room else None)
    return consult(household, shipped(), shipped_engine(), with_doubts=False)


@cache
def roles() -> dict[str, str]:
    """The role of every material."""
    return {name: material.role for name, material in shipped().materials.items()}

"""Answers to write on paper, each made once."""

from __future__ import annotations

from functools import cache

from advisor.counsel.almanac import Almanac
from advisor.counsel.consult import consult, shipped_engine
from advisor.counsel.plan import Plan
from advisor.counsel.year import year_plan
from advisor.diagnosis.diagnose import diagnose, shipped_diagnosis_engine
from advisor.diagnosis.shapes import Diagnosis
from advisor.household.files import read_household
from advisor.household.shapes import Household
from advisor.knowledge.load import shipped
from advisor.places import scenarios_folder
from advisor.soil_counsel.ground import Ground, read_ground
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.seasons import seasons_answer
from advisor.soil_counsel.shapes import SeasonsAnswer

KNOWLEDGE = shipped()
PLANS = sorted(path.stem for path in scenarios_folder().glob("*.toml"))


@cache
def household(name: str) -> Household:
    return read_household(scenarios_folder() / f"{name}.toml", KNOWLEDGE)


@cache
def ground(name: str) -> Ground:
    return read_ground(scenarios_folder() / "soil" / f"{name}.toml", KNOWLEDGE)


@cache
def plan_of(name: str) -> Plan:
    return consult(household(name), KNOWLEDGE, shipped_engine())


@cache
def a_year() -> Almanac:
    return year_plan(household("coffee-shop"), KNOWLEDGE, shipped_engine())


@cache
def seasons(name: str) -> SeasonsAnswer:
    return seasons_answer(ground(name), KNOWLEDGE, shipped_soil_engine(), number=2)


@cache
def a_cure() -> Diagnosis:
    signs = {"smell": ("ammonia",), "texture": ("slimy",)}
    return diagnose(signs, KNOWLEDGE, shipped_diagnosis_engine(), household=household("six-hens"))

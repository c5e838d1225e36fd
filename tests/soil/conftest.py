"""The tables of rules/ that the arithmetic of the soil reads, each by itself: no other part of rules/ is needed."""

import tomllib
from typing import TypeVar

import pytest
from pydantic import BaseModel

from advisor.knowledge.shapes import Figure
from advisor.knowledge.soil_shapes import CropFamily, GreenManure, Scale
from advisor.places import rules_folder

_Shape = TypeVar("_Shape", bound=BaseModel)


def _table(name: str, shape: type[_Shape]) -> dict[str, _Shape]:
    raw = tomllib.loads((rules_folder() / name).read_text(encoding="utf-8"))
    return {key: shape.model_validate(table) for key, table in raw.items()}


@pytest.fixture(scope="session")
def figures() -> dict[str, Figure]:
    return _table("figures.toml", Figure)


@pytest.fixture(scope="session")
def scales() -> dict[str, Scale]:
    return _table("scales.toml", Scale)


@pytest.fixture(scope="session")
def crops() -> dict[str, GreenManure]:
    return _table("green-manures.toml", GreenManure)


@pytest.fixture(scope="session")
def families() -> dict[str, CropFamily]:
    return _table("crop-families.toml", CropFamily)

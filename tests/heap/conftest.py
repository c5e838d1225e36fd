"""The constants of the trade as shipped, read alone so that these tests need no other part of rules/."""

import tomllib

import pytest

from advisor.knowledge.shapes import Figure
from advisor.places import rules_folder


@pytest.fixture(scope="session")
def figures() -> dict[str, Figure]:
    raw = tomllib.loads((rules_folder() / "figures.toml").read_text(encoding="utf-8"))
    return {name: Figure.model_validate(table) for name, table in raw.items()}

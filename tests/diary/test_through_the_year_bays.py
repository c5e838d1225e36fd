"""A family with two bays and a leaf cage, played through a year: tests/diary/years/bays.toml."""

from __future__ import annotations

import pytest
from through_the_year import check, lines


@pytest.mark.parametrize(("name", "number"), [*lines("bays")])
def test_a_year(name: str, number: int) -> None:
    check(name, number)

"""Six hens and vegetables south of the equator, played through a year: tests/diary/years/hens.toml."""

from __future__ import annotations

import pytest
from through_the_year import check, lines


@pytest.mark.parametrize(("name", "number"), [*lines("hens")])
def test_a_year(name: str, number: int) -> None:
    check(name, number)

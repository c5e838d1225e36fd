"""A terrace with a worm bin and a fermented bucket, played through a year: tests/diary/years/terrace.toml."""

from __future__ import annotations

import pytest
from through_the_year import check, lines


@pytest.mark.parametrize(("name", "number"), [*lines("terrace")])
def test_a_year(name: str, number: int) -> None:
    check(name, number)

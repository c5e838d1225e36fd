"""A trend of very many checks: no more pairs than a set number of marks makes, and the same slope."""

from __future__ import annotations

from datetime import date, timedelta
from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.knowledge.load import shipped
from advisor.soil.trend import MOST_COMPARED, Mark, _slopes, evenly, tracked, trend

BEGUN = date(1990, 1, 1)


def marks(number: int, per_year: float) -> list[Mark]:
    """A line with a wobble that repeats every 7 days."""
    return [Mark(BEGUN + timedelta(days=day), 50 + per_year * day / 365.25 + (day % 7 - 3)) for day in range(number)]


@pytest.mark.parametrize("per_year", [-12.0, 0.0, 2.5])
def test_the_slope_of_the_spread_out_marks_is_that_of_all(per_year: float) -> None:
    """The median of all pairwise slopes is Sen's: Estimates of the regression coefficient based on Kendall's tau,
    Journal of the American Statistical Association 63, 1968. From memory."""
    told = marks(1500, per_year)
    every_pair = median(_slopes(told))
    assert trend(told, tracked(shipped().figures)["ring"]).per_year == pytest.approx(every_pair, abs=0.5)
    assert every_pair == pytest.approx(per_year, abs=0.1)


def test_the_pairs_do_not_grow_with_the_marks() -> None:
    assert len(_slopes(evenly(marks(10_000, 1.0), MOST_COMPARED))) <= MOST_COMPARED * (MOST_COMPARED - 1) // 2


@given(st.integers(1, 2000), st.integers(2, 300))
def test_the_first_and_the_last_are_among_those_compared(number: int, most: int) -> None:
    told = marks(number, 1.0)
    chosen = evenly(told, most)
    assert len(chosen) == min(number, most) == len(set(chosen))
    assert (chosen[0], chosen[-1]) == (told[0], told[-1])

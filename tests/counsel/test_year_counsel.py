"""A household's year as advice: what it says agrees with plain sums, and every shipped year can be planned."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest

from advisor.counsel.almanac import Almanac
from advisor.counsel.consult import shipped_engine
from advisor.counsel.seasonal import WEEKS, calendar, month_number
from advisor.counsel.year import year_plan
from advisor.errors import HouseholdError
from advisor.household.files import household_from_options, read_household
from advisor.household.shapes import Household
from advisor.knowledge.load import shipped
from advisor.papers.almanac import almanac_page, months_table
from advisor.papers.charts import chart_text, charts_of
from advisor.places import scenarios_folder


def terrace() -> Household:
    return read_household(scenarios_folder() / "terrace-through-the-year.toml", shipped())


@cache
def planned(balanced: bool = True) -> Almanac:
    return year_plan(terrace(), shipped(), shipped_engine(), balanced=balanced)


@pytest.mark.parametrize("begins", range(1, 13))
def test_a_year_of_weeks_has_twelve_months_of_four_or_five(begins: int) -> None:
    months = calendar(begins)
    assert len(months) == WEEKS
    assert [months.count(index) in (4, 5) for index in range(12)] == [True] * 12
    assert month_number(begins, 0) == begins
    assert month_number(begins, 12) == begins


def test_every_batch_of_the_terrace_is_right() -> None:
    """The steady heap's windows: C:N 25 to 40 (art-and-science-table-1 and others), moisture 45 to 65 %."""
    year = planned()
    assert [batch.within for batch in year.batches] == [True] * len(year.batches)
    for batch in year.batches:
        assert 25 - 0.1 <= batch.carbon_nitrogen <= 40 + 0.1
        assert 45 - 0.1 <= batch.moisture_pct <= 65 + 0.1


def test_no_batch_gives_more_compost_than_lies_in_its_place() -> None:
    """A bin of 1.8 m3 fed for a year takes 4.6 m3 and never gives more than it holds."""
    household = read_household(scenarios_folder() / "coffee-shop.toml", shipped())
    year = year_plan(household, shipped(), shipped_engine())
    for batch in year.batches:
        assert batch.finished_litres <= year.container_litres + 1e-6


def test_the_terrace_by_plain_sums() -> None:
    """C:N of each batch added up again from the month table, by the mix formula (cornell-mix-formula)."""
    year, materials = planned(), shipped().materials
    for batch in year.batches:
        carbon = nitrogen = 0.0
        for month in year.months:
            if month.batch != batch.number:
                continue
            for amount in month.goes_in:
                one = materials[amount.material]
                dry = amount.litres * one.density.typical / 1000 * (1 - one.moisture.typical / 100)
                nitrogen += dry * one.nitrogen.typical / 100
                ratio = one.carbon_nitrogen.typical if one.carbon_nitrogen else 0.0
                carbon += dry * one.nitrogen.typical * ratio / 100
        assert batch.carbon_nitrogen == pytest.approx(carbon / nitrogen, rel=0.01)


def test_grass_is_no_more_than_half_of_any_batch() -> None:
    """More grass than browns packs solid: at most equal parts (cornell-fact-sheet-2, ireland-get-grass-in-gear)."""
    year = planned()
    for batch in year.batches:
        fed = [month for month in year.months if month.batch == batch.number]
        grass = sum(one.litres for month in fed for one in month.goes_in if one.material == "grass-clippings")
        assert grass <= 0.5 * batch.litres + 0.1


def test_leaves_are_put_by_in_autumn_and_fed_out_in_summer() -> None:
    year = planned()
    put_by = {month.name for month in year.months for one in month.put_by if one.material == "dry-leaves"}
    fed = {month.name for month in year.months for one in month.goes_in if one.material == "dry-leaves"}
    assert put_by <= {"Oct", "Nov"}
    assert fed & {"May", "Jun", "Jul"}


def test_what_comes_is_used_lost_or_kept() -> None:
    year = planned()
    for kind in year.kinds:
        of = [
            [sum(one.litres for one in part if one.material == kind.material) for part in (m.comes, m.goes_in, m.lost)]
            for m in year.months
        ]
        comes, used, lost = (math.fsum(column) for column in zip(*of, strict=True))
        if not kind.keeps:
            assert comes == pytest.approx(used + lost, abs=0.5)


def test_the_chart_and_the_table_fit_eighty_columns() -> None:
    year = planned()
    (chart,) = charts_of(year)
    for text in (chart_text(chart, width=80), months_table(year), almanac_page(year, weeks=True)):
        assert max(map(len, text.splitlines())) <= 80


def test_no_month_of_the_terrace_is_too_green() -> None:
    """Each month's loads by themselves at C:N 25 or more, the lower edge of the steady heap: by plain sums."""
    materials = shipped().materials
    for month in planned().months:
        carbon = nitrogen = 0.0
        for amount in month.goes_in:
            one = materials[amount.material]
            dry = amount.litres * one.density.typical / 1000 * (1 - one.moisture.typical / 100)
            nitrogen += dry * one.nitrogen.typical / 100
            carbon += dry * one.nitrogen.typical / 100 * (one.carbon_nitrogen.typical if one.carbon_nitrogen else 0.0)
        assert month.within
        assert carbon >= 25 * nitrogen * (1 - 0.01)


def small_bin(*, balanced: bool) -> Almanac:
    have = "3 buckets grass clippings a week, 5 L kitchen scraps a week"
    told = {"container": "closed-bin", "holds": "300 L", "space": "garden", "digging": "yes"}
    household = household_from_options(have, shipped(), told=told, start="2025-03-01")
    return year_plan(household, shipped(), shipped_engine(), balanced=balanced)


def lost(year: Almanac, material: str = "") -> float:
    return sum(one.litres for month in year.months for one in month.lost if material in ("", one.material))


def test_a_small_bin_is_kept_right_and_says_what_is_left_out() -> None:
    """A bin that is never too green is the default; the grass that finds no browns lies on the lawn."""
    right, full = small_bin(balanced=True), small_bin(balanced=False)
    assert all(batch.within for batch in right.batches)
    assert all(month.within for month in right.months)
    assert lost(full) <= lost(right) + 0.1
    assert any("using it all up" in line.text for line in right.short)
    assert any("where it was mown" in line.text for line in right.left_over)
    wrong = [line.text for line in (*full.short, *(month.line for month in full.months))]
    if not all(batch.within for batch in full.batches) or not all(month.within for month in full.months):
        assert any("what spoils out of it" in text or "too green" in text for text in wrong)


def test_scraps_are_left_out_last() -> None:
    year = small_bin(balanced=True)
    comes = sum(one.litres for month in year.months for one in month.comes if one.material == "kitchen-scraps")
    assert lost(year, "kitchen-scraps") <= 0.1 * comes
    assert lost(year, "grass-clippings") > lost(year, "kitchen-scraps")


def test_where_no_batch_can_be_right_it_is_said() -> None:
    """Grass and nothing else, where no browns are to be fetched: C:N 17 (on-farm-handbook-a1) never comes to 25."""
    fetched = shipped().figures["fetched-sacks-a-month"].model_copy(update={"low": 0.0, "typical": 0.0})
    knowledge = replace(shipped(), figures={**shipped().figures, "fetched-sacks-a-month": fetched})
    told = {"container": "open-bin", "holds": "1000 L", "space": "garden"}
    household = household_from_options("3 buckets grass clippings a week", shipped(), told=told, start="2025-03-01")
    year = year_plan(household, knowledge, shipped_engine())
    assert not year.possible
    said = next(line.text for line in year.short if "no balanced batch is possible" in line.text)
    assert "sacks of dry leaves" in said
    assert lost(year) == pytest.approx(sum(one.litres for month in year.months for one in month.comes), abs=1)


def test_grass_comes_only_while_it_grows() -> None:
    have = "3 buckets grass clippings a week, 20 sacks dry leaves"
    told = {"container": "open-bin", "holds": "1000 L", "space": "garden"}
    household = household_from_options(have, shipped(), told=told, start="2025-09-01")
    year = year_plan(household, shipped(), shipped_engine())
    winter = [month for month in year.months if month.name in ("Dec", "Jan", "Feb")]
    assert all(one.material != "grass-clippings" for month in winter for one in month.comes)


def test_litter_has_to_go_somewhere() -> None:
    """What animals give is used or named as finding no place; it is never simply not put by."""
    household = read_household(scenarios_folder() / "six-hens.toml", shipped())
    year = year_plan(household, shipped(), shipped_engine())
    litter = next(kind for kind in year.kinds if kind.material == "hen-litter-shavings")
    assert not litter.keeps
    sums = [
        sum(one.litres for month in year.months for one in part(month) if one.material == litter.material)
        for part in (lambda m: m.comes, lambda m: m.goes_in, lambda m: m.lost)
    ]
    assert sums[0] == pytest.approx(sums[1] + sums[2], abs=0.5)


def test_nothing_comes_in() -> None:
    told = {"container": "open-bin", "space": "garden"}
    household = household_from_options("nothing", shipped(), told=told)
    with pytest.raises(HouseholdError):
        year_plan(household, shipped(), shipped_engine())


def test_every_line_has_a_name_of_its_own_and_a_reason() -> None:
    lines = planned().lines()
    assert len({line.id for line in lines}) == len(lines)
    assert all(line.why for line in lines)


def test_leaves_alone_make_no_batch_and_it_is_said() -> None:
    told = {"container": "open-bin", "holds": "1000 L", "space": "garden"}
    household = household_from_options("20 sacks dry leaves", shipped(), told=told, start="2025-09-01")
    year = year_plan(household, shipped(), shipped_engine())
    assert not year.possible
    assert any("nothing green" in line.text for line in year.short)


def test_browns_are_not_said_to_be_too_few_where_they_lie_in_store() -> None:
    have = "3 buckets hen litter a week, 30 sacks dry leaves"
    told = {"container": "open-bin", "holds": "600 L", "space": "garden"}
    household = household_from_options(have, shipped(), told=told, start="2025-01-10")
    year = year_plan(household, shipped(), shipped_engine())
    assert min(month.store_litres for month in year.months if month.lost) > 75
    said = " ".join(line.text for line in year.left_over)
    assert "no room for it" in said
    assert "too few browns" not in said

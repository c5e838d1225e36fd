"""Green manures, the steps of rebuilding, and trends."""

from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.knowledge.load import shipped
from advisor.knowledge.shapes import Figure
from advisor.knowledge.soil_shapes import CropFamily, GreenManure
from advisor.soil.green_manures import Season, cutting, planting_from, season_of, seed_grams, sowing
from advisor.soil.seasons import ROTATION, Plot, Step, next_step, years
from advisor.soil.trend import Mark, Tracked, tracked, trend

Crops = dict[str, GreenManure]
Families = dict[str, CropFamily]
Figures = dict[str, Figure]

NORTH = [season_of(year, (4, 20), (10, 10)) for year in (2026, 2027, 2028, 2029, 2030)]
HALF_A_YEAR = timedelta(days=182)
SOUTH = [Season(one.last_frost + HALF_A_YEAR, one.first_frost + HALF_A_YEAR) for one in NORTH]
OUNCES = 28.349523


# ---------------------------------------------------------------- green manures


@pytest.mark.parametrize(
    ("crop", "ounces", "grams"),
    [
        ("winter-rye", (3.3, 5.9), (10.1, 17.9)),
        ("field-peas", (3.3, 3.7), (10.1, 11.2)),
        ("oats", (4.0, 5.1), (12.3, 15.7)),
        ("crimson-clover", (0.8, 1.1), (2.5, 3.4)),
        ("white-clover", (0.2, 0.5), (0.6, 1.6)),
    ],
)
def test_field_rates_to_beds(crop: str, ounces: tuple[float, float], grams: tuple[float, float], crops: Crops) -> None:
    """Managing Cover Crops Profitably, chart 3 (memory): lb/acre broadcast, as oz to 100 ft2 and g to the m2."""
    rate = next(one for one in crops[crop].grams_per_m2.published if one.source == "cover-crops-profitably")
    assert (rate.low, rate.high) == pytest.approx(grams, abs=0.11)
    assert tuple(each * 9.290304 / OUNCES for each in (rate.low, rate.high)) == pytest.approx(ounces, abs=0.06)


def test_buckwheat_of_georgia(crops: Crops) -> None:
    """48 lb/acre: 5.4 g/m2 (University of Georgia, read)."""
    assert pytest.approx(5.38, abs=0.005) == 48 * 453.59237 / 4046.8564
    assert any(
        one.source == "georgia-buckwheat" and one.low == 5.4 for one in crops["buckwheat"].grams_per_m2.published
    )


def test_a_garden_mix_in_field_rates() -> None:
    """3 to 4 lb of cereal and 0.25 lb of legume to 1000 ft2: 131 to 174 and 11 lb/acre (Georgia column, read)."""
    assert [round(rate * 43.56) for rate in (3, 4, 0.25)] == [131, 174, 11]


def test_two_together_take_less_of_each(crops: Crops, figures: Figures) -> None:
    """60 % of each full rate (University of Maryland, read)."""
    alone, mixed = (seed_grams(10, crops["oats"], figures, mixed=mixed).typical for mixed in (False, True))
    assert mixed == pytest.approx(0.6 * alone)


def test_windows_of_a_season(crops: Crops) -> None:
    season = NORTH[0]
    spring, summer, autumn = (sowing(crops[name], season) for name in ("oats", "buckwheat", "winter-rye"))
    assert spring is not None and summer is not None and autumn is not None
    assert spring.opens < season.last_frost < summer.opens
    assert summer.closes <= season.first_frost - timedelta(weeks=5)
    assert autumn.opens < season.first_frost < autumn.closes


def test_a_short_season_has_no_time_for_cowpeas(crops: Crops) -> None:
    short = Season(date(2026, 6, 10), date(2026, 8, 20))
    assert sowing(crops["cowpeas"], short) is None
    assert sowing(crops["winter-rye"], short) is not None


def test_wait_before_planting(crops: Crops) -> None:
    """Rye 3 to 4 weeks, buckwheat 1 to 2 (general extension figures, memory)."""
    cut = date(2026, 4, 10)
    assert planting_from(crops["winter-rye"], cut).opens - cut == timedelta(weeks=3)
    assert planting_from(crops["buckwheat"], cut).closes - cut == timedelta(weeks=2)
    standing = cutting(crops["winter-rye"], date(2026, 10, 1), date(2027, 4, 20))
    assert standing.holds(date(2027, 4, 15))


def test_first_frost_in_the_next_calendar_year() -> None:
    southern = season_of(2026, (9, 25), (4, 30))
    assert southern == Season(date(2026, 9, 25), date(2027, 4, 30))


def test_a_leap_day_is_a_day_of_every_year() -> None:
    assert season_of(2027, (2, 29), (12, 1)).last_frost == date(2027, 2, 28)
    with pytest.raises(ValueError):
        season_of(2026, (13, 1), (12, 1))


# ---------------------------------------------------------------- steps


def test_the_steps_of_five_years(crops: Crops, families: Families, figures: Figures) -> None:
    """Common practice: half an inch, then an inch, then vegetables, then upkeep."""
    plan = years(Plot("A", 10), NORTH, crops, families, figures)
    assert [year.step for year in plan] == [1, 2, 3, 4, 5]
    depths = [next(task.depth_cm for task in year.tasks if task.what == "spread") for year in plan]
    assert depths[0] == pytest.approx(1.27, abs=0.05)
    assert depths[1] == pytest.approx(2.54, abs=0.05)
    assert depths[4] < depths[3] < depths[1]
    sown = [[seed.crop for task in year.tasks if task.what == "sow" for seed in task.seeds] for year in plan]
    assert sown[0][:2] == ["oats", "field-peas"]
    assert sown[1] == ["buckwheat", "winter-rye"]
    assert all("winter-rye" in crops_of for crops_of in sown[2:])


@pytest.mark.parametrize(("first_frost", "step"), [((10, 10), 1), ((9, 20), 1), ((10, 10), 2), ((9, 20), 2)])
def test_whenever_it_is_sown_it_can_be_cut_and_waited_for(
    first_frost: tuple[int, int], step: Step, crops: Crops, families: Families, figures: Figures
) -> None:
    """Nothing sown in March is at flower in April: days count from two weeks before the last frost (common practice).

    What is sown on the last day of its window is cut within the window of cutting, and the wait after it is over when
    the next is sown: 2 to 3 weeks after oats and peas, 1 to 2 after buckwheat (general extension figures, memory).
    """
    season = season_of(2026, (4, 20), first_frost)
    (year,) = years(Plot("A", 10, step), [season], crops, families, figures)
    sow, cut, again = (task for task in year.tasks if task.what in ("sow", "cut"))
    days = [crops[seed.crop].cut_days or (0, 0) for seed in cut.seeds]
    assert cut.window.opens >= season.last_frost + timedelta(days=min(low for low, _ in days) - 14)
    assert cut.window.closes == sow.window.closes + timedelta(days=min(high for _, high in days))
    wait = timedelta(weeks=max(crops[seed.crop].wait_weeks[1] for seed in cut.seeds))
    last_day = again.window.closes if step == 1 else again.window.opens
    assert cut.window.closes + wait <= last_day


def test_never_bare(crops: Crops, families: Families, figures: Figures) -> None:
    for year in years(Plot("A", 10), NORTH, crops, families, figures):
        assert any(task.what == "cover" for task in year.tasks)


@given(turn=st.integers(0, 20))
def test_no_family_on_its_own_heels(turn: int, crops: Crops, families: Families, figures: Figures) -> None:
    plan = years(Plot("A", 10, step=3, turn=turn), NORTH, crops, families, figures)
    planted = [task.family for year in plan for task in year.tasks if task.what == "plant"]
    assert len(planted) == 5
    assert all(one != other for one, other in pairwise(planted))
    assert set(planted[:4]) == set(ROTATION)


def test_both_hemispheres(crops: Crops, families: Families, figures: Figures) -> None:
    """The same frosts half a year later give the same tasks half a year later."""
    north = years(Plot("A", 12.5), NORTH, crops, families, figures)
    south = years(Plot("A", 12.5), SOUTH, crops, families, figures)
    for here, there in zip(north, south, strict=True):
        assert here.step == there.step
        for one, other in zip(here.tasks, there.tasks, strict=True):
            assert (one.what, one.litres, one.seeds, one.family) == (
                other.what,
                other.litres,
                other.seeds,
                other.family,
            )
            assert other.window.opens - one.window.opens == HALF_A_YEAR
            assert other.window.closes - one.window.closes == HALF_A_YEAR


def test_the_plan_answers_to_the_spade(crops: Crops, families: Families, figures: Figures) -> None:
    sooner = years(Plot("A", 10), NORTH, crops, families, figures, structures={0: "good"})
    assert [year.step for year in sooner[:2]] == [1, 3]
    assert sooner[1].move is not None and sooner[1].move.reason == "sooner"
    stuck = years(Plot("A", 10), NORTH, crops, families, figures, structures={0: "poor", 1: "fair", 2: "poor"})
    assert [year.step for year in stuck] == [1, 1, 2, 2, 3]
    assert stuck[1].move is not None and stuck[1].move.reason == "stays"


@pytest.mark.parametrize("step", [1, 2, 3, 4, 5])
def test_better_structure_is_never_slower(step: Step) -> None:
    poor, fair, good = (next_step(step, structure).step for structure in ("poor", "fair", "good"))
    assert poor <= fair <= good
    assert next_step(step, None) == next_step(step, "fair")


@given(late=st.integers(0, 340))
def test_nothing_before_the_start(late: int, crops: Crops, families: Families, figures: Figures) -> None:
    starts = NORTH[0].last_frost + timedelta(days=late)
    (year,) = years(Plot("A", 10), NORTH[:1], crops, families, figures, starts=starts)
    for task in year.tasks:
        if task.what in ("spread", "sow"):
            assert starts <= task.window.opens <= task.window.closes


def test_seed_grows_with_the_bed(crops: Crops, families: Families, figures: Figures) -> None:
    small, big = (years(Plot("A", area), NORTH[:1], crops, families, figures)[0] for area in (5, 10))
    for one, other in zip(small.tasks, big.tasks, strict=True):
        assert other.litres == pytest.approx(2 * one.litres)
        for seed, more in zip(one.seeds, other.seeds, strict=True):
            assert more.grams.typical == pytest.approx(2 * seed.grams.typical)


# ---------------------------------------------------------------- trend


def test_a_straight_line() -> None:
    marks = [Mark(date(2026 + year, 4, 1), 4 - 0.5 * year) for year in range(4)]
    found = trend(marks, tracked(shipped().figures)["spade"])
    assert found.per_year == pytest.approx(-0.5, abs=2e-3)
    assert found.direction == "better"


def test_one_odd_year_does_not_upset_it() -> None:
    values = [100, 150, 20, 250, 300]
    marks = [Mark(date(2026 + year, 4, 1), value) for year, value in enumerate(values)]
    assert trend(marks, tracked(shipped().figures)["worms"]).direction == "better"


def test_one_mark_is_no_trend() -> None:
    assert trend([Mark(date(2026, 4, 1), 3)], tracked(shipped().figures)["spade"]).direction == "too-few"
    with pytest.raises(ValueError):
        trend([], tracked(shipped().figures)["spade"])


def test_within_what_the_check_wavers_by() -> None:
    marks = [Mark(date(2026, 4, 1), 3.0), Mark(date(2027, 4, 1), 3.4)]
    assert trend(marks, tracked(shipped().figures)["spade"]).direction == "steady"


def test_another_season_is_named() -> None:
    marks = [Mark(date(2026, 12, 1), 3.0), Mark(date(2027, 1, 20), 3), Mark(date(2027, 8, 1), 4)]
    assert trend(marks, tracked(shipped().figures)["spade"]).other_months == (marks[2],)


@given(st.lists(st.tuples(st.dates(date(2020, 1, 1), date(2035, 1, 1)), st.floats(0, 1000)), min_size=1, max_size=12))
def test_order_does_not_matter_and_the_mirror_is_opposite(found: list[tuple[date, float]]) -> None:
    marks = sorted({on: Mark(on, value) for on, value in found}.values(), key=lambda mark: mark.value)
    up, down = Tracked("x", "", True, 1), Tracked("x", "", False, 1)
    assert trend(marks, up) == trend(marks[::-1], up)
    opposite = {"better": "worse", "worse": "better", "steady": "steady", "too-few": "too-few"}
    assert trend(marks, down).direction == opposite[trend(marks, up).direction]

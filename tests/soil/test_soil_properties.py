"""What has to hold for any ground: both hemispheres, both unit systems, any beds; a plan that answers to its checks."""

from datetime import date, timedelta

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from advisor.knowledge.load import shipped
from advisor.soil.green_manures import season_of
from advisor.soil_counsel.checks import read_check
from advisor.soil_counsel.ground import BedTold, CheckTold, Ground, check_told
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.seasons import seasons_answer
from advisor.soil_counsel.shapes import SeasonsAnswer
from advisor.soil_counsel.soil import read_beds, soil_answer

KNOWLEDGE = shipped()
ENGINE = shipped_soil_engine()
FAMILIES = sorted(KNOWLEDGE.crop_families)
HALF_A_YEAR = timedelta(days=183)

BEDS = st.builds(
    BedTold,
    name=st.just("A"),
    area_m2=st.floats(0.2, 4047),
    step=st.sampled_from([None, 1, 2, 3, 4, 5]),
    wants=st.sampled_from(["", "new", "upkeep", "mulch", "lawn", "none"]),
    crops=st.lists(st.sampled_from(FAMILIES), unique=True, max_size=3).map(tuple),
)


def told(text: str, on: date | None = None) -> CheckTold:
    return check_told(text, KNOWLEDGE, "test", "A", on)


def calendar(*checks: CheckTold, number: int = 5, **bed: object) -> SeasonsAnswer:
    made = BedTold("A", area_m2=10.0, **bed)  # type: ignore[arg-type]
    ground = Ground("t", "", (4, 20), (10, 15), date(2026, 3, 1), beds=(made,), checks=checks)
    return seasons_answer(ground, KNOWLEDGE, ENGINE, number=number)


def steps(*checks: CheckTold, **bed: object) -> list[int]:
    return [year.step for year in calendar(*checks, **bed).years]


def words_of(answer: SeasonsAnswer) -> str:
    return "\n".join(line.text for line in answer.lines())


# ---------------------------------------------------------------- hemispheres


@given(bed=BEDS, last=st.integers(60, 170), frost_free=st.integers(60, 240), before=st.integers(0, 60))
@settings(max_examples=40, deadline=None)
def test_north_and_south_get_the_same_plan_half_a_year_apart(
    bed: BedTold, last: int, frost_free: int, before: int
) -> None:
    """Frosts and start moved by half a year move every window by as much; windows may slip by the odd day, since the
    halves of a year are not alike and one year in four has a day more."""
    north = date(2026, 1, 1) + timedelta(days=last)
    frosts = north, north + timedelta(days=frost_free)
    starts = north - timedelta(days=before)
    south = tuple(frost + HALF_A_YEAR for frost in frosts)

    def plan(two: tuple[date, ...], begins: date) -> SeasonsAnswer:
        pair = [(day.month, day.day) for day in two]
        return seasons_answer(Ground("t", "", pair[0], pair[1], begins, beds=(bed,)), KNOWLEDGE, ENGINE, number=3)

    here, there = plan(frosts, starts), plan(south, starts + HALF_A_YEAR)
    for one, other in zip(here.years, there.years, strict=True):
        assert one.step == other.step
        assert [task.what for task in one.tasks] == [task.what for task in other.tasks]
        for this, that in zip(one.tasks, other.tasks, strict=True):
            assert abs(that.opens - this.opens - HALF_A_YEAR) <= timedelta(days=2)
            assert abs(that.closes - this.closes - HALF_A_YEAR) <= timedelta(days=2)
            assert (this.litres, this.family, this.between, this.seed_grams) == (
                that.litres, that.family, that.between, that.seed_grams,
            )  # fmt: skip


# ---------------------------------------------------------------- units


@given(inches=st.floats(4, 24), fluid=st.floats(0.2, 1), minutes=st.floats(2, 600))
@settings(deadline=None)
def test_a_ring_told_in_inches_or_centimetres(inches: float, fluid: float, minutes: float) -> None:
    """An inch is 25.4 mm, a US quart 0.946352946 L by definition."""
    us = told(f"ring width={inches:.4f} in water={fluid:.4f} qt minutes={minutes:.3f}")
    litres = float(f"{fluid:.4f}") * 0.946352946
    metric = told(f"ring width={float(f'{inches:.4f}') * 2.54:.8f} cm water={litres:.9f} L minutes={minutes:.3f}")
    one, other = (read_check("ring", check.values, KNOWLEDGE, "us") for check in (us, metric))
    assert one.value == pytest.approx(other.value, rel=1e-5)


@given(bed=BEDS, number=st.integers(1, 3))
@settings(max_examples=25, deadline=None)
def test_a_calendar_is_the_same_in_either_units(bed: BedTold, number: int) -> None:
    ground = Ground("t", "", (4, 20), (10, 15), date(2026, 3, 1), beds=(bed,))
    one, other = (seasons_answer(ground, KNOWLEDGE, ENGINE, number=number, units=units) for units in ("metric", "us"))  # type: ignore[arg-type]
    without_words = {"tasks": {"__all__": {"line", "say"}}}
    assert [year.model_dump(exclude=without_words) for year in one.years] == [
        year.model_dump(exclude=without_words) for year in other.years
    ]
    assert [line.id for line in one.lines()] == [line.id for line in other.lines()]
    assert not any(sign in words_of(other) for sign in (" cm deep", " L of", "m²", " mm ", "°C"))
    assert not any(sign in words_of(one) for sign in (" in deep", " gal", "ft²", "°F"))


# ---------------------------------------------------------------- seeds, litres and days


@given(bed=BEDS, times=st.floats(0.1, 10))
@settings(max_examples=30, deadline=None)
def test_twice_the_bed_takes_twice_of_all(bed: BedTold, times: float) -> None:
    from dataclasses import replace

    assert bed.area_m2 is not None
    assume(bed.area_m2 * times <= 1e6)

    def plan(area: float) -> SeasonsAnswer:
        ground = Ground("t", "", (4, 20), (10, 15), date(2026, 3, 1), beds=(replace(bed, area_m2=area),))
        return seasons_answer(ground, KNOWLEDGE, ENGINE, number=3)

    for small, big in zip(plan(bed.area_m2).years, plan(bed.area_m2 * times).years, strict=True):
        for one, other in zip(small.tasks, big.tasks, strict=True):
            assert other.litres == pytest.approx(one.litres * times)
            for crop, seed in one.seed_grams.items():
                assert other.seed_grams[crop].typical == pytest.approx(seed.typical * times)


# ---------------------------------------------------------------- the plan answers to the checks


def test_good_structure_moves_on_sooner_and_says_why() -> None:
    answer = calendar(told("spade scores=2 depths=20", date(2027, 3, 5)))
    assert [year.step for year in answer.years] == [1, 3, 4, 5, 5]
    assert "moved on sooner, for the spade shows good structure" in words_of(answer)


def test_poor_structure_stays_and_says_why() -> None:
    answer = calendar(told("spade scores=5 depths=20", date(2027, 3, 5)))
    assert [year.step for year in answer.years] == [1, 1, 2, 3, 4]
    assert "stays with green manures, for the spade shows poor structure" in words_of(answer)


def test_fair_by_the_spade_and_tight_by_the_ring_stays() -> None:
    """Firm structure that lets in less than 5 mm an hour is pressed tight: the same rule speaks in `soil` and here."""
    spade, ring = told("spade scores=3.4 depths=20", date(2027, 3, 5)), "ring width=15 water=444 ml minutes=400 500"
    assert steps(spade)[:2] == [1, 2]
    answer = calendar(spade, told(ring, date(2027, 3, 6)))
    assert [year.step for year in answer.years][:2] == [1, 1]
    assert "the other checks say pressed tight" in words_of(answer)
    head = next(line for line in answer.lines() if "pressed tight" in line.text)
    assert any("lets water in slower" in because.because for each in head.why for because in (each, *each.rests_on))
    # The ring of another year says nothing of this one.
    assert steps(spade, told(ring, date(2029, 3, 6)))[:2] == [1, 2]


def test_vegetables_go_back_to_green_manures_where_it_is_poor_again() -> None:
    assert steps(told("spade scores=5 depths=20", date(2027, 3, 5)), step=4)[:3] == [4, 2, 3]


def test_a_check_of_the_first_spring_is_where_it_starts_and_not_a_result() -> None:
    assert steps(told("spade scores=5 depths=20", date(2026, 3, 2)))[:2] == [1, 2]
    assert steps(told("spade scores=2 depths=20", date(2026, 3, 2)))[:2] == [3, 4]
    assert steps(told("spade scores=2 depths=20", date(2026, 3, 2)), step=1)[:2] == [1, 2]


@given(
    scores=st.lists(st.tuples(st.integers(2027, 2030), st.floats(1, 5)), max_size=4, unique_by=lambda pair: pair[0]),
    better=st.floats(0, 2),
)
@settings(max_examples=40, deadline=None)
def test_a_better_soil_is_never_further_behind(scores: list[tuple[int, float]], better: float) -> None:
    def plan(less: float) -> list[int]:
        made = [told(f"spade scores={max(1, score - less):.2f} depths=20", date(year, 3, 5)) for year, score in scores]
        return steps(*made)

    assert all(one <= other for one, other in zip(plan(0), plan(better), strict=True))


# ---------------------------------------------------------------- several spots


def test_three_blocks_of_one_day_are_one_check() -> None:
    """The score of a plot is the mean of its blocks (VESS, memory): 2, 3 and 4.6 make 3.2."""
    day = date(2027, 3, 5)
    blocks = tuple(told(f"spade scores={score} depths=20", day) for score in (2, 3, 4.6))
    (result,) = soil_answer(Ground("t", beds=(BedTold("A"),), checks=blocks), KNOWLEDGE, ENGINE).results
    assert result.value == pytest.approx(3.2)
    assert result.word == "fair"
    assert "from 3 blocks" in result.line.text


@given(st.permutations([20.0, 25.0, 400.0]))
@settings(deadline=None)
def test_of_three_rings_the_middle_one_stands(minutes: list[float]) -> None:
    checks = tuple(told(f"ring width=15 cm water=444 ml minutes=3 {each}") for each in minutes)
    (bed,) = read_beds(Ground("t", beds=(BedTold("A"),), checks=checks), KNOWLEDGE, ENGINE, "metric")
    ((_, read),) = bed.checks
    alone = read_check("ring", told("ring width=15 cm water=444 ml minutes=3 25").values, KNOWLEDGE, "metric")
    assert read.value == pytest.approx(alone.value)
    assert read.word == alone.word


def test_worms_of_several_holes_are_averaged() -> None:
    """10, 12 and 20 in blocks of 20 x 20 cm: a mean of 14, good, 350 to the square metre."""
    checks = tuple(told(f"worms counts={count}") for count in (10, 12, 20))
    answer = soil_answer(Ground("t", beds=(BedTold("A"),), checks=checks), KNOWLEDGE, ENGINE)
    assert answer.results[0].value == pytest.approx(350)
    assert answer.results[0].word == "good"


def test_days_apart_are_not_spots() -> None:
    checks = tuple(told("spade scores=3 depths=20", date(2026, 4, day)) for day in (1, 2))
    (bed,) = read_beds(Ground("t", beds=(BedTold("A"),), checks=checks), KNOWLEDGE, ENGINE, "metric")
    assert len(bed.checks) == 2


# ---------------------------------------------------------------- frosts that are not, and frosts that nobody knows


def test_without_frosts_the_calendar_counts_from_them() -> None:
    beds = (BedTold("A", area_m2=8.0),)
    answer = seasons_answer(Ground("t", beds=beds), KNOWLEDGE, ENGINE, number=2)
    page = words_of(answer)
    assert answer.years == () and answer.frost_free == ()
    assert "neighbour who gardens knows them" in page
    assert "from 6 weeks before the last frost to 4 weeks after the last frost: sow oats" in page
    assert "2026" not in page and "2000" not in page
    half = seasons_answer(Ground("t", "", (4, 20), None, date(2026, 3, 1), beds=beds), KNOWLEDGE, ENGINE, number=1)
    assert half.years == ()


@given(last=st.dates(date(2027, 2, 1), date(2027, 6, 15)), free=st.integers(160, 240), step=st.integers(1, 5))
@settings(max_examples=30, deadline=None)
def test_weeks_from_the_frosts_are_what_the_dates_say(last: date, free: int, step: int) -> None:
    """With weeks turned into days by somebody's own frosts, sowing begins on the day that the dated calendar names."""
    first = last + timedelta(days=free)
    bed = BedTold("A", area_m2=8.0, step=step)  # type: ignore[arg-type]
    known = Ground("t", "", (last.month, last.day), (first.month, first.day), last - timedelta(days=60), beds=(bed,))
    weeks = seasons_answer(Ground("t", beds=(bed,)), KNOWLEDGE, ENGINE, number=1)
    dated = seasons_answer(known, KNOWLEDGE, ENGINE, number=1).years[0]
    season = season_of(2027, (last.month, last.day), (first.month, first.day))
    said = [line.text for line in weeks.lines() if ": sow " in line.text and "living mulch" not in line.text]
    sown = [task.opens for task in dated.tasks if task.what == "sow" and not task.between]
    assert len(said) == len(sown) > 0
    for text, opens in zip(said, sown, strict=True):
        start = text.removeprefix("from ").split(" to ")[0].split()
        frost = season.last_frost if "last" in start else season.first_frost
        off = 0 if start[0] == "the" else int(start[0]) * (1 if "after" in start else -1)
        assert frost + timedelta(weeks=off) == opens


@given(bed=BEDS, begins=st.dates(date(2024, 1, 1), date(2031, 12, 31)))
@settings(max_examples=30, deadline=None)
def test_where_it_never_freezes(bed: BedTold, begins: date) -> None:
    ground = Ground("t", starts=begins, frost_free=True, beds=(bed,))
    answer = seasons_answer(ground, KNOWLEDGE, ENGINE, number=3)
    assert len(answer.years) == 3
    page = words_of(answer)
    assert "frost-free from" not in page and "oats" not in page.replace("sow oats with field peas for cowpeas", "")
    for year in answer.years:
        assert not {"winter-rye", "oats"} & {crop for task in year.tasks for crop in task.seed_grams}
        assert bed.wants == "lawn" or any(task.what == "cover" for task in year.tasks)
        for task in year.tasks:
            assert task.opens <= task.closes
            assert task.what == "check" or task.opens >= begins - timedelta(days=15) or year.year > 1

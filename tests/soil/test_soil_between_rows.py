"""Living mulches: the table against what is published, what the rules choose, and the weeks that the season leaves."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.knowledge.load import shipped
from advisor.soil.green_manures import season_of
from advisor.soil.season_layout import Layout, Plot, Tables, Task
from advisor.soil.seasons import years
from advisor.soil_counsel.between import BetweenRows
from advisor.soil_counsel.ground import BedTold, CheckTold, Ground, check_told
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.seasons import seasons_answer
from advisor.soil_counsel.soil import read_beds

KNOWLEDGE = shipped()
ENGINE = shipped_soil_engine()
MULCHES = KNOWLEDGE.living_mulches
SEASON = season_of(2026, (4, 20), (10, 10))


def told(text: str) -> CheckTold:
    return check_told(text, KNOWLEDGE, "test", "A", None)


def fitting(family: str, *checks: str, step: int = 3, **facts: str) -> tuple[str, ...]:
    ground = Ground(
        "test", beds=(BedTold("A", facts=tuple(facts.items())),), checks=tuple(told(text) for text in checks)
    )
    (bed,) = read_beds(ground, KNOWLEDGE, ENGINE, "metric")
    return BetweenRows(KNOWLEDGE, ENGINE).fitting(bed, step, family)  # type: ignore[arg-type]


def begun(name: str, planted: date, area: float = 10.0) -> Task | None:
    tables = Tables(KNOWLEDGE.green_manures, MULCHES, KNOWLEDGE.figures, lambda _step, _family: (name,))
    return Layout(Plot("A", area), SEASON, date(2027, 4, 20), tables).living(name, planted)


# ---------------------------------------------------------------- the table


def test_seed_of_white_clover() -> None:
    """Managing Cover Crops Profitably, chart 3 (memory): 5 to 14 lb/acre are 0.6 to 1.6 g to the square metre."""
    rate = MULCHES["white-clover"].grams_per_m2
    assert rate is not None
    for printed, grams in zip((5, 14), (rate.low, rate.high), strict=True):
        assert printed * 453.59237 / 4046.8564 == pytest.approx(grams, abs=0.05)


def test_thyme_by_its_spacing() -> None:
    """Common practice: 25 to 33 cm apart each way."""
    plants = MULCHES["creeping-thyme"].plants_per_m2
    assert plants is not None
    assert (plants.low, plants.high) == pytest.approx((1 / 0.33**2, 1 / 0.25**2), rel=0.03)


def test_the_table_and_the_facts_name_the_same() -> None:
    assert KNOWLEDGE.subjects("between") == set(MULCHES)
    assert set(KNOWLEDGE.kinds["bed"].attributes["family"].words) == set(KNOWLEDGE.crop_families)


# ---------------------------------------------------------------- what suits


@pytest.mark.parametrize(
    ("family", "checks", "facts", "found"),
    [
        ("cabbages", (), {}, ("white-clover",)),
        ("grasses", (), {}, ("white-clover",)),
        ("legumes", (), {}, ("soft-weeds",)),
        ("onions", (), {}, ()),
        ("roots", ("weeds names=chickweed",), {}, ()),
        ("nightshades", ("weeds names=chickweed",), {}, ("white-clover", "soft-weeds")),
        ("nightshades", ("weeds names=horsetail",), {}, ("white-clover",)),
        ("legumes", ("weeds names=creeping-buttercup",), {}, ()),
        ("cabbages", ("texture sand=92 silt=5 clay=3",), {}, ("yellow-trefoil",)),
        ("cabbages", ("texture sand=92 silt=5 clay=3",), {"kind": "raised"}, ("yellow-trefoil",)),
        ("cabbages", ("laboratory ph=7.9",), {}, ("white-clover", "yellow-trefoil")),
        ("cabbages", (), {"kind": "pots"}, ()),
        ("", (), {"crop": "flowers"}, ("creeping-thyme",)),
        ("", ("hole hours=40",), {"crop": "flowers"}, ()),
        ("", ("texture sand=20 silt=20 clay=60",), {"crop": "flowers"}, ()),
    ],
)
def test_what_suits(family: str, checks: tuple[str, ...], facts: dict[str, str], found: tuple[str, ...]) -> None:
    """Common practice; the reasons stand in rules/between-rows.toml."""
    assert fitting(family, *checks, **facts) == found


@pytest.mark.parametrize("step", [1, 2])
def test_nothing_between_rows_where_there_are_none(step: int) -> None:
    assert fitting("cabbages", step=step) == ()


# ---------------------------------------------------------------- when


def test_clover_comes_after_the_crop_and_before_the_frost() -> None:
    planted = date(2026, 5, 4)
    task = begun("white-clover", planted)
    assert task is not None
    assert task.window.opens == planted + timedelta(weeks=4)
    assert task.window.closes == planted + timedelta(weeks=8)
    assert begun("white-clover", date(2026, 8, 15)) is None


@given(planted=st.dates(date(2026, 3, 1), date(2026, 10, 9)), name=st.sampled_from(sorted(MULCHES)))
def test_never_too_soon_or_too_late(planted: date, name: str) -> None:
    task = begun(name, planted)
    mulch = MULCHES[name]
    if task is not None:
        assert planted + timedelta(weeks=mulch.after_crop_weeks[0]) <= task.window.opens <= task.window.closes
        assert task.window.closes <= SEASON.first_frost - timedelta(weeks=mulch.before_frost_weeks)
        assert task.window.opens >= SEASON.last_frost + timedelta(weeks=mulch.after_frost_weeks)


def test_seed_for_what_it_covers() -> None:
    """Half of 10 square metres at 1 g: 5 g (geometry; the share is our own estimate)."""
    task = begun("white-clover", date(2026, 5, 4))
    assert task is not None
    assert task.seeds[0].grams.typical == pytest.approx(5)
    assert task.seeds[0].grams.low < 3.5 < 8 < task.seeds[0].grams.high


# ---------------------------------------------------------------- in the calendar


def test_thyme_is_set_out_once() -> None:
    seasons = [season_of(year, (4, 20), (10, 10)) for year in (2026, 2027, 2028)]
    plan = years(
        Plot("A", 10, step=5, stands_cm=5.0), seasons, KNOWLEDGE.green_manures, KNOWLEDGE.crop_families,
        KNOWLEDGE.figures, mulches=MULCHES, between=lambda _step, _family: ("creeping-thyme",),
    )  # fmt: skip
    assert [sum(task.plants is not None for task in year.tasks) for year in plan] == [1, 0, 0]


def test_a_bed_of_shrubs_is_mulched_and_not_replanted() -> None:
    bed = BedTold("A", area_m2=6.0, wants="mulch", facts=(("crop", "flowers"),))
    ground = Ground("test", "", (4, 20), (10, 10), date(2026, 3, 1), beds=(bed,))
    for year in seasons_answer(ground, KNOWLEDGE, ENGINE, number=3).years:
        whats = {task.what for task in year.tasks}
        assert not {"plant", "cut"} & whats
        assert "cover" in whats
        (spread,) = (task for task in year.tasks if task.what == "spread")
        assert spread.litres == pytest.approx(6 * 5 * 10)


def test_beside_carrots_straw_lies_and_the_reason_is_given() -> None:
    bed = BedTold("A", area_m2=6.0, step=3, crops=("roots",))
    ground = Ground("test", "", (4, 20), (10, 10), date(2026, 3, 1), beds=(bed,))
    answer = seasons_answer(ground, KNOWLEDGE, ENGINE, number=1)
    (straw,) = (task for task in answer.years[0].tasks if task.between == "straw")
    assert any("overgrown" in because.because for because in straw.line.why)


@given(
    crops=st.lists(st.sampled_from(sorted(KNOWLEDGE.crop_families)), unique=True, max_size=4),
    step=st.integers(1, 5),
    seed=st.sampled_from(["", "weeds names=chickweed", "texture sand=92 silt=5 clay=3", "laboratory ph=7.9"]),
)
@settings(max_examples=25, deadline=None)
def test_in_every_plan_what_lives_between_the_rows_is_explained(crops: list[str], step: int, seed: str) -> None:
    bed = BedTold("A", area_m2=6.0, step=step, crops=tuple(crops))  # type: ignore[arg-type]
    ground = Ground("t", "", (4, 20), (10, 10), date(2026, 3, 1), beds=(bed,), checks=(told(seed),) if seed else ())
    answer = seasons_answer(ground, KNOWLEDGE, ENGINE, number=4)
    named = {task.between for year in answer.years for task in year.tasks if task.between in MULCHES}
    page = "\n".join(line.text for part in answer.parts if part.title == "Between the rows" for line in part.lines)
    for name, mulch in MULCHES.items():
        assert (f"{mulch.name[1:]}: " in page) == (name in named)
    grown = [task.family for year in answer.years for task in year.tasks if task.what == "plant"]
    assert grown[: len(crops)] == crops[: len(grown)]
    assert len(set(grown[:4])) == len(grown[:4])

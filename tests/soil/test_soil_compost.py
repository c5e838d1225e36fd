"""Finished compost: germination and heat against published examples and rules."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.knowledge.load import shipped
from advisor.knowledge.shapes import Figure
from advisor.knowledge.soil_shapes import Scale
from advisor.soil.germination import Dish, dish, germination_index, radish, relative_growth, weed_seeds
from advisor.soil.sanitising import Reading, harvest_from, recorded, share_through_heat
from advisor.soil_counsel.ground import check_told
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.ready import Finished, ready_answer

KNOWLEDGE = shipped()
Scales = dict[str, Scale]


def daily(celsius: float, days: int, first: int = 0) -> list[Reading]:
    return [Reading(first + day, celsius) for day in range(days)]


def reached(readings: list[Reading], turnings: tuple[float, ...] = (), *, turned: bool = True) -> set[str]:
    return {
        one.rule.id for one in recorded(readings, turnings, rules=KNOWLEDGE.heat_rules, turned=turned) if one.reached
    }


# ---------------------------------------------------------------- seeds


def test_germination_index(scales: Scales) -> None:
    """Control 20 of 20 at 25 mm, sample 19 of 20 at 27 mm: 102.6 % (formula of the cress test, memory)."""
    found = germination_index(Dish(20, 19, 27), Dish(20, 20, 25), scales)
    assert found.pct == pytest.approx(102.6, abs=0.05)
    assert found.band.word == "growth-gain"


@given(sown=st.integers(1, 40), root=st.floats(0.1, 80), more=st.floats(0.1, 80))
def test_against_itself_it_is_a_hundred(sown: int, root: float, more: float, scales: Scales) -> None:
    assert germination_index(Dish(sown, sown, root), Dish(sown, sown, root), scales).pct == pytest.approx(100)
    assert germination_index(Dish(sown, sown, root + more), Dish(sown, sown, root), scales).pct > 100


def test_a_dish_from_its_roots() -> None:
    assert dish(10, [20.0, 30.0]) == Dish(10, 2, 25.0)
    assert dish(10, []).share == 0


def test_relative_growth_takes_the_worse(scales: Scales) -> None:
    """Cucumbers: both sprouting and vigour over 80 % of the control (county laboratory reports, read)."""
    assert relative_growth(Dish(20, 20, 16), Dish(20, 20, 20), scales).pct == pytest.approx(80)
    assert relative_growth(Dish(20, 15, 30), Dish(20, 20, 20), scales).band.word == "immature"


@pytest.mark.parametrize(("grown", "word"), [(12, "ready"), (11, "not-yet")])
def test_radishes(grown: int, word: str, scales: Scales) -> None:
    """12 of 15 is 80 %, ready; 11 of 15 is 73.3 % and fails (University of Florida, 75 %, read)."""
    assert radish(15, grown, scales).band.word == word


@pytest.mark.parametrize(("seedlings", "per_litre", "word"), [(5, 1.67, "within"), (7, 2.33, "weedy")])
def test_weed_seeds(seedlings: int, per_litre: float, word: str, scales: Scales) -> None:
    """From 3 L in 15 days (German biowaste ordinance, annex 2, 4.3.2, read; counts made up)."""
    found, band = weed_seeds(seedlings, 3, scales)
    assert found == pytest.approx(per_litre, abs=0.005)
    assert band.word == word


@pytest.mark.parametrize("made", [lambda: Dish(10, 11, 5), lambda: Dish(0, 0, 5), lambda: Dish(10, 5, -1)])
def test_dishes_that_cannot_be(made: object) -> None:
    with pytest.raises(ValueError):
        made()  # type: ignore[operator]


def test_a_dead_control_says_nothing(scales: Scales) -> None:
    with pytest.raises(ValueError, match="control"):
        germination_index(Dish(20, 10, 10), Dish(20, 0, 0), scales)


def test_a_county_reports_ratio(scales: Scales) -> None:
    """530 ppm ammonium to 7.5 ppm nitrate: printed 71 (read). Another prints 5800 for 640 and "<1.0": at most 640 can
    be said from those figures, and 5800 would need 0.11 ppm."""
    assert pytest.approx(70.7, abs=0.05) == 530 / 7.5
    assert scales["ammonium-nitrate"].of(530 / 7.5).word == "immature"
    assert pytest.approx(0.11, abs=0.005) == 640 / 5800


# ---------------------------------------------------------------- heat


def test_windrow_of_fifteen_days_and_five_turnings() -> None:
    """7 CFR 205.203(c)(2) (read); 40 CFR 503 appendix B (memory)."""
    assert {"us-windrow", "nop-windrow"} <= reached(daily(56, 15), (2, 5, 8, 11, 14))


def test_four_turnings_are_one_too_few() -> None:
    lacking = {one.rule.id: one for one in recorded(daily(56, 15), (2, 5, 8, 11), rules=KNOWLEDGE.heat_rules)}
    assert not lacking["us-windrow"].reached
    assert lacking["us-windrow"].lacks == ("1 more turning in that time",)


def test_french_but_not_american() -> None:
    """Three turnings three days apart, 72 h at 55 °C over 21 days (French order of 2012, annex I, read)."""
    readings = [*daily(57, 4), *daily(45, 18, first=4)]
    found = reached(readings, (6, 10, 14))
    assert "fr-turned" in found
    assert "us-windrow" not in found


def test_turnings_too_close_do_not_count_in_france() -> None:
    readings = [*daily(57, 4), *daily(45, 18, first=4)]
    assert "fr-turned" not in reached(readings, (6, 7, 8))


def test_six_days_at_sixty() -> None:
    """German text: 60 °C for 6 days (read); European Union: 7 days (memory)."""
    found = reached(daily(60, 6), turned=False)
    assert "de-60" in found
    assert "eu-60" not in found
    assert "eu-60" in reached(daily(60, 7), turned=False)


def test_a_day_without_a_reading_breaks_a_row() -> None:
    readings = [reading for reading in daily(60, 8) if reading.day != 4]
    assert "de-60" not in reached(readings, turned=False)


def test_too_hot_for_the_organic_rule() -> None:
    """131 to 170 °F: 55 to 77 °C."""
    assert "nop-vessel" not in reached(daily(79, 3), turned=False)
    assert "us-vessel" in reached(daily(79, 3), turned=False)


def test_temperatures_of_the_rules_in_fahrenheit() -> None:
    """131 and 170 °F are 55.0 and 76.7 °C (7 CFR 205.203, read)."""
    assert pytest.approx(55.0) == (131 - 32) / 1.8
    nop = next(rule for rule in KNOWLEDGE.heat_rules if rule.id == "nop-windrow")
    assert nop.not_above_celsius == pytest.approx((170 - 32) / 1.8, abs=0.4)


@given(st.lists(st.tuples(st.integers(0, 40), st.floats(20, 74)), min_size=1, max_size=60))
def test_more_heat_never_loses_a_rule(found: list[tuple[int, float]]) -> None:
    readings = [Reading(*one) for one in found]
    hotter = [Reading(one.day, one.celsius + 3) for one in readings]
    turnings = (3, 6, 9, 12, 15)
    assert reached(readings, turnings) <= reached(hotter, turnings)


def test_the_row_with_the_turnings_counts_though_another_is_longer() -> None:
    readings = [*daily(56, 15), *daily(56, 20, first=17)]
    assert "us-windrow" in reached(readings, (2, 5, 8, 11, 14))


def test_manure_before_harvest(figures: dict[str, Figure]) -> None:
    """7 CFR 205.203(c)(1): 90 days, so raw manure of 1 April lets sweet corn be cut on 30 June; 120 for what is
    splashed."""
    assert harvest_from(date(2026, 4, 1), touches_soil=False, figures=figures) == date(2026, 6, 30)
    assert harvest_from(date(2026, 4, 1), touches_soil=True, figures=figures) == date(2026, 7, 30)


@pytest.mark.parametrize(("turnings", "share"), [(1, 0.75), (4, 0.97), (5, 0.98)])
def test_share_through_the_heat(turnings: int, share: float) -> None:
    """1 - 0.5^(n+1), derived."""
    assert share_through_heat(turnings) == pytest.approx(share, abs=0.005)


# ---------------------------------------------------------------- beans, for weedkillers that last


@pytest.mark.parametrize(
    ("leaves", "fit"),
    [
        # The university pot test for gardeners (WSU Whatcom, read): cupped and twisted leaves in the compost beside
        # straight ones in the mix mean a weedkiller; poor growth in both pots tells nothing.
        ("", ()),
        ("straight", ("seeds", "pots", "beds", "mulch")),
        ("twisted", ()),
        ("poor-in-both", ()),
    ],
)
def test_beans_decide_what_suspect_compost_may_go_to(leaves: str, fit: tuple[str, ...]) -> None:
    tests = ["radish sown=15 grown=14", *([f"beans leaves={leaves}"] if leaves else [])]
    told = Finished(
        {"smell": "earthy", "looks": "crumbly", "reheats": "no"},
        12,
        ("suspect-herbicide",),
        tuple(check_told(text, shipped(), "test", "", None) for text in tests),
    )
    answer = ready_answer(told, shipped(), shipped_soil_engine())
    assert answer.fit == fit
    grave = [part for part in answer.parts if part.grave]
    assert bool(grave) == (not fit)


def test_twisted_beans_bar_what_nobody_suspected() -> None:
    told = Finished({"smell": "earthy"}, 12, (), (check_told("beans leaves=twisted", shipped(), "test", "", None),))
    answer = ready_answer(told, shipped(), shipped_soil_engine())
    assert answer.fit == ()
    assert any("do not give or sell it" in line.text for line in answer.lines())

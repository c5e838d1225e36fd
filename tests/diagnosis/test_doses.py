"""Cures in buckets: amounts from what went in, checked against the published way of working them out.

The grass and leaves of the worked example are those of the Cornell composting pages on mixing (from memory): 10 kg of
grass at 77 % moisture and 2.4 % nitrogen, with leaves at 35 % and 0.75 %.
"""

from __future__ import annotations

import math

import pytest

from advisor.blend import mix
from advisor.blend.shapes import Composition, Part
from advisor.diagnosis.account import account
from advisor.diagnosis.diagnose import diagnose, shipped_diagnosis_engine
from advisor.diagnosis.shapes import Cure, Diagnosis
from advisor.diagnosis.signs import read_signs
from advisor.household.holdings import holdings_told
from advisor.household.shapes import Holding, Household
from advisor.knowledge.load import shipped

KNOWLEDGE = shipped()


def held(text: str) -> tuple[Holding, ...]:
    return holdings_told(text, KNOWLEDGE, lambda _: "test")


def told(text: str, went_in: str = "", on_hand: str = "", units: str = "metric") -> Diagnosis:
    return diagnose(
        read_signs(text, KNOWLEDGE)[0],
        KNOWLEDGE,
        shipped_diagnosis_engine(),
        went_in=held(went_in) if went_in else (),
        household=Household("a test", held(on_hand)) if on_hand else None,
        units=units,  # type: ignore[arg-type]
    )


def cure(found: Diagnosis, name: str) -> Cure:
    return next(one for one in found.remedies if one.remedy == name)


def test_browns_bring_a_rich_wet_heap_into_its_windows() -> None:
    dose = cure(told("ammonia, wet, slimy", "10 buckets grass clippings"), "fork-in-browns").dose
    assert dose is not None
    assert dose.known
    assert dose.carbon_nitrogen_before is not None
    assert dose.carbon_nitrogen_after is not None
    assert dose.carbon_nitrogen_before < 25 < dose.carbon_nitrogen_after <= 41
    assert dose.moisture_before_pct is not None
    assert dose.moisture_after_pct is not None
    assert dose.moisture_after_pct < dose.moisture_before_pct


def test_the_dose_of_browns_is_that_of_the_balance() -> None:
    """The amount stated is the one at which carbon over nitrogen, summed anew, gives the ratio stated."""
    dose = cure(told("ammonia", "10 buckets grass clippings"), "fork-in-browns").dose
    assert dose is not None
    grass, leaves = KNOWLEDGE.materials["grass-clippings"], KNOWLEDGE.materials[dose.material]
    made_of = account(held("10 buckets grass clippings"), None, KNOWLEDGE, frozenset())
    assert made_of is not None
    kg = dose.litres / 1000 * leaves.density.typical
    dry = kg * (1 - leaves.moisture.typical / 100)
    nitrogen = dry * leaves.nitrogen.typical / 100
    assert leaves.carbon_nitrogen is not None
    assert grass.carbon_nitrogen is not None
    carbon = nitrogen * leaves.carbon_nitrogen.typical
    whole = (mix.carbon_kg(made_of.parts) + carbon) / (mix.nitrogen_kg(made_of.parts) + nitrogen)
    assert dose.carbon_nitrogen_after == pytest.approx(whole, rel=0.02)
    assert whole == pytest.approx(30, rel=0.1)  # rounded to measures that can be counted


def test_what_is_on_hand_is_taken_first_and_counted_in_its_own_measure() -> None:
    found = told("ammonia", "10 buckets grass clippings", "6 sacks straw")
    dose = cure(found, "fork-in-browns").dose
    assert dose is not None
    assert dose.material == "straw"
    assert "sack" in dose.text


def test_water_is_worked_out_by_hand() -> None:
    """Dry stuff counts as 40 % moist at most; 55 % is the goal: dry kg x (55/45 - 40/60)."""
    found = told("dry, falls apart when squeezed", "6 sacks dry leaves, 4 buckets grass clippings")
    dose = cure(found, "water-it").dose
    assert dose is not None
    made_of = account(held("6 sacks dry leaves, 4 buckets grass clippings"), None, KNOWLEDGE, frozenset({"dry"}))
    assert made_of is not None
    dry = mix.dry_kg(made_of.parts)
    start = made_of.moisture_pct / 100
    assert start <= 0.4
    assert dose.litres == pytest.approx(dry * (55 / 45 - start / (1 - start)), rel=1e-6)
    assert "one at a time" in dose.text
    assert "moisture from about 40 to 55 %" in dose.rests_on


def test_the_handful_corrects_the_account_and_leaves_the_dry_matter_alone() -> None:
    went_in = held("10 buckets grass clippings, 2 sacks dry leaves")
    as_built = account(went_in, None, KNOWLEDGE, frozenset())
    as_felt = account(went_in, None, KNOWLEDGE, frozenset({"dry"}))
    assert as_built is not None
    assert as_felt is not None
    assert as_felt.moisture_pct == pytest.approx(40)
    assert mix.dry_kg(as_felt.parts) == pytest.approx(mix.dry_kg(as_built.parts))
    assert as_felt.carbon_nitrogen == pytest.approx(as_built.carbon_nitrogen)


def test_bulk_is_what_lacks_to_a_cubic_metre() -> None:
    dose = cure(told("small heap, cold", "10 buckets kitchen scraps"), "make-it-bigger").dose
    assert dose is not None
    parts = account(held("10 buckets kitchen scraps"), None, KNOWLEDGE, frozenset())
    assert parts is not None
    assert dose.litres == pytest.approx(1000 - parts.litres)
    assert "barrow" in dose.text


def test_greens_bring_a_lean_heap_down_to_thirty() -> None:
    dose = cure(told("mostly leaves, cold, moist, nothing happens", "8 sacks dry leaves"), "add-greens").dose
    assert dose is not None
    assert dose.carbon_nitrogen_before is not None
    assert dose.carbon_nitrogen_after is not None
    assert dose.carbon_nitrogen_before > dose.carbon_nitrogen_after == pytest.approx(30, rel=0.1)


@pytest.mark.parametrize("text", ["ammonia, wet", "dry, falls apart", "small heap, cold"])
def test_a_heap_of_which_nothing_is_known_gets_a_small_dose(text: str) -> None:
    doses = [one.dose for one in told(text).remedies if one.dose is not None]
    assert doses
    assert all(not dose.known for dose in doses)
    assert all("don't know" in dose.rests_on for dose in doses)


def test_units_of_the_united_states() -> None:
    water = cure(told("dry, falls apart", "6 sacks dry leaves", units="us"), "water-it")
    assert "gal" in water.line.text
    assert " L " not in water.line.text


def test_the_published_grass_and_leaves_by_the_same_balance() -> None:
    """From memory of the Cornell pages: 10 kg grass and about 6.8 kg leaves come to 60 % moisture, C:N about 37."""
    grass, leaves = Composition(2.4, 45, 77, 210), Composition(0.75, 50, 35, 100)
    kg = mix.second_for_moisture([Part(grass, 10)], leaves, 60)
    assert kg == pytest.approx(6.8, abs=0.05)
    assert math.isclose(mix.carbon_nitrogen([Part(grass, 10), Part(leaves, kg)]), 37, abs_tol=0.5)


def test_a_dose_that_would_move_no_figure_is_not_given_and_says_why() -> None:
    """Bare straw has a C:N near 75, so browns would bring it from about 75 to about 75."""
    browns = cure(told("ammonia", "10 sacks straw"), "fork-in-browns")
    assert browns.dose is not None
    assert browns.dose.moot
    assert browns.dose.litres == 0
    assert "buckets" not in browns.line.text
    assert "By what you told me" in browns.line.text


@pytest.mark.parametrize(
    ("text", "went_in"),
    [
        ("ammonia, wet, slimy", "10 buckets grass clippings"),
        ("ammonia", "10 sacks straw"),
        ("ammonia, wet", "2 barrows dry leaves"),
        ("mostly brown, cold, nothing happens", "6 sacks dry leaves"),
        ("mostly brown, cold, nothing happens", "10 buckets grass clippings"),
        ("dry, falls apart", "6 sacks dry leaves"),
    ],
)
def test_every_dose_moves_the_figure_it_names_and_says_what_it_rests_on(text: str, went_in: str) -> None:
    for remedy in told(text, went_in).remedies:
        dose = remedy.dose
        if dose is None or not dose.known:
            continue
        assert dose.rests_on
        if dose.moot or dose.litres == 0:
            continue
        before, after = dose.carbon_nitrogen_before, dose.carbon_nitrogen_after
        wet, drier = dose.moisture_before_pct, dose.moisture_after_pct
        moved = before is not None and after is not None and abs(after - before) >= 0.1 * before
        assert (
            moved or (wet is not None and drier is not None and abs(wet - drier) >= 2) or dose.name.startswith("mixed")
        )


@pytest.mark.parametrize(
    ("signs", "remedy", "never"),
    [
        ({"moisture": ("wet",), "texture": ("matted",), "holds": ("leaves",)}, "fork-in-browns", "dry-leaves"),
        ({"mix": ("mostly-brown",), "holds": ("sprayed",)}, "add-greens", "grass-clippings"),
        ({"moisture": ("wet",), "texture": ("matted",), "holds": ("leaves", "hay-straw")}, "fork-in-browns", "straw"),
    ],
)
def test_no_cure_gives_more_of_what_caused_the_trouble(
    signs: dict[str, tuple[str, ...]], remedy: str, never: str
) -> None:
    dose = cure(diagnose(signs, KNOWLEDGE, shipped_diagnosis_engine()), remedy).dose
    assert dose is not None
    assert dose.material != never


def test_matted_leaves_are_mended_with_other_browns_than_those_on_hand() -> None:
    signs = {"moisture": ("wet",), "texture": ("matted",), "holds": ("leaves",)}
    household = Household("a test", held("6 sacks dry leaves, 1 sack straw"))
    found = diagnose(signs, KNOWLEDGE, shipped_diagnosis_engine(), household=household, went_in=held("1 bucket grass"))
    dose = cure(found, "fork-in-browns").dose
    assert dose is not None
    assert dose.material == "straw"

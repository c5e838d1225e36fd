"""Which checks come next, and in what order."""

from datetime import date

import pytest

from advisor.knowledge.load import shipped
from advisor.soil_counsel.asking import check_order, which_checks
from advisor.soil_counsel.checks import READERS
from advisor.soil_counsel.ground import BedTold, CheckTold, Ground, check_told

KNOWLEDGE = shipped()
TODAY = date(2027, 4, 3)


def told(text: str, on: date | None = None, bed: str = "A") -> CheckTold:
    return check_told(text, KNOWLEDGE, "test", bed, on)


def asked(*checks: CheckTold, today: date = TODAY, **facts: str | float) -> dict[str, str]:
    ground = Ground("test", beds=(BedTold("A", facts=tuple(facts.items())),), checks=checks)
    return dict(which_checks(ground, KNOWLEDGE, today))


def test_every_check_has_its_place_in_the_order() -> None:
    orders = check_order(KNOWLEDGE, "soil"), check_order(KNOWLEDGE, "compost")
    assert sorted(orders[0] + orders[1]) == sorted(READERS)
    assert orders[0].index("looks") < orders[0].index("spade") < orders[0].index("ring") < orders[0].index("laboratory")


def test_soil_that_nobody_has_checked() -> None:
    """Common practice: eyes and spade first; no laboratory before there is a reason for one."""
    first = [name for name, _ in which_checks(Ground("nothing yet"), KNOWLEDGE, TODAY)]
    assert first[:3] == ["looks", "spade", "worms"]
    assert "laboratory" not in first
    assert first == list(asked())


def test_a_year_later_in_the_same_month() -> None:
    once = told("spade scores=2 depths=20", date(2026, 4, 1))
    assert "a year ago; now, as in April then" in asked(once)["spade"]
    assert "spade" not in asked(once, today=date(2026, 9, 1))


def test_a_year_later_in_another_month_it_waits() -> None:
    names = asked(told("spade scores=2 depths=20", date(2026, 4, 1)), today=date(2027, 10, 1))
    assert "best done again in April" in names["spade"]
    assert list(names)[-1] == "spade"


def test_december_and_january_are_one_season() -> None:
    names = asked(told("ring width=15 water=444 ml minutes=20 25", date(2025, 12, 20)), today=date(2027, 1, 10))
    assert "the two compare" in names["ring"]


@pytest.mark.parametrize(
    ("check", "facts", "name", "word"),
    [
        ("spade scores=3.4 depths=20", {}, "ring", "pressed tight"),
        ("weeds names=moss", {}, "laboratory", "lime"),
        ("looks seen=crust", {}, "slake", "crust"),
        ("looks seen=puddles", {}, "percolation", "soaked hole"),
        ("ring width=15 water=444 ml minutes=500 600", {}, "spade", "sealed on top"),
        ("spade scores=5 depths=20", {}, "jar", "clay, silt or sand"),
        ("looks seen=earthy-smell", {"place": "road"}, "laboratory", "lead"),
        ("looks seen=earthy-smell", {"dressed_years": 4.0}, "laboratory", "phosphorus"),
    ],
)
def test_what_the_advice_hangs_on_comes_first(check: str, facts: dict[str, str | float], name: str, word: str) -> None:
    found = asked(told(check, TODAY), **facts)
    assert word in found[name]
    assert name in list(found)[:2]


def test_what_was_measured_is_not_asked_for() -> None:
    assert "laboratory" not in asked(told("laboratory lead=20", TODAY), place="road")
    assert "jar" not in asked(told("texture sand=40 silt=40 clay=20"), told("spade scores=5 depths=20"))


def test_beds_that_differ_are_named() -> None:
    beds = (BedTold("A"), BedTold("B"))
    ground = Ground("test", beds=beds, checks=(told("spade scores=2 depths=20", TODAY, "B"),))
    found = which_checks(ground, KNOWLEDGE, TODAY)
    assert (
        "spade",
        "A: never done here, and it shows how the soil is built: crumbs or lumps, and where roots go",
    ) in found
    assert all(name != "spade" for name, _ in which_checks(ground, KNOWLEDGE, TODAY, bed="B"))
    with pytest.raises(KeyError):
        which_checks(ground, KNOWLEDGE, TODAY, bed="C")

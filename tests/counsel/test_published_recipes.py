"""Recipes in print, computed: some bear out their claim, some do not, and each case says which and why."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from advisor.blend.spread import Portion, figures
from advisor.knowledge.load import shipped

CASES = tomllib.loads((Path(__file__).parent / "proportion_cases.toml").read_text(encoding="utf-8"))["case"]

# Acceptable windows: The Art and Science of Composting, University of Wisconsin CIAS (2002), Table 1.
CARBON_NITROGEN, MOISTURE_PCT = (20, 40), (40, 65)


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_what_the_arithmetic_finds_of_a_published_recipe(case: dict) -> None:
    materials = shipped().materials
    blend = figures([Portion(name, materials[name], float(parts), "L") for name, parts in case["parts"].items()])
    found = []
    if blend.carbon_nitrogen.typical < CARBON_NITROGEN[0]:
        found.append("too green")
    if blend.carbon_nitrogen.typical > CARBON_NITROGEN[1]:
        found.append("too brown")
    if blend.moisture_pct.typical > MOISTURE_PCT[1]:
        found.append("too wet")
    if blend.moisture_pct.typical < MOISTURE_PCT[0]:
        found.append("too dry")
    assert found == case["finds"]
    # A claim that the figures contradict says so, with the reason.
    assert case["agrees"] or case.get("because")
    if found and case["agrees"]:
        assert case["because"]


def test_worms_to_daily_scraps_by_weight() -> None:
    """Two counties (Asotin and Grand Traverse, Worm composting) print 2 : 1; a garden article 1 : 0.5 to 1."""
    ratio = shipped().figures["worms-per-daily-scraps"]
    assert ratio.typical == 2
    assert ratio.low <= 1 / 1


def test_ash_no_thicker_than_printed() -> None:
    """A question-and-answer column allows 3 mm of wood ash to 23 cm of compost; ours is no bolder than that."""
    caps = [c.value for rule in shipped().rules if rule.id == "ash-in-pinches" for c in rule.then]
    assert caps and all(float(cap) <= 100 * 0.3 / 23 for cap in caps)

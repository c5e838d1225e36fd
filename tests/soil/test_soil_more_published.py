"""Further published figures: towns' limits, worm bins, an old pit's days, degrees, seed rates, charcoal, surpluses."""

import pytest

from advisor.blend.shapes import Range
from advisor.heap.town_limits import by_lot_litres, cubic_feet, side_for_litres, strictest_litres
from advisor.heap.worms import worm_bin
from advisor.knowledge.load import shipped
from advisor.knowledge.shapes import Figure
from advisor.soil.sanitising import Reading, recorded
from advisor.soil.spreading import dressing, share_of_soil_kg
from advisor.soil_counsel.ground import BedTold, Ground
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.spread import spread_answer
from advisor.units import CUBIC_FOOT_L, FOOT_M, POUND_KG, fill, temperature_text

FIGURES = shipped().figures
FT2 = FOOT_M**2

KNOWLEDGE = shipped()


# ---------------------------------------------------------------- towns


@pytest.mark.parametrize(("lot_ft2", "ft3"), [(5_000, 150), (10_000, 150), (19_999, 150), (20_000, 300), (25_000, 300)])
def test_a_code_that_goes_by_the_lot(lot_ft2: float, ft3: float) -> None:
    """150 ft3 to 10,000 ft2 and 150 for each whole 10,000 more: 300 on 25,000 (town code, read; one reading of it)."""
    assert cubic_feet(by_lot_litres(lot_ft2 * FT2, FIGURES)) == pytest.approx(ft3, rel=1e-3)


def test_a_heap_of_five_feet_each_way_is_the_limit() -> None:
    """125 ft3 (Farmer City, Illinois, read)."""
    assert strictest_litres(FIGURES) == pytest.approx(5 * 5 * 5 * CUBIC_FOOT_L, rel=1e-3)
    assert side_for_litres(strictest_litres(FIGURES)) / FOOT_M == pytest.approx(5, rel=1e-3)


@pytest.mark.parametrize(("heap", "said"), [(1000.0, "within that"), (3700.0, "more than that")])
def test_heaps_beside_the_limit(heap: float, said: str) -> None:
    ground = Ground("t", heap_litres=heap, lot_m2=25_000 * FT2, beds=(BedTold("A", 4.0, wants="new"),))
    page = "\n".join(line.text for line in spread_answer(ground, shipped(), shipped_soil_engine(), units="us").lines())
    assert said in page
    assert "11 yd³ on yours" in page  # 300 ft3
    assert "Your own town's code" in page


def test_a_lot_of_no_size() -> None:
    with pytest.raises(ValueError, match="area"):
        by_lot_litres(0, FIGURES)


# ---------------------------------------------------------------- worms


def test_a_bin_for_seven_pounds_a_week() -> None:
    """A pound a day: 2 lb of worms; 7 ft3 by 1 lb/ft3 a week, 6 by its box of 2 x 3 x 1 ft; 3 to 4 ft3 of bedding to
    the pound of worms (Organic Gardener's Composting, read)."""
    weekly = 7 * POUND_KG
    made = worm_bin(Range(weekly, weekly, weekly), FIGURES)
    assert made.worms_kg.low / POUND_KG <= 2 <= made.worms_kg.high / POUND_KG
    assert made.litres.low <= 6 * CUBIC_FOOT_L < 7 * CUBIC_FOOT_L <= made.litres.high
    assert made.bedding_litres.low <= 6 * CUBIC_FOOT_L
    assert made.bedding_litres.high >= 8 * CUBIC_FOOT_L


# ---------------------------------------------------------------- heat

#: Days that a pit of the old Indian method spent in bands of 5 °C (Organic Gardener's Composting, read).
INDORE = ((65, 60, 4), (60, 55, 7), (55, 50, 1), (50, 45, 25), (45, 40, 2), (40, 35, 44), (35, 30, 14))


def test_an_old_pit_beside_todays_rules() -> None:
    """97 days, turned at about days 16, 30 and 60. By its bands it spent 11 days at 55 °C or more: the numbers of the
    French rule (72 hours, three turnings, three weeks) and of 3 days at 60, not those of two weeks at 55."""
    readings: list[Reading] = []
    for _, low, days in INDORE:
        readings += [Reading(len(readings) + day, low) for day in range(days)]
    assert len(readings) == 97 == sum(days for *_, days in INDORE)
    found = {one.rule.id: one for one in recorded(readings, (16, 30, 60), rules=KNOWLEDGE.heat_rules)}
    assert found["fr-turned"].reached
    assert found["us-lesser"].reached
    assert not found["de-55"].reached and found["de-55"].days == 11
    assert not found["us-windrow"].reached


@pytest.mark.parametrize(("fahrenheit", "celsius"), [(131, 55.0), (170, 76.7), (110, 43.3), (140, 60.0), (160, 71.1)])
def test_degrees_of_the_rules(fahrenheit: float, celsius: float) -> None:
    """7 CFR 205.203, a farm practice sheet (both read) and the seed-kill rule of thumb, 60 °C (derived)."""
    assert temperature_text(celsius, "us") == f"{fahrenheit} °F"
    assert fill(f"{{{celsius} C}}", {}, "us") == f"{fahrenheit} °F"


def test_the_seed_rule_wants_heat_between_turnings() -> None:
    """60 °C (140 °F) for 3 days, several times with a turning between (general extension figures, memory)."""
    rule = next(rule for rule in KNOWLEDGE.heat_rules if rule.id == "home-seeds")
    hot = [Reading(day, 61) for day in range(12)]
    assert recorded(hot, (4, 8), rules=[rule])[0].reached
    assert recorded(hot, (4,), rules=[rule])[0].lacks == ("1 more time of 3 days",)
    assert recorded(hot, (1, 11), rules=[rule])[0].lacks == ("2 more times of 3 days",)
    assert not recorded([Reading(day, 59) for day in range(12)], (4, 8), rules=[rule])[0].reached


def test_the_lesser_rule_wants_four_hours_of_real_heat() -> None:
    """40 °C for 5 days, over 55 °C for 4 hours in that time (40 CFR 503 appendix B, memory)."""
    rule = next(rule for rule in KNOWLEDGE.heat_rules if rule.id == "us-lesser")
    warm = [Reading(day, 42) for day in range(5)]
    assert recorded(warm, rules=[rule])[0].lacks == ("4 more hours at 55 °C",)
    assert recorded([*warm, Reading(2.1, 56), Reading(2.3, 56)], rules=[rule])[0].reached


def test_what_does_not_sanitise_is_not_counted_as_heat() -> None:
    from advisor.soil_counsel.checks import read_check
    from advisor.soil_counsel.ground import check_told

    check = check_told("heat days=1 2 3 4 5 degrees=56 56 56 45 45", shipped(), "t", "", None)
    read = read_check("heat", check.values, shipped(), "metric")
    assert read.word == "missed"
    assert any(one.reached for one in read.heat)


# ---------------------------------------------------------------- seed and charcoal


@pytest.mark.parametrize(
    ("crop", "pounds", "grams", "ounces"),
    [
        ("hairy-vetch", (25, 40), (2.8, 4.5), (0.9, 1.5)),
        ("red-clover", (10, 12), (1.1, 1.3), (0.4, 0.4)),
        ("barley", (80, 125), (9.0, 14.0), (2.9, 4.6)),
        ("mustard", (10, 15), (1.1, 1.7), (0.4, 0.6)),
        ("tillage-radish", (10, 20), (1.1, 2.2), (0.4, 0.7)),
        ("cowpeas", (70, 120), (7.8, 13.5), (2.6, 4.4)),
        ("buckwheat", (50, 90), (5.6, 10.1), (1.8, 3.3)),
    ],
)
def test_field_rates(
    crop: str, pounds: tuple[float, float], grams: tuple[float, float], ounces: tuple[float, float]
) -> None:
    """Managing Cover Crops Profitably, chart 3 (memory): lb/acre broadcast, in g to the m2 and oz to 100 ft2."""
    rates = shipped().green_manures[crop].grams_per_m2
    published = next(one for one in rates.published if one.source == "cover-crops-profitably")
    acre_m2 = 43_560 * FT2
    assert (published.low, published.high) == pytest.approx(grams, abs=0.05)
    assert tuple(pound * POUND_KG * 1000 / acre_m2 for pound in pounds) == pytest.approx(grams, abs=0.06)
    assert tuple(pound * 16 / 435.6 for pound in pounds) == pytest.approx(ounces, abs=0.06)
    assert rates.low <= published.low and published.high <= rates.high


def test_a_little_charcoal() -> None:
    """0.1 % of 15 cm of soil at 1.3 is 0.2 kg/m2, 2 t/ha (biochar review, read: 1 to 2 t/ha can already help)."""
    assert share_of_soil_kg(0.1, 1, 15, FIGURES).typical * 10 == pytest.approx(1.95)


# ---------------------------------------------------------------- a table that does not add up, and a ceiling


def test_savings_printed_beside_a_need_of_65_fit_a_need_of_70() -> None:
    """RB209 example 2.5 (read): of 90 P2O5 and 204 K2O at 60p a kg, with a need of 65 and 95, 96 pounds are used and 80
    left; printed are 99 and 77, which a need of 70 gives."""
    for need, used, left in ((65, 96.0, 80.4), (70, 99.0, 77.4)):
        assert 0.60 * (need + 95) == pytest.approx(used)
        assert 0.60 * ((90 - need) + (204 - 95)) == pytest.approx(left)


def test_the_german_ceiling_by_the_year() -> None:
    """20 and 30 t of dry matter in three years are 1.9 and 2.8 mm a year at 600 kg/m3 and 60 % dry (biowaste ordinance,
    read; density assumed)."""
    for tonnes, mm in ((20, 1.9), (30, 2.8)):
        fixed = {"compost-kg-per-m3": 600.0, "compost-dry-matter-pct": 60.0}
        figures = {**FIGURES, **{name: _just(FIGURES[name], value) for name, value in fixed.items()}}
        made = dressing(1, mm / 10, figures)
        assert made.dry_kg_m2.typical * 3 * 10 == pytest.approx(tonnes, rel=0.03)


def _just(figure: Figure, value: float) -> Figure:
    return Figure(low=value, typical=value, high=value, published=figure.published)

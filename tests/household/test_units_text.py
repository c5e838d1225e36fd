"""Figures for people, and the units behind them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from advisor import units
from advisor.units import (
    area_text,
    fields,
    figure_text,
    fill,
    length_text,
    mass_text,
    temperature_text,
    volume_text,
)

# The reference: scipy.constants, which takes the units from their definitions.
DEFINED = {
    "INCH_M": constants.inch,
    "FOOT_M": constants.foot,
    "YARD_M": constants.yard,
    "POUND_KG": constants.pound,
    "OUNCE_KG": constants.ounce,
    "SHORT_TON_KG": constants.short_ton,
    "LONG_TON_KG": constants.long_ton,
    "GALLON_L": constants.gallon * 1000,
    "IMPERIAL_GALLON_L": constants.gallon_imp * 1000,
    "FLUID_OUNCE_L": constants.fluid_ounce * 1000,
    "CUBIC_FOOT_L": constants.foot**3 * 1000,
    "CUBIC_YARD_L": constants.yard**3 * 1000,
}


@pytest.mark.parametrize("name", DEFINED)
def test_a_unit_is_worth_what_its_definition_says(name: str) -> None:
    assert getattr(units, name) == pytest.approx(DEFINED[name], rel=1e-12)


@pytest.mark.parametrize(
    ("litres", "metric", "us"),
    [
        (0, "0 L", "0 gal"),
        (0.02, "20 ml", "0.7 fl oz"),
        (0.25, "250 ml", "1 cup"),
        (0.5, "500 ml", "2 cups"),
        (0.999, "1 L", "1 qt"),
        (3.5, "3.5 L", "3.5 qt"),
        (5, "5 L", "1.5 gal"),
        (20, "20 L", "5 gal"),
        (23, "23 L", "6 gal"),
        (237, "240 L", "63 gal"),
        (764.555, "760 L", "1 yd³"),
        (999, "1 m³", "1.3 yd³"),
        (1160, "1.2 m³", "1.5 yd³"),
        (24_000, "24 m³", "31 yd³"),
    ],
)
def test_volumes(litres: float, metric: str, us: str) -> None:
    assert (volume_text(litres, "metric"), volume_text(litres, "us")) == (metric, us)


@pytest.mark.parametrize(
    ("kg", "metric", "us"),
    [
        (0, "0 kg", "0 lb"),
        (0.02, "20 g", "0.7 oz"),
        (0.45, "450 g", "1 lb"),
        (1, "1 kg", "2.2 lb"),
        (12, "12 kg", "26 lb"),
        (907.18474, "910 kg", "1 ton"),
        (1200, "1.2 t", "1.3 tons"),
    ],
)
def test_weights(kg: float, metric: str, us: str) -> None:
    assert (mass_text(kg, "metric"), mass_text(kg, "us")) == (metric, us)


@pytest.mark.parametrize(
    ("metres", "metric", "us"),
    [
        (0, "0 m", "0 ft"),
        (0.005, "5 mm", "0.2 in"),
        (0.025, "2.5 cm", "1 in"),
        (0.15, "15 cm", "6 in"),
        (0.5, "50 cm", "20 in"),
        (1, "1 m", "3 ft"),
        (1.2, "1.2 m", "4 ft"),
        (1.37, "1.4 m", "4.5 ft"),
        (1.5, "1.5 m", "5 ft"),
        (10, "10 m", "33 ft"),
    ],
)
def test_lengths(metres: float, metric: str, us: str) -> None:
    assert (length_text(metres, "metric"), length_text(metres, "us")) == (metric, us)


@pytest.mark.parametrize(("celsius", "fahrenheit"), [(0, 32), (37, 99), (55, 131), (60, 140), (71, 160), (100, 212)])
def test_temperatures(celsius: float, fahrenheit: int) -> None:
    """55 °C is the 131 °F of the sanitising rules of the US EPA (40 CFR 503, Appendix B; from memory)."""
    assert temperature_text(celsius, "metric") == f"{celsius} °C"
    assert temperature_text(celsius, "us") == f"{fahrenheit} °F"


def test_areas() -> None:
    assert area_text(1.44, "metric") == "1.4 m²"
    assert area_text(1.44, "us") == "16 ft²"


def test_bare_figures_have_no_trailing_noughts() -> None:
    assert [figure_text(value) for value in (2.0, 0.5, 1200.0, 1e6, 0.0)] == ["2", "0.5", "1200", "1000000", "0"]


# Each unit as it is printed, in litres, kg or metres: what reading a text back goes by.
_WORTH = {
    "ml": 0.001,
    "L": 1.0,
    "m³": 1000.0,
    "fl oz": constants.fluid_ounce * 1000,
    "cup": constants.gallon * 1000 / 16,
    "cups": constants.gallon * 1000 / 16,
    "qt": constants.gallon * 1000 / 4,
    "gal": constants.gallon * 1000,
    "yd³": constants.yard**3 * 1000,
    "g": 0.001,
    "kg": 1.0,
    "t": 1000.0,
    "oz": constants.ounce,
    "lb": constants.pound,
    "ton": constants.short_ton,
    "tons": constants.short_ton,
    "mm": 0.001,
    "cm": 0.01,
    "m": 1.0,
    "in": constants.inch,
    "ft": constants.foot,
}
SYSTEMS = st.sampled_from(["metric", "us"])


def _read_back(text: str) -> float:
    figure, sign = text.split(" ", 1)
    return float(figure) * _WORTH[sign]


@given(litres=st.floats(0.01, 1e6), system=SYSTEMS)
def test_a_volume_read_back_is_near_enough(litres: float, system: units.Units) -> None:
    """Within a quarter at the coarsest step (half a cup, half a quart), and within a tenth from 10 L up."""
    back = _read_back(volume_text(litres, system))
    assert back == pytest.approx(litres, rel=0.1 if litres >= 10 else 0.26)


@given(kg=st.floats(0.01, 1e5), system=SYSTEMS)
def test_a_weight_read_back_is_near_enough(kg: float, system: units.Units) -> None:
    assert _read_back(mass_text(kg, system)) == pytest.approx(kg, rel=0.15 if kg < 0.03 else 0.06)


@given(metres=st.floats(0.01, 100), system=SYSTEMS)
def test_a_length_read_back_is_near_enough(metres: float, system: units.Units) -> None:
    back = _read_back(length_text(metres, system))
    assert back == pytest.approx(metres, rel=0.1 if metres >= 0.1 else 0.34)


@given(litres=st.floats(0, 1e6), more=st.floats(0, 1e6), system=SYSTEMS)
def test_more_never_reads_as_less(litres: float, more: float, system: units.Units) -> None:
    one, other = volume_text(litres, system), volume_text(litres + more, system)
    assert _read_back(one) <= _read_back(other) * (1 + 1e-9)


# ---------------------------------------------------------------- templates


@pytest.mark.parametrize(
    ("template", "metric", "us"),
    [
        ("{15 cm}", "15 cm", "6 in"),
        ("{10-20 cm}", "10–20 cm", "4–8 in"),
        ("{50-100 cm}", "50–100 cm", "1.5–3 ft"),
        ("{55 C}", "55 °C", "131 °F"),
        ("{55-65 C}", "55–65 °C", "131–149 °F"),
        ("{1 m}", "1 m", "3 ft"),
        ("{1.2 m}", "1.2 m", "4 ft"),
        ("{0.76 m3}", "0.76 m³", "1 yd³"),
        ("{20 L}", "20 L", "5 gal"),
        ("{1-2 L}", "1–2 L", "1–2 qt"),
        ("{20 g}", "20 g", "0.7 oz"),
        ("{5 kg}", "5 kg", "11 lb"),
        ("{5kg}", "5 kg", "11 lb"),
        ("{2 m2}", "2 m²", "22 ft²"),
        ("{6 mm}", "6 mm", "0.2 in"),
        ("no braces", "no braces", "no braces"),
    ],
)
def test_quantities_in_a_template_are_shown_in_the_chosen_units(template: str, metric: str, us: str) -> None:
    assert fill(template, {}, "metric") == metric
    assert fill(template, {}, "us") == us


def test_a_template_is_filled() -> None:
    template = "Add {water} of water in {cans}, until {55 C} is held for {days}; {water} is a guess."
    figures = {"water": "6 gal", "cans": "three cans", "days": "3 days", "spare": "unused"}
    assert fill(template, figures, "us") == (
        "Add 6 gal of water in three cans, until 131 °F is held for 3 days; 6 gal is a guess."
    )
    assert fields(template) == ("water", "cans", "days")


def test_a_ready_text_is_not_filled_again() -> None:
    assert fill("{a}", {"a": "{b} {15 cm}"}, "us") == "{b} {15 cm}"


def test_an_unknown_field_is_named() -> None:
    with pytest.raises(KeyError) as caught:
        fill("Add {wter}.", {"water": "6 gal"}, "us")
    assert caught.value.args == ("wter",)


@pytest.mark.parametrize(
    ("template", "message"),
    [
        (
            "{15 parsecs}",
            "'{15 parsecs}' is neither a field nor a quantity (units: ml, L, m3, g, kg, t, mm, cm, m, C, m2)",
        ),
        ("{}", "'{}' is neither a field nor a quantity (units: ml, L, m3, g, kg, t, mm, cm, m, C, m2)"),
        ("{15 cm", "a brace without its partner in '{15 cm'"),
        ("15 cm}", "a brace without its partner in '15 cm}'"),
    ],
)
def test_a_faulty_template_says_what_is_wrong(template: str, message: str) -> None:
    for check in (lambda: fields(template), lambda: fill(template, {}, "metric"), lambda: fill(template, {}, "us")):
        with pytest.raises(ValueError) as caught:
            check()
        assert str(caught.value) == message

"""What people tell of a check, in options and files, read into SI units or refused in one line."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.errors import HouseholdError
from advisor.household.measuring import Kind, read_figures
from advisor.knowledge.load import shipped
from advisor.papers.ground import guide_page
from advisor.places import scenarios_folder
from advisor.soil_counsel.checks import read_check
from advisor.soil_counsel.ground import area_m2, bed_told, check_told, length_cm, month_day, read_ground
from advisor.soil_counsel.inputs import read_check_text, read_values
from advisor.units import fields, fill

KNOWLEDGE = shipped()
GUIDES = KNOWLEDGE.guides


def test_a_check_in_one_line() -> None:
    kind, told = read_check_text("ring width=6 in water=444 ml minutes=12.5 14", GUIDES, "--check")
    assert (kind, told) == ("ring", {"width": "6 in", "water": "444 ml", "minutes": "12.5 14"})
    values = read_values(told, GUIDES["ring"], "--check")
    assert values["width"] == pytest.approx((152.4,))
    assert values["water"] == pytest.approx((0.444,))
    assert values["minutes"] == (12.5, 14.0)
    assert values["left"] == (0.0,)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("10 15 cm", (100, 150)),
        ("4 in, 6 in", (101.6, 152.4)),
        ("8", (80,)),
        ('3" 50 mm', (76.2, 50)),
        ("0.5 ft", (152.4,)),
    ],
)
def test_depths_in_any_unit(text: str, mm: tuple[float, ...]) -> None:
    scores = [1] * len(mm)
    assert read_values({"scores": scores, "depths": text}, GUIDES["spade"], "x")["depths"] == pytest.approx(mm)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("rong width=6 in", "did you mean 'ring'"),
        ("ring widht=6 in water=1 L minutes=3", "did you mean 'width'"),
        ("ring width=6 in minutes=3", "needs 'water'"),
        ("ring width=6 parsecs water=1 L minutes=3", "no length"),
        ("ring width=6 in water=1 kg minutes=3", "weight"),
        ("ring width=6 in water=1 L minutes=soon", "no number"),
        ("ring 6 inches", "belongs to nothing"),
        ("bag smell=roses", "none of the words"),
        ("worms counts=1e99", "no number"),
        ("hole hours=3 4", "one value"),
    ],
)
def test_refusals_say_what_and_the_nearest_right_thing(text: str, said: str) -> None:
    with pytest.raises(HouseholdError, match=said):
        check_told(text, KNOWLEDGE, "--check", "A", None)


@pytest.mark.parametrize(
    "text",
    [
        "spade scores=2 4 depths=10 cm",
        "spade scores=7 depths=10 cm",
        "jar sand=3 silt=2 top=4",
        "texture sand=50 silt=50 clay=50",
        "ring width=6 in water=444 ml minutes=0",
        "slake left=120",
        "slake soft=0",
        "laboratory ph=40",
        "laboratory",
        "cress sown=10 sprouted=12 roots=20 control_sprouted=10 control_roots=20",
        "cress sown=10 sprouted=8 roots=20 control_sprouted=0 control_roots=0",
        "heat days=1 2 degrees=60",
        "worms counts=-3",
    ],
)
def test_figures_that_cannot_be_are_one_line(text: str) -> None:
    with pytest.raises(HouseholdError) as caught:
        check = check_told(text, KNOWLEDGE, "--check", "A", None)
        read_check(check.guide, check.values, KNOWLEDGE, "metric")
    assert "\n" not in str(caught.value)


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    for kind in ("ring", "spade", "laboratory", "weeds"):
        try:
            check = check_told(f"{kind} {text}", KNOWLEDGE, "--check", "A", None)
            read_check(check.guide, check.values, KNOWLEDGE, "us")
        except HouseholdError as error:
            assert len(str(error)) > 10


def test_a_bed_in_one_line() -> None:
    bed = bed_told("A, 1.2 x 6 m, wants new, crops cabbages, step 2, place road", KNOWLEDGE, "--bed")
    assert (bed.name, bed.area_m2, bed.wants, bed.crops, bed.step) == ("A", pytest.approx(7.2), "new", ("cabbages",), 2)
    assert ("place", "road") in bed.facts


@pytest.mark.parametrize(
    "text",
    ["", "A, 0 m2", "A, wants gold", "A, 3 m2, step 9", "A, 3 m2, crops unicorns", "A, 3 m2, 4 m2", "A, depth deep"],
)
def test_beds_that_cannot_be(text: str) -> None:
    with pytest.raises(HouseholdError):
        bed_told(text, KNOWLEDGE, "--bed")


def test_days_and_depths() -> None:
    assert month_day("04-20", "x") == (4, 20)
    assert length_cm("0.5 in", "x") == pytest.approx(1.27)
    assert area_m2("4 x 8 ft", "x") == pytest.approx(2.973, abs=1e-3)
    assert month_day("20 April", "x") == month_day("apr 20", "x") == month_day("20. Apr", "x") == (4, 20)
    for wrong in ("20 Brumaire", "13-01", "02-31", "31 June", "never"):
        with pytest.raises(HouseholdError):
            month_day(wrong, "x")


# ---------------------------------------------------------------- files


def test_the_shipped_grounds_read() -> None:
    files = sorted((scenarios_folder() / "soil").glob("*.toml"))
    assert [path.stem for path in files] == ["allotment-six-beds", "dead-clay", "sand-too-much-phosphorus"]
    for path in files:
        ground = read_ground(path, KNOWLEDGE)
        assert ground.beds and ground.checks and ground.last_frost


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("nmae = 'x'", "no 'nmae' here"),
        ("last_frost = '04-20'", "go together"),
        ("last_frost = '04-20'\nfirst_frost = '04-20'", "two days"),
        ("[[bed]]\nname = 'A'\n[[bed]]\nname = 'A'", "one name"),
        ("[[bed]]\narea = '3 m2'", "has a name"),
        ("[[bed]]\nname = 'A'\n[[check]]\nbed = 'B'\nkind = 'hole'\nhours = 3", "no bed 'B'"),
        ("[[bed]]\nname = 'A'\n[[check]]\nkind = 'hole'\nhours = 3\non = 'May'", "not a date"),
        ("[[bed]]\nname = 'A'\n[[check]]\nkind = 'hole'\nhuors = 3", "did you mean 'hours'"),
        ("[heap]\nmethod = 'magic'", "no method"),
        ("bed = 3", "list of tables"),
        ("heap = 3", "is a table"),
        ("name = ", "not TOML"),
        ("[[bed]]\nname = 'A'\ndressed_years = -1", "number of years"),
    ],
)
def test_files_that_cannot_be(text: str, said: str, tmp_path: Path) -> None:
    path = tmp_path / "plot.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(HouseholdError, match=said) as caught:
        read_ground(path, KNOWLEDGE)
    assert "plot.toml" in str(caught.value)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(HouseholdError, match="no such file"):
        read_ground(tmp_path / "nowhere.toml", KNOWLEDGE)


def test_the_documented_file_is_read(tmp_path: Path) -> None:
    """The example in the module's own words is a file that reads."""
    import textwrap

    from advisor.soil_counsel import ground

    text = textwrap.dedent((ground.__doc__ or "").split(":\n", 1)[1])
    path = tmp_path / "plot.toml"
    path.write_text(text, encoding="utf-8")
    told = read_ground(path, KNOWLEDGE)
    assert told.bed("A").depth_cm == 2
    assert told.checks[0].values["minutes"] == (12.0, 14.5)


# ---------------------------------------------------------------- guides


@pytest.mark.parametrize("name", GUIDES)
def test_guides_can_be_shown_in_both_unit_systems(name: str) -> None:
    guide = GUIDES[name]
    for text in (guide.about, guide.when, *guide.needs, *guide.steps):
        assert fields(text) == ()
        for units in ("metric", "us"):
            assert "{" not in fill(text, {}, units)


@pytest.mark.parametrize("name", GUIDES)
def test_words_of_a_guide_are_words_of_its_facts(name: str) -> None:
    guide = GUIDES[name]
    kind = KNOWLEDGE.kinds["check" if guide.of == "soil" else "finish"]
    for asked in guide.inputs.values():
        known = {word for attribute in kind.attributes.values() for word in attribute.words}
        meant = asked.words.values() if name == "weeds" else asked.words
        if name != "heat":
            assert set(meant) <= known


# ---------------------------------------------------------------- degrees


@pytest.mark.parametrize(
    ("text", "celsius"),
    [("55 60.5", (55, 60.5)), ("131 F", (55,)), ("131 140 F", (55, 60)), ("55 C, 140°F", (55, 60)), ("-2", (-2,))],
)
def test_degrees_of_either_kind(text: str, celsius: tuple[float, ...]) -> None:
    days = list(range(len(celsius)))
    assert read_values({"days": days, "degrees": text}, GUIDES["heat"], "x")["degrees"] == pytest.approx(celsius)


@pytest.mark.parametrize(
    ("text", "said"), [("140", "140 F"), ("hot", "no temperature"), ("400 F", "no heap"), ("55 K", "no temp")]
)
def test_degrees_that_cannot_be(text: str, said: str) -> None:
    with pytest.raises(HouseholdError, match=said):
        read_values({"days": [1], "degrees": text}, GUIDES["heat"], "x")


# ---------------------------------------------------------------- the units in use


@pytest.mark.parametrize(
    ("text", "said"),
    [
        # Geometry: a block of 8 in each way is 0.444 square feet, so 8 worms are 18 to the square foot. Below 10 to a
        # spade's block are few (Earthworm monitoring advice, UK, read; as in published_classes.toml).
        ("worms counts=8 side=8", "18 earthworms to the square foot, or 8 to a block of 8 in each way: few"),
        ("worms counts=8 side=20 cm", "8 to a block of 8 in each way: few"),
        # 1 to 3 in an hour are fine (Percolation test for homeowners, Canada, read).
        ("percolation fell=2 hours=1", "2 in an hour: fine"),
        ("percolation fell=2 hours=60 min", "2 in an hour: fine"),
        # Geometry: 463 ml are an inch in a ring of 6 in. An inch in 12.5 minutes is 4.8 in an hour, which is
        # moderately rapid (USDA Soil Quality Test Kit Guide, from memory).
        ("ring width=6 water=463 ml minutes=12.5", "4.8 in an hour: moderately rapid"),
        ("ring width=6 water=463 ml minutes=750 s", "4.8 in an hour: moderately rapid"),
        # 2 US cups (NIST Handbook 44, Appendix C, from memory: 16 to the gallon) are 473 ml.
        ("ring width=6 water=2 cups minutes=12.5", "4.9 in an hour: moderately rapid"),
        # 18 F above the room are 10 C, class V; 36 F are 20 C, class IV (standardised self-heating test, from memory).
        ("flask room=68 peak=86", "18 °F above the room: class V"),
        ("flask room=68 peak=104", "36 °F above the room: class IV"),
    ],
)
def test_bare_figures_are_read_in_the_units_in_use(text: str, said: str) -> None:
    check = check_told(text, KNOWLEDGE, "--check", "A", None, "us")
    assert said in read_check(check.guide, check.values, KNOWLEDGE, "us").text


def test_what_a_guide_takes_for_granted_is_in_its_own_units() -> None:
    check = check_told("worms counts=8", KNOWLEDGE, "--check", "A", None, "us")
    assert check.values["side"] == (200.0,)  # mm: a spade's width, as rules/guides.toml has it


def test_a_bare_figure_is_kept_with_the_unit_it_was_meant_in() -> None:
    told = read_check_text("worms counts=8 side=8", GUIDES, "--check", "us")[1]
    assert told == {"counts": "8", "side": "8 in"}
    assert read_check_text("worms counts=8 side=8", GUIDES, "--check")[1]["side"] == "8"


@pytest.mark.parametrize("name", GUIDES)
def test_a_guide_asks_in_the_units_in_which_it_reads(name: str) -> None:
    page = guide_page(GUIDES[name], units="us")
    written = page.split("Write down", 1)[1]
    assert not {"(cm)", "(mm)", "(°C)"} & set(written.split())


@pytest.mark.parametrize(
    ("text", "kind", "unit", "figures"),
    [
        ("five, seven and 2", "number", "", (5, 7, 2)),
        ("half", "number", "", (0.5,)),
        ("5 ft 6 in", "length", "cm", (1.6764,)),
        ("10 and 15 cm", "length", "in", (0.1, 0.15)),
        ("six inches", "length", "cm", (0.1524,)),
        ("2", "length", "in", (0.0508,)),
        ("a quarter of an acre", "area", "", (1011.714,)),
        ("131", "temperature", "°F", (55,)),
        ("a fortnight", "time", "", (14,)),
        ("3-4 weeks", "time", "", (24.5,)),
        ("3 sacks", "length", "cm", None),
        ("", "number", "", None),
    ],
)
def test_figures_in_any_words(text: str, kind: Kind, unit: str, figures: tuple[float, ...] | None) -> None:
    """Definitions: a foot is 0.3048 m, an inch 0.0254 m (international yard and pound, 1959)."""
    if figures is None:
        with pytest.raises(HouseholdError):
            read_figures(text, kind, unit, "t", "")
    else:
        assert read_figures(text, kind, unit, "t", "") == pytest.approx(figures)

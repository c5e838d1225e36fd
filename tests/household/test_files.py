"""Household files: what they may say, and the one clear line when they say something else."""

from __future__ import annotations

import os
import tomllib
from datetime import date
from pathlib import Path

import pytest
from scipy import constants

from advisor.errors import HouseholdError
from advisor.household.files import household_from_options, read_household, write_household
from advisor.household.shapes import Holding, Household, OwnMeasure, Quantity, Room
from advisor.knowledge.base import Knowledge

GOOD = """\
name = "Number nine"
about = "two people and a yard"
start = 2025-10-04
have = [
    "3 sacks dry leaves",
    "2 kitchen caddies kitchen scraps a week",
]

[place]
space = "garden"
container = ["closed-bin", "tumbler"]
room = "1.2 x 1.5 m"
holds = "300 L"

[wish]
aim = "steady"

[household]
animals = "hens"

[measures]
bucket = "12 L"
barrow = "20 gal"
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "home.toml"


def _error(file: Path, knowledge: Knowledge) -> str:
    """The message, without the folder the test happens to lie in."""
    with pytest.raises(HouseholdError) as caught:
        read_household(file, knowledge)
    message = str(caught.value)
    assert len(message.splitlines()) == 1
    assert message.startswith(str(file))
    return message.replace(str(file.parent) + os.sep, "")


def test_a_household_file_is_read_whole(file: Path, knowledge: Knowledge) -> None:
    file.write_text(GOOD, encoding="utf-8")
    assert read_household(file, knowledge) == Household(
        name="Number nine",
        about="two people and a yard",
        start=date(2025, 10, 4),
        holdings=(
            Holding("dry-leaves", Quantity(3, 3, 3, "sack"), "3 sacks dry leaves"),
            Holding(
                "kitchen-scraps",
                Quantity(2, 2, 2, "kitchen-caddy", "week"),
                "2 kitchen caddies kitchen scraps a week",
            ),
        ),
        answers={
            "place.space": ("garden",),
            "place.container": ("closed-bin", "tumbler"),
            "place.holds": (300.0,),
            "wish.aim": ("steady",),
            "household.animals": ("hens",),
        },
        room=Room(1.2, 1.5),
        measures={
            "bucket": OwnMeasure(12.0),
            "wheelbarrow": OwnMeasure(pytest.approx(20 * constants.gallon * 1000)),
        },
    )


def test_what_is_left_out_is_unknown(file: Path, knowledge: Knowledge) -> None:
    file.with_name("the_old-yard.toml").write_text("have = []\n", encoding="utf-8")
    assert read_household(file.with_name("the_old-yard.toml"), knowledge) == Household(name="the old yard")


@pytest.mark.parametrize("have", ['""', "[]", '"nothing"', '["none"]'])
def test_nothing_on_hand_can_be_said(have: str, file: Path, knowledge: Knowledge) -> None:
    file.write_text(f"have = {have}\n", encoding="utf-8")
    assert read_household(file, knowledge).holdings == ()


def test_a_list_in_one_text_will_do(file: Path, knowledge: Knowledge) -> None:
    file.write_text('have = "3 sacks leaves, a bucket and a half of grounds"\n', encoding="utf-8")
    assert [holding.material for holding in read_household(file, knowledge).holdings] == [
        "dry-leaves",
        "coffee-grounds",
    ]


def test_the_same_material_may_be_there_now_and_come_in_later(file: Path, knowledge: Knowledge) -> None:
    file.write_text('have = ["2 sacks grass", "1 barrow grass", "1 sack grass a week"]\n', encoding="utf-8")
    assert len(read_household(file, knowledge).holdings) == 3


def test_what_is_not_there_stays_told(file: Path, knowledge: Knowledge) -> None:
    file.write_text('have = ["no straw", "1 sack leaves"]\n', encoding="utf-8")
    straw = read_household(file, knowledge).holdings[0]
    assert (straw.material, straw.quantity) == ("straw", Quantity(0, 0, 0, "L"))


def test_a_byte_order_mark_and_windows_lines_do_no_harm(file: Path, knowledge: Knowledge) -> None:
    file.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert read_household(file, knowledge).name == "Number nine"


def test_dotted_keys_are_the_same_table(file: Path, knowledge: Knowledge) -> None:
    file.write_text('place.space = "flat"\n', encoding="utf-8")
    assert read_household(file, knowledge).answers == {"place.space": ("flat",)}


ROOMS = [
    ("1.2 x 1.2", Room(1.2, 1.2)),
    ("1.2 x 1.2 m", Room(1.2, 1.2)),
    ("1.2 x 1.2 x 1 m", Room(1.2, 1.2, 1.0)),
    ("1,2 × 1,5 m", Room(1.2, 1.5)),
    ("3 m by 2 m", Room(3, 2)),
    ("3m x 2m", Room(3, 2)),
    ("80 x 120 cm", Room(0.8, 1.2)),
    ("1.5 m x 80 cm", Room(1.5, 0.8)),
    ("4 x 6 ft", Room(4 * constants.foot, 6 * constants.foot)),
    ("4' x 6'", Room(4 * constants.foot, 6 * constants.foot)),
    ("3 x 2 yards", Room(3 * constants.yard, 2 * constants.yard)),
    ("36 x 36 in", Room(36 * constants.inch, 36 * constants.inch)),
    ("1 1/2 x 2 m", Room(1.5, 2)),
    ("none", Room(0, 0)),
]


@pytest.mark.parametrize(("said", "room"), ROOMS, ids=[row[0] for row in ROOMS])
def test_rooms(said: str, room: Room, file: Path, knowledge: Knowledge) -> None:
    file.write_text(f'place.room = "{said}"\n', encoding="utf-8")
    read = read_household(file, knowledge).room
    assert read is not None
    assert (read.length_m, read.width_m) == pytest.approx((room.length_m, room.width_m))
    assert read.height_m == room.height_m


@pytest.mark.parametrize(
    ("said", "square_metres"), [('"3 m2"', 3), ('"40 sq ft"', 40 * constants.foot**2), ('"2 m²"', 2), ("2.5", 2.5)]
)
def test_a_room_told_as_an_area(said: str, square_metres: float, file: Path, knowledge: Knowledge) -> None:
    file.write_text(f"place.room = {said}\n", encoding="utf-8")
    household = read_household(file, knowledge)
    assert household.room is None
    assert household.answers["place.room"] == pytest.approx((square_metres,))


@pytest.mark.parametrize(
    ("said", "litres"), [('"300 L"', 300), ('"80 gal"', 80 * constants.gallon * 1000), ('"1.2 m3"', 1200), ("220", 220)]
)
def test_what_a_container_holds(said: str, litres: float, file: Path, knowledge: Knowledge) -> None:
    file.write_text(f"place.holds = {said}\n", encoding="utf-8")
    assert read_household(file, knowledge).answers["place.holds"] == pytest.approx((litres,))


LEAVES = "3 sacks dry leaves"
ROOM = "write it as in '1.2 x 1.2 m', '1.2 x 1.2 x 1 m' with the height, '4 x 6 ft', '3 m2' or 'none'"
INSTEAD = "say it in buckets, sacks, litres or kg"
EXAMPLE = "write it as in '3 sacks dry leaves'"

#: What to change in the good file, into what, and the whole line that must come of it.
FAULTS = [
    # keys and tables
    ('name = "N', 'nmae = "N', "home.toml, line 1, nmae: no key 'nmae' (did you mean 'name'?)"),
    (
        'name = "N',
        'xyzzy = "N',
        "home.toml, line 1, xyzzy: no key 'xyzzy' "
        "(there are name, about, start, have, place, wish, household, measures, year, own)",
    ),
    ("[wish]", "[wihs]", "home.toml, line 15, wihs: no table 'wihs' (did you mean 'wish'?)"),
    ("space =", "spaec =", "home.toml, line 10, place.spaec: no key 'spaec' in [place] (did you mean 'space'?)"),
    (
        "space =",
        "narrowest =",
        "home.toml, line 10, place.narrowest: no key 'narrowest' in [place] (there are space, container, room, holds)",
    ),
    ('name = "Number nine"', "name = 9", "home.toml, line 1, name: name is a line of text"),
    ('name = "Number nine"', 'name = " "', "home.toml, line 1, name: name is a line of text"),
    ('"two people and a yard"', "[]", "home.toml, line 2, about: about is a line of text"),
    # answers
    ('"garden"', '"gardn"', "home.toml, line 10, place.space: 'gardn' is not an answer (did you mean 'garden'?)"),
    (
        '"garden"',
        '"castle"',
        "home.toml, line 10, place.space: 'castle' is not an answer (it may be flat, balcony, garden)",
    ),
    ('"garden"', "true", "home.toml, line 10, place.space: 'True' is not an answer (it may be flat, balcony, garden)"),
    (
        '"garden"',
        '["garden", "flat"]',
        "home.toml, line 10, place.space: takes one word, not several (it may be flat, balcony, garden)",
    ),
    (
        '"garden"',
        "[]",
        "home.toml, line 10, place.space: an empty list says nothing (leave the key out if it is unknown)",
    ),
    (
        '"tumbler"]',
        '"closed-bin"]',
        "home.toml, line 11, place.container: the same word is there twice",
    ),
    ('"tumbler"]', '"none"]', "home.toml, line 11, place.container: 'none' does not go with other words"),
    ('"hens"', '"hen"', "home.toml, line 19, household.animals: 'hen' is not an answer (did you mean 'hens'?)"),
    # room and container
    ("1.2 x 1.5 m", "big", f"home.toml, line 12, place.room: 'big' is not a room ({ROOM})"),
    ("1.2 x 1.5 m", "2 m", f"home.toml, line 12, place.room: '2 m' is not a room ({ROOM})"),
    ("1.2 x 1.5 m", "-1 x 2 m", f"home.toml, line 12, place.room: '-1 x 2 m' is not a room ({ROOM})"),
    ("1.2 x 1.5 m", "2 x 2 kg", f"home.toml, line 12, place.room: '2 x 2 kg' is not a room ({ROOM})"),
    (
        "1.2 x 1.5 m",
        "0 x 2 m",
        "home.toml, line 12, place.room: '0 x 2 m' cannot be a room "
        "(each side lies between 0 and 1000 m; 'none' if there is no ground at all)",
    ),
    (
        "1.2 x 1.5 m",
        "120 x 120",
        "home.toml, line 12, place.room: '120 x 120' is out of all bounds (it lies between 0 and 10000 m2)",
    ),
    (
        "300 L",
        "300 kg",
        "home.toml, line 13, place.holds: '300 kg' is a weight, not a volume "
        "(write how much room there is, as in '300 L' or '80 gal')",
    ),
    (
        "300 L",
        "plenty",
        "home.toml, line 13, place.holds: 'plenty' is not a volume (write it as in '300 L' or '80 gal')",
    ),
    (
        '"300 L"',
        "-5",
        "home.toml, line 13, place.holds: '-5' is out of all bounds (it lies between 0 and 100000 L)",
    ),
    ('"300 L"', "false", "home.toml, line 13, place.holds: 'False' is not a number (a size)"),
    # date
    ("2025-10-04", '"soon"', "home.toml, line 3, start: 'soon' is not a date (write it as in 2025-10-04)"),
    ("2025-10-04", '"2025-02-30"', "home.toml, line 3, start: '2025-02-30' is not a date (write it as in 2025-10-04)"),
    (
        "2025-10-04",
        "2025-10-04T08:00:00",
        "home.toml, line 3, start: '2025-10-04 08:00:00' is not a date (write it as in 2025-10-04)",
    ),
    # own measures
    (
        "bucket =",
        "buckte =",
        "home.toml, line 22, measures.buckte: no measure 'buckte' (did you mean 'bucket'?)",
    ),
    ("barrow =", "pail =", "home.toml, line 23, measures.pail: 'pail' is told twice"),
    (
        '"12 L"',
        "12",
        'home.toml, line 22, measures.bucket: a measure needs a size with its unit (as in bucket = "12 L")',
    ),
    (
        '"12 L"',
        '"0 L"',
        "home.toml, line 22, measures.bucket: '0 L' cannot be the size of a measure (it lies between 0 and 100000 L)",
    ),
    (
        '"12 L"',
        '"12 kg"',
        "home.toml, line 22, measures.bucket: '12 kg' is a weight, not a volume "
        "(write how much room there is, as in '300 L' or '80 gal')",
    ),
    # what is on hand
    (
        LEAVES,
        "3 sacks dry leavs",
        "home.toml, line 5, have: no material 'dry leavs' (did you mean dry-leaves?)",
    ),
    (
        LEAVES,
        "3 sacks manure",
        "home.toml, line 5, have: 'manure' can be more than one material "
        "(say horse-manure, cow-manure, hog-manure or hen-manure)",
    ),
    (
        LEAVES,
        "3 sacks zzz",
        "home.toml, line 5, have: no material 'zzz' (write it as in '3 sacks dry leaves')",
    ),
    (
        LEAVES,
        "3 sacks oatmeal",
        "home.toml, line 5, have: no material 'oatmeal' (the nearest are dry-leaves, oak-leaves or dog-waste)",
    ),
    (LEAVES, "3 sakcs leaves", "home.toml, line 5, have: '3 sakcs leaves': no measure 'sakcs' (did you mean sack?)"),
    (
        LEAVES,
        "3 parsecs of leaves",
        f"home.toml, line 5, have: '3 parsecs of leaves': no measure 'parsecs' ({INSTEAD})",
    ),
    (
        LEAVES,
        "3 m2 leaves",
        f"home.toml, line 5, have: '3 m2 leaves': 'm2' is an area, not a volume or a weight ({INSTEAD})",
    ),
    (
        LEAVES,
        "a dozen eggshells",
        f"home.toml, line 5, have: 'a dozen eggshells': 'a dozen' counts things and is not a volume ({INSTEAD})",
    ),
    (
        LEAVES,
        "-3 sacks leaves",
        "home.toml, line 5, have: '-3 sacks leaves': an amount cannot be less than nothing",
    ),
    (
        LEAVES,
        "99999 sacks leaves",
        "home.toml, line 5, have: '99999 sacks leaves': this is more than any garden holds",
    ),
    (LEAVES, "leaves", f"home.toml, line 5, have: 'leaves' does not say how much ({EXAMPLE})"),
    (LEAVES, "3 sacks", f"home.toml, line 5, have: '3 sacks' does not say of what ({EXAMPLE})"),
    (LEAVES, ",", f"home.toml, line 5, have: ',' names nothing ({EXAMPLE})"),
    (
        LEAVES,
        "no manure",
        "home.toml, line 5, have: no single material is called 'manure' (leave out what is not there)",
    ),
    (
        LEAVES,
        "3 sacks leaves (oak)",
        "home.toml, line 5, have: 'oak' is not understood in '3 sacks leaves (oak)' "
        "(put a comma between two materials, and say only amount, material and how often)",
    ),
    (
        LEAVES,
        "20 sacks leaves a year",
        "home.toml, line 5, have: '20 sacks leaves a year': what comes once a year comes at once "
        "(say how much there is now, or how much comes a week or a month)",
    ),
    (
        '"2 kitchen caddies kitchen scraps a week"',
        '"1 sack leaves"',
        "home.toml, line 6, have: '1 sack leaves' is told twice (add the two up, or tell them in different measures)",
    ),
    (
        f'"{LEAVES}"',
        "3",
        "home.toml, line 4, have: '3' is not an item in words (write it as in have = [\"3 sacks dry leaves\"])",
    ),
    # entries written out
    (
        f'"{LEAVES}"',
        '{ material = "dry-leavs", count = 1, measure = "sack" }',
        "home.toml, line 5, have: no material 'dry-leavs' (did you mean 'dry-leaves'?)",
    ),
    (
        f'"{LEAVES}"',
        '{ material = "dry-leaves", cuont = 1, measure = "sack" }',
        "home.toml, line 5, have: no key 'cuont' in an entry (did you mean 'count'?)",
    ),
    (
        f'"{LEAVES}"',
        '{ material = "dry-leaves", measure = "sack" }',
        "home.toml, line 5, have: an entry needs 'count' as a number "
        "(there are material, count, measure, low, high, per, packed, said)",
    ),
    (
        f'"{LEAVES}"',
        '{ material = "dry-leaves", count = -1, measure = "sack" }',
        "home.toml, line 5, have: count = -1 lies outside 0 to 1000000",
    ),
    (
        f'"{LEAVES}"',
        '{ material = "dry-leaves", count = 1, low = 2, measure = "sack" }',
        "home.toml, line 5, have: needs low <= count <= high",
    ),
    (
        f'"{LEAVES}"',
        '{ material = "dry-leaves", count = 1, measure = "sack", packed = "yes" }',
        "home.toml, line 5, have: packed is true or false",
    ),
    (
        f'"{LEAVES}"',
        '{ material = "dry-leaves", count = 1, measure = "sack", said = 3 }',
        "home.toml, line 5, have: said is a text",
    ),
    (
        f'"{LEAVES}"',
        "{ count = 1 }",
        "home.toml, line 4, have: an entry needs 'material' "
        "(there are material, count, measure, low, high, per, packed, said)",
    ),
]


@pytest.mark.parametrize(
    ("old", "new", "message"),
    FAULTS,
    ids=[row[1][:40] for row in FAULTS],
)
def test_a_fault_is_one_line_with_its_place(old: str, new: str, message: str, file: Path, knowledge: Knowledge) -> None:
    assert old in GOOD
    file.write_text(GOOD.replace(old, new, 1), encoding="utf-8")
    assert _error(file, knowledge) == message


@pytest.mark.parametrize("text", ['about "x"', 'name = "a"\nname = "b"', "have = [", "start = 2025-13-01", "x = 1e"])
def test_what_is_not_toml_is_told_as_the_reader_of_it_tells(text: str, file: Path, knowledge: Knowledge) -> None:
    file.write_text(text, encoding="utf-8")
    with pytest.raises(tomllib.TOMLDecodeError) as fault:
        tomllib.loads(text)
    assert _error(file, knowledge) == f"home.toml: not TOML: {fault.value}"


def test_a_table_that_is_a_value_is_refused(file: Path, knowledge: Knowledge) -> None:
    file.write_text("wish = 3\n", encoding="utf-8")
    assert _error(file, knowledge) == "home.toml, line 1, wish: this is a table, not a value (write [wish])"


def test_a_missing_file(file: Path, knowledge: Knowledge) -> None:
    assert _error(file, knowledge) == "home.toml: there is no such file"


def test_a_missing_file_with_a_name_like_another(file: Path, knowledge: Knowledge) -> None:
    file.with_name("hoem.toml").write_text("", encoding="utf-8")
    assert _error(file, knowledge) == "home.toml: there is no such file (did you mean hoem.toml?)"


def test_a_folder(file: Path, knowledge: Knowledge) -> None:
    file.mkdir()
    assert _error(file, knowledge) == "home.toml: this is a folder, not a household file"


@pytest.mark.parametrize("content", [b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", b"\xff\xfe\x00", b"name = \x00"])
def test_a_binary_file(content: bytes, file: Path, knowledge: Knowledge) -> None:
    file.write_bytes(content)
    assert _error(file, knowledge) == "home.toml: not a text file"


def test_a_file_that_is_far_too_big(file: Path, knowledge: Knowledge) -> None:
    file.write_bytes(b"#" * 1_000_001)
    assert _error(file, knowledge) == "home.toml: too big to be a household file"


def test_a_file_that_may_not_be_read(file: Path, knowledge: Knowledge, monkeypatch: pytest.MonkeyPatch) -> None:
    file.write_text(GOOD, encoding="utf-8")

    def refuse(*_: object, **__: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", refuse)
    assert _error(file, knowledge) == "home.toml: cannot be read: Permission denied"


def test_tables_without_end(file: Path, knowledge: Knowledge) -> None:
    file.write_text("have = " + "[" * 5000 + "]" * 5000, encoding="utf-8")
    assert _error(file, knowledge).startswith("home.toml: not TOML: ")


def test_control_signs_do_not_reach_the_message(file: Path, knowledge: Knowledge) -> None:
    file.write_text('have = ["3 sacks \\u001b[31m\\u202exyzzy"]\n', encoding="utf-8")
    assert _error(file, knowledge).isprintable()


# ---------------------------------------------------------------- options of the command line


def test_a_household_from_options(knowledge: Knowledge) -> None:
    household = household_from_options(
        "3 sacks leaves, 2 buckets grounds a week",
        knowledge,
        told={
            "space": "garden",
            "container": "closed-bin, tumbler",
            "room": "4 x 6 ft",
            "holds": "300 L",
            "aim": "quick",
        },
        measures={"bucket": "12 L"},
        start="2025-10-04",
    )
    assert [holding.material for holding in household.holdings] == ["dry-leaves", "coffee-grounds"]
    assert household.answers == {
        "place.space": ("garden",),
        "place.container": ("closed-bin", "tumbler"),
        "place.holds": (300.0,),
        "wish.aim": ("quick",),
    }
    assert household.room == Room(pytest.approx(1.2192), pytest.approx(1.8288))
    assert household.measures == {"bucket": OwnMeasure(12.0)}
    assert household.start == date(2025, 10, 4)


def test_no_options_tell_nothing(knowledge: Knowledge) -> None:
    assert household_from_options("", knowledge) == Household(name="your household")


OPTION_FAULTS = [
    (
        {"have": "3 sacks manure"},
        "--have: 'manure' can be more than one material (say horse-manure, cow-manure, hog-manure or hen-manure)",
    ),
    ({"have": "3 sacks"}, f"--have: '3 sacks' does not say of what ({EXAMPLE})"),
    ({"told": {"space": "gardn"}}, "--space: 'gardn' is not an answer (did you mean 'garden'?)"),
    ({"told": {"spcae": "garden"}}, "--spcae: no option 'spcae' (did you mean 'space'?)"),
    ({"told": {"room": "big"}}, f"--room: 'big' is not a room ({ROOM})"),
    ({"measures": {"buckte": "12 L"}}, "--measure buckte: no measure 'buckte' (did you mean 'bucket'?)"),
    ({"start": "soon"}, "--start: 'soon' is not a date (write it as in 2025-10-04)"),
]


@pytest.mark.parametrize(("options", "message"), OPTION_FAULTS, ids=[row[1][:20] for row in OPTION_FAULTS])
def test_a_fault_in_an_option_names_the_option(options: dict[str, object], message: str, knowledge: Knowledge) -> None:
    with pytest.raises(HouseholdError) as caught:
        household_from_options(**{"have": "", **options}, knowledge=knowledge)  # type: ignore[arg-type]
    assert str(caught.value) == message


# ---------------------------------------------------------------- writing


def test_a_household_is_written_as_people_would_write_it(file: Path, knowledge: Knowledge) -> None:
    file.write_text(GOOD, encoding="utf-8")
    household = read_household(file, knowledge)
    assert (
        write_household(household, knowledge)
        == """\
name = "Number nine"
about = "two people and a yard"
start = 2025-10-04
have = [
    "3 sacks dry leaves",
    "2 kitchen caddies kitchen scraps a week",
]

[place]
space = "garden"
container = ["closed-bin", "tumbler"]
holds = 300
room = "1.2 x 1.5 m"

[wish]
aim = "steady"

[household]
animals = "hens"

[measures]
bucket = "12 L"
wheelbarrow = "75.70823568 L"
"""
    )

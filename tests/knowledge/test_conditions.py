"""The language of conditions: what it takes, what it refuses, and where it says the fault lies."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.knowledge.conditions import Condition, ConditionError, parse
from advisor.knowledge.shapes import Attribute, Kind

KINDS = {
    "place": Kind(
        about="where it stands",
        attributes={
            "space": Attribute(
                words={"flat": "a flat", "balcony": "one", "garden": "one"}, origin="answer", about="space"
            ),
            "room": Attribute(number=(0, 100), origin="answer", about="ground"),
        },
    ),
    "holding": Kind(
        about="a material",
        subjects="materials",
        attributes={
            "share": Attribute(number=(0, 100), origin="computed", about="its share"),
            "trait": Attribute(
                words={"mats": "mats", "smells": "smells"}, origin="computed", many=True, about="traits"
            ),
        },
    ),
    "soil": Kind(about="soil", attributes={"warmth": Attribute(number=(-20, 40), origin="computed", about="warmth")}),
}
SUBJECTS = {"holding": frozenset({"hay", "coffee-grounds"})}


def read(text: str) -> Condition:
    return parse(text, KINDS, SUBJECTS)


GOOD = [
    # text, attribute, subjects, tests as (operator, values)
    ("place.space == 'flat'", "place.space", (), [("==", ("flat",))]),
    ("place.space != 'flat'", "place.space", (), [("!=", ("flat",))]),
    ("'flat' == place.space", "place.space", (), [("==", ("flat",))]),
    ("place.space in ('flat', 'balcony')", "place.space", (), [("in", ("flat", "balcony"))]),
    ("place.space in ('flat',)", "place.space", (), [("in", ("flat",))]),
    ("(place.space == 'flat')", "place.space", (), [("==", ("flat",))]),
    ("place.room > 60", "place.room", (), [(">", (60.0,))]),
    ("60 < place.room", "place.room", (), [(">", (60.0,))]),
    ("place.room <= 2.5", "place.room", (), [("<=", (2.5,))]),
    ("25 <= place.room < 35", "place.room", (), [(">=", (25.0,)), ("<", (35.0,))]),
    ("35 > place.room >= 25", "place.room", (), [("<", (35.0,)), (">=", (25.0,))]),
    ("soil.warmth > -5", "soil.warmth", (), [(">", (-5.0,))]),
    ("holding.trait == 'mats'", "holding.trait", (), [("==", ("mats",))]),
    ("holding['hay'].share > 20", "holding.share", ("hay",), [(">", (20.0,))]),
    (
        "holding['hay', 'coffee-grounds'].share > 20",
        "holding.share",
        ("hay", "coffee-grounds"),
        [(">", (20.0,))],
    ),
    ("  place.space == 'flat'  ", "place.space", (), [("==", ("flat",))]),
    ("place.space in (\n  'flat',\n  'balcony',\n)", "place.space", (), [("in", ("flat", "balcony"))]),
]


@pytest.mark.parametrize(("text", "name", "subjects", "tests"), GOOD, ids=[row[0].strip() for row in GOOD])
def test_what_the_language_takes(text: str, name: str, subjects: tuple[str, ...], tests: list[object]) -> None:
    condition = read(text)
    assert (condition.name, condition.subjects, condition.unknown) == (name, subjects, False)
    assert [(test.operator, test.values) for test in condition.tests] == tests
    assert condition.text == text.strip()


def test_unknown_asks_whether_nobody_has_told() -> None:
    condition = read("unknown(place.room)")
    assert (condition.name, condition.unknown, condition.tests) == ("place.room", True, ())


BAD = [
    # text, column from 1 (None where it is for Python to say), words of the message
    ("", 1, "not a condition"),
    ("place.space ==", None, "not a condition"),
    ("place.space = 'flat'", None, "not a condition"),
    ("place.space == 'flat", None, "not a condition"),
    ("place.space == 'fl\0at'", 1, "not a condition"),
    ("place.room > " + "(" * 300 + "1" + ")" * 300, None, "not a condition"),
    ("place.room > " + "-" * 5000 + "1", None, ""),
    ("place.space == 'fl\\x61t'", 19, "no use for a backslash"),
    ("place.space", 1, "compare one attribute with a word or a number"),
    ("'flat'", 1, "compare one attribute with a word or a number"),
    ("place.room > 5 and place.room < 9", 1, "one condition a line"),
    ("not place.room > 5", 1, "one condition a line"),
    ("place.room + 1 > 5", 1, "expected kind.attribute"),
    ("place.room > soil.warmth", 1, "exactly one attribute with constants"),
    ("1 < 2", 1, "exactly one attribute with constants"),
    ("1 < place.room < 2 < 3", 1, "exactly one attribute with constants"),
    ("place.room > 1 > 0", 1, "a range is written 'low <= kind.attribute < high'"),
    ("0 < 1 < place.room", 1, "a range is written"),
    ("5 < place.room > 9", 1, "a range is written"),
    ("'flat' == place.space == 'flat'", 1, "a range is written"),
    ("place.room is 5", 1, "use ==, !=, <, <=, >, >= or in"),
    ("place.space not in ('flat',)", 1, "use =="),
    ("'flat' in place.space", 1, "write 'attribute in"),
    ("place.space in 'flat'", 16, "'in' takes several words in brackets"),
    ("place.space in ['flat']", 1, "exactly one attribute with constants"),
    ("place.space == ('flat', 'balcony')", 16, "the other signs take one value"),
    ("place.space in ()", 16, "the brackets are empty"),
    ("place.space in ('flat', 'flat')", 25, "'flat' is there twice"),
    ("space == 'flat'", 1, "expected kind.attribute"),
    ("place.space.width > 1", 1, "expected kind.attribute"),
    ("palce.space == 'flat'", 1, "no fact kind 'palce'; did you mean 'place'?"),
    ("wind.speed > 1", 1, "no fact kind 'wind'; there is place, holding, soil"),
    ("place.spce == 'flat'", 1, "'place' has no 'spce'; did you mean 'space'?"),
    ("place.space == 'falt'", 16, "place.space is never 'falt'; did you mean 'flat'?"),
    ("place.space in ('flat', 'roof')", 25, "place.space is never 'roof'; there is flat, balcony, garden"),
    ("place.space == 5", 16, "place.space holds words, not 5"),
    ("place.space == None", 16, "place.space holds words, not None"),
    ("place.space == -'flat'", 16, "holds words"),
    ("place.space > 'flat'", 15, "compare with ==, != or in"),
    ("place.room > 'wide'", 14, "place.room holds a number, not 'wide'"),
    ("place.room > True", 14, "place.room holds a number, not True"),
    ("place.room > 1j", 14, "place.room holds a number, not 1j"),
    ("place.room == 5", 15, "compare with <, <=, > or >="),
    ("place.room in (5, 6)", 16, "compare with <, <=, > or >="),
    ("place.room > 101", 14, "place.room lies between 0 and 100; 101 is outside"),
    ("place.room > -1", 14, "-1 is outside"),
    ("place.room > 1e999", 14, "is outside"),
    ("25 <= place.room < 350", 20, "350 is outside"),
    ("holding['hey'].share > 2", 1, "no holding 'hey'; did you mean 'hay'?"),
    ("holding[hay].share > 2", 9, "a subject is a name in quotes"),
    ("holding[1].share > 2", 9, "a subject is a name in quotes"),
    ("holding[()].share > 2", 9, "the brackets name nothing"),
    ("holding['hay', 'hay'].share > 2", 16, "'hay' is there twice"),
    ("place['hay'].room > 2", 1, "there is only one place"),
    ("known(place.room)", 1, "the only call is unknown(kind.attribute)"),
    ("unknown()", 1, "the only call is"),
    ("unknown(place.room, place.space)", 1, "the only call is"),
    ("unknown(place.romo)", 9, "'place' has no 'romo'; did you mean 'room'?"),
    ("unknown(holding.share)", 9, "takes an attribute that people answer"),
    ("unknown(place.room) == 'yes'", 1, "expected kind.attribute"),
    ("   place.room > 101", 17, "is outside"),
    ("place.space in (\n 'flat', 'roof')", 27, "never 'roof'"),
    ("place.space in ('füße', 'flat')", 17, "never 'füße'"),
    ("'größer' < place.room < 5", 1, "not 'größer'"),
    ("'ööö' == place.spce", 10, "'place' has no 'spce'"),
]


@pytest.mark.parametrize(("text", "column", "words"), BAD, ids=[row[0][:40] or "nothing" for row in BAD])
def test_what_it_refuses_and_where(text: str, column: int | None, words: str) -> None:
    with pytest.raises(ConditionError) as refusal:
        read(text)
    assert words in str(refusal.value)
    assert column in (None, refusal.value.column)


@given(st.text(alphabet="placeroms.'()<>=! []12,-\\\n\0ü", max_size=40))
def test_nothing_typed_ends_in_a_traceback(text: str) -> None:
    try:
        read(text)
    except ConditionError as refusal:
        assert 1 <= refusal.column <= len(text) + 2


@given(st.floats(0, 100), st.floats(0, 100), st.floats(0, 100))
def test_a_range_holds_just_what_python_says(low: float, value: float, high: float) -> None:
    """Python's own chained comparison is the reference."""
    condition = read(f"{low!r} <= place.room < {high!r}")
    assert all(test.holds(value) for test in condition.tests) == (low <= value < high)

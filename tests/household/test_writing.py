"""A household that is written and read again is the same household."""

from __future__ import annotations

import tempfile
from datetime import date
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.household.amounts import read_phrase
from advisor.household.files import read_household, write_household
from advisor.household.shapes import Holding, Household, OwnMeasure, Quantity, Room
from advisor.knowledge.base import Knowledge
from advisor.safe_text import safe_text

#: What is no writing comes back as blanks: tests/test_safe_text.py.
TEXT = st.text(min_size=1, max_size=30).map(safe_text).filter(str.strip)
AMOUNTS = st.floats(0, 1e4)
MATERIALS = st.sampled_from(["dry-leaves", "horse-manure", "coffee-grounds", "hoof-and-horn"])
MEASURES = st.sampled_from(["L", "kg", "sack", "bucket", "straw-bale"])
PERS = st.sampled_from(["once", "day", "week", "month"])


@st.composite
def quantities(draw: st.DrawFn) -> Quantity:
    low, count, high = sorted(draw(st.tuples(AMOUNTS, AMOUNTS, AMOUNTS)))
    return Quantity(count, low, high, draw(MEASURES), draw(PERS), draw(st.booleans()))


HOLDINGS = st.builds(Holding, material=MATERIALS, quantity=quantities(), said=TEXT)
SIDES = st.floats(0.01, 30)
ANSWERS = st.fixed_dictionaries(
    {},
    optional={
        "place.space": st.sampled_from([("flat",), ("garden",)]),
        "place.container": st.sampled_from([("none",), ("closed-bin",), ("closed-bin", "tumbler")]),
        "place.holds": st.tuples(st.floats(0, 1e5)),
        "wish.aim": st.sampled_from([("quick",), ("steady",)]),
        "household.animals": st.sampled_from([("none",), ("hens", "dog")]),
    },
)
HOUSEHOLDS = st.builds(
    Household,
    name=TEXT,
    about=st.one_of(st.just(""), TEXT),
    holdings=st.lists(HOLDINGS, max_size=5).map(tuple),
    answers=ANSWERS,
    room=st.one_of(
        st.none(),
        st.just(Room(0.0, 0.0)),
        st.builds(Room, length_m=SIDES, width_m=SIDES, height_m=st.one_of(st.none(), SIDES)),
    ),
    measures=st.dictionaries(st.sampled_from(["bucket", "sack"]), st.builds(OwnMeasure, litres=st.floats(1e-6, 1e4))),
    start=st.one_of(st.none(), st.dates(date(1900, 1, 1), date(2200, 1, 1))),
)


def _again(text: str, knowledge: Knowledge) -> Household:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "home.toml"
        path.write_text(text, encoding="utf-8", newline="")
        return read_household(path, knowledge)


@given(household=HOUSEHOLDS)
@settings(deadline=None)
def test_any_household_comes_back_the_same(household: Household, knowledge: Knowledge) -> None:
    assert _again(write_household(household), knowledge) == household
    assert _again(write_household(household, knowledge), knowledge) == household


def test_words_that_read_back_the_same_are_kept_as_words(knowledge: Knowledge) -> None:
    phrase = read_phrase("about 3 sacks dry leaves", knowledge)
    assert phrase.quantity is not None
    holding = Holding("dry-leaves", phrase.quantity, phrase.said)
    assert '\n    "about 3 sacks dry leaves",\n' in write_household(Household("x", (holding,)), knowledge)


def test_words_that_do_not_read_back_the_same_are_written_out(knowledge: Knowledge) -> None:
    """Of "2 sacks manure" it was asked which; the words alone would only be asked about again."""
    holding = Holding("horse-manure", Quantity(2, 2, 3, "sack", "week"), "2 sacks manure")
    text = write_household(Household("x", (holding,)), knowledge)
    assert (
        '{ material = "horse-manure", count = 2, high = 3, measure = "sack", per = "week", said = "2 sacks manure" }'
        in text
    )
    assert _again(text, knowledge).holdings == (holding,)


def test_two_holdings_alike_are_both_kept(knowledge: Knowledge) -> None:
    holding = Holding("straw", Quantity(1, 1, 1, "sack"), "1 sack straw")
    household = Household("x", (holding, holding))
    assert _again(write_household(household, knowledge), knowledge) == household

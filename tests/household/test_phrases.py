"""Phrases as people say them, and what each must be read as."""

from __future__ import annotations

import pytest
from scipy import constants

from advisor.errors import HouseholdError
from advisor.household.amounts import read_phrase
from advisor.household.shapes import Quantity
from advisor.knowledge.base import Knowledge

# The reference for exact units: scipy.constants, which takes them from the definitions (CODATA and NIST).
GALLON = constants.gallon * 1000
UK_GALLON = constants.gallon_imp * 1000
FLUID_OUNCE = constants.fluid_ounce * 1000
CUBIC_FOOT = constants.foot**3 * 1000
CUBIC_YARD = constants.yard**3 * 1000
POUND = constants.pound
OUNCE = constants.ounce

#: phrase, (count) or (low, count, high), measure, per, name
READINGS: list[tuple[str, float | tuple[float, float, float], str, str, str]] = [
    # plain counts
    ("3 sacks dry leaves", 3, "sack", "once", "dry leaves"),
    ("3 sacks of dry leaves", 3, "sack", "once", "dry leaves"),
    ("1 sack leaves", 1, "sack", "once", "leaves"),
    ("one sack leaves", 1, "sack", "once", "leaves"),
    ("a sack of leaves", 1, "sack", "once", "leaves"),
    ("a trash bag of leaves", 1, "rubbish-bag", "once", "leaves"),
    ("12 buckets grass", 12, "bucket", "once", "grass"),
    ("twelve pails of grass", 12, "bucket", "once", "grass"),
    ("twenty-five buckets of grass", 25, "bucket", "once", "grass"),
    ("twenty five buckets of grass", 25, "bucket", "once", "grass"),
    ("ninety nine handfuls of ash", 99, "handful", "once", "ash"),
    ("a hundred handfuls of ash", 100, "handful", "once", "ash"),
    ("one hundred and twenty litres of leaves", 120, "L", "once", "leaves"),
    ("two hundred litres of leaves", 200, "L", "once", "leaves"),
    ("a dozen buckets of grass", 12, "bucket", "once", "grass"),
    ("two dozen cups of ash", 24, "mug", "once", "ash"),
    ("half a dozen sacks of leaves", 6, "sack", "once", "leaves"),
    ("half dozen sacks of leaves", 6, "sack", "once", "leaves"),
    ("1,000 L leaves", 1000, "L", "once", "leaves"),
    # parts and mixed numbers
    ("two and a half barrows of horse manure", 2.5, "wheelbarrow", "once", "horse manure"),
    ("two-and-a-half barrows of horse manure", 2.5, "wheelbarrow", "once", "horse manure"),
    ("one and three quarters buckets of ash", 1.75, "bucket", "once", "ash"),
    ("half a sack straw", 0.5, "sack", "once", "straw"),
    ("half a sack of straw", 0.5, "sack", "once", "straw"),
    ("a half sack of straw", 0.5, "sack", "once", "straw"),
    ("half of a sack of straw", 0.5, "sack", "once", "straw"),
    ("half the sack of straw", 0.5, "sack", "once", "straw"),
    ("quarter of a bucket of ash", 0.25, "bucket", "once", "ash"),
    ("three quarters of a bucket of ash", 0.75, "bucket", "once", "ash"),
    ("3 quarters of a bucket of ash", 0.75, "bucket", "once", "ash"),
    ("a third of a barrow of grass", 1 / 3, "wheelbarrow", "once", "grass"),
    ("two thirds of a barrow grass", 2 / 3, "wheelbarrow", "once", "grass"),
    ("1 1/2 buckets grounds", 1.5, "bucket", "once", "grounds"),
    ("1-1/2 buckets grounds", 1.5, "bucket", "once", "grounds"),
    ("1½ buckets grounds", 1.5, "bucket", "once", "grounds"),
    ("1 ½ buckets grounds", 1.5, "bucket", "once", "grounds"),
    ("½ bucket grounds", 0.5, "bucket", "once", "grounds"),
    ("¾ bucket grounds", 0.75, "bucket", "once", "grounds"),
    ("3/4 of a bucket of grounds", 0.75, "bucket", "once", "grounds"),
    ("2.5 buckets grounds", 2.5, "bucket", "once", "grounds"),
    (".5 bucket grounds", 0.5, "bucket", "once", "grounds"),
    ("2,5 buckets grounds", 2.5, "bucket", "once", "grounds"),
    ("a bucket and a half of grass", 1.5, "bucket", "once", "grass"),
    ("two bags and a half of leaves", 2.5, "bag", "once", "leaves"),
    ("half a gallon of scraps", GALLON / 2, "L", "once", "scraps"),
    # ranges and loose numbers
    ("3-4 sacks leaves", (3, 3.5, 4), "sack", "once", "leaves"),
    ("3 - 4 sacks leaves", (3, 3.5, 4), "sack", "once", "leaves"),
    ("3–4 sacks leaves", (3, 3.5, 4), "sack", "once", "leaves"),
    ("4-3 sacks leaves", (3, 3.5, 4), "sack", "once", "leaves"),
    ("3 to 4 sacks leaves", (3, 3.5, 4), "sack", "once", "leaves"),
    ("3 or 4 sacks leaves", (3, 3.5, 4), "sack", "once", "leaves"),
    ("two or three sacks leaves", (2, 2.5, 3), "sack", "once", "leaves"),
    ("between 3 and 4 sacks of leaves", (3, 3.5, 4), "sack", "once", "leaves"),
    ("from 2 to 3 sacks of leaves", (2, 2.5, 3), "sack", "once", "leaves"),
    ("about 10 kg grass", (8, 10, 12.5), "kg", "once", "grass"),
    ("approx. 10 kg grass", (8, 10, 12.5), "kg", "once", "grass"),
    ("~10 kg grass", (8, 10, 12.5), "kg", "once", "grass"),
    ("10 or so kg grass", (8, 10, 12.5), "kg", "once", "grass"),
    ("10-ish kg grass", (8, 10, 12.5), "kg", "once", "grass"),
    ("up to 4 sacks of leaves", (2, 3.2, 4), "sack", "once", "leaves"),
    ("at least 4 sacks of leaves", (4, 4.8, 6.4), "sack", "once", "leaves"),
    ("4+ sacks of leaves", (4, 4.8, 6.4), "sack", "once", "leaves"),
    ("no more than 4 sacks of leaves", (2, 3.2, 4), "sack", "once", "leaves"),
    ("nearly a sack of leaves", (0.85, 0.95, 1), "sack", "once", "leaves"),
    ("exactly 4 sacks of leaves", 4, "sack", "once", "leaves"),
    # words in place of a number
    ("a couple of buckets of grounds", (2, 2, 3), "bucket", "once", "grounds"),
    ("a couple buckets grounds", (2, 2, 3), "bucket", "once", "grounds"),
    ("a few buckets of grounds", (2, 3, 5), "bucket", "once", "grounds"),
    ("several buckets grounds", (3, 5, 8), "bucket", "once", "grounds"),
    ("lots of sacks of leaves", (4, 8, 20), "sack", "once", "leaves"),
    ("some sacks of leaves", (1, 3, 6), "sack", "once", "leaves"),
    ("sacks of leaves", (2, 3, 6), "sack", "once", "leaves"),
    ("bucket of grounds", 1, "bucket", "once", "grounds"),
    ("lots of leaves", (100, 300, 1200), "L", "once", "leaves"),
    ("a lot of leaves", (100, 300, 1200), "L", "once", "leaves"),
    ("tons of leaves", (100, 300, 1200), "L", "once", "leaves"),
    ("some leaves", (5, 25, 100), "L", "once", "leaves"),
    ("a bit of ash", (0.5, 3, 12), "L", "once", "ash"),
    ("hardly any straw", (0, 0.5, 2), "L", "once", "straw"),
    # how big, how full, how pressed
    ("3 big sacks of leaves", (3, 3.75, 4.8), "sack", "once", "leaves"),
    ("a little bucket of ash", (0.5, 0.75, 1), "bucket", "once", "ash"),
    ("a little ash", (0.5, 3, 12), "L", "once", "ash"),
    ("2 small buckets grass", (1, 1.5, 2), "bucket", "once", "grass"),
    ("2 half-full buckets of grass", (0.8, 1, 1.2), "bucket", "once", "grass"),
    ("two half sacks straw", (0.8, 1, 1.2), "sack", "once", "straw"),
    ("a heaped barrow of grass", (1.05, 1.2, 1.4), "wheelbarrow", "once", "grass"),
    ("a big round bale of hay", 1, "round-bale", "once", "hay"),
    ("2 bucketfuls grass", 2, "bucket", "once", "grass"),
    ("2 bucketsful grass", 2, "bucket", "once", "grass"),
    ("2 barrowloads of horse manure", 2, "wheelbarrow", "once", "horse manure"),
    ("2 barrow loads of horse manure", 2, "wheelbarrow", "once", "horse manure"),
    ("a bucket full of grass", 1, "bucket", "once", "grass"),
    ("3 straw bales", 3, "straw-bale", "once", "straw"),
    ("3 bales of straw", 3, "straw-bale", "once", "straw"),
    # exact units
    ("30 L leaves", 30, "L", "once", "leaves"),
    ("30L leaves", 30, "L", "once", "leaves"),
    ("30 litres of leaves", 30, "L", "once", "leaves"),
    ("30 liters of leaves", 30, "L", "once", "leaves"),
    ("500 ml ash", 0.5, "L", "once", "ash"),
    ("0.5 m3 chips", 500, "L", "once", "chips"),
    ("0.5 m³ chips", 500, "L", "once", "chips"),
    ("half a cubic metre of chips", 500, "L", "once", "chips"),
    ("2,5 kg grass", 2.5, "kg", "once", "grass"),
    ("2 kilos grass", 2, "kg", "once", "grass"),
    ("250 g ash", 0.25, "kg", "once", "ash"),
    ("2 tonnes horse manure", 2000, "kg", "once", "horse manure"),
    ("2 tons horse manure", (2 * constants.short_ton, 2000, 2 * constants.long_ton), "kg", "once", "horse manure"),
    ("a ton of leaves", (constants.short_ton, 1000, constants.long_ton), "kg", "once", "leaves"),
    ("1 short ton of leaves", constants.short_ton, "kg", "once", "leaves"),
    ("40 lb hen manure", 40 * POUND, "kg", "once", "hen manure"),
    ("40 lbs. hen manure", 40 * POUND, "kg", "once", "hen manure"),
    ("8 oz ash", 8 * OUNCE, "kg", "once", "ash"),
    ("8 fl oz ash", 8 * FLUID_OUNCE, "L", "once", "ash"),
    ("5 gal scraps", 5 * GALLON, "L", "once", "scraps"),
    ("5 imperial gallons scraps", 5 * UK_GALLON, "L", "once", "scraps"),
    ("2 quarts ash", GALLON / 2, "L", "once", "ash"),
    ("2 pints ash", GALLON / 4, "L", "once", "ash"),
    ("2 cu ft of chips", 2 * CUBIC_FOOT, "L", "once", "chips"),
    ("2 cubic feet of chips", 2 * CUBIC_FOOT, "L", "once", "chips"),
    ("10 yards of chips", 10 * CUBIC_YARD, "L", "once", "chips"),
    # containers of a told size
    ("10 x 40 L bags of leaves", 400, "L", "once", "leaves"),
    ("10 × 40L bags leaves", 400, "L", "once", "leaves"),
    ("ten 40-litre bags of leaves", 400, "L", "once", "leaves"),
    ("10 40 L bags leaves", 400, "L", "once", "leaves"),
    ("a 40 L bag of leaves", 40, "L", "once", "leaves"),
    ("3 bags of 40 L", 120, "L", "once", ""),
    ("3 bags (40 L each) of leaves", 120, "L", "once", "leaves"),
    ("2 x 25 kg sacks of horse manure", 50, "kg", "once", "horse manure"),
    ("a 300 litre bin full of leaves", 300, "L", "once", "leaves"),
    ("a 240 L wheelie bin of leaves", 1, "wheelie-bin", "once", "leaves"),
    ("2 5-gallon buckets of grounds", 2, "five-gallon-bucket", "once", "grounds"),
    ("5 gallon bucket of grounds", 1, "five-gallon-bucket", "once", "grounds"),
    ("2 ton bags of chips", 2, "builders-bag", "once", "chips"),
    # the other way round, and small talk
    ("grass, 2 barrows", 2, "wheelbarrow", "once", "grass"),
    ("leaves: 3 sacks", 3, "sack", "once", "leaves"),
    ("leaves (3 sacks)", 3, "sack", "once", "leaves"),
    ("leaves - 3 sacks", 3, "sack", "once", "leaves"),
    ("leaves 3 sacks", 3, "sack", "once", "leaves"),
    ("- 3 sacks leaves", 3, "sack", "once", "leaves"),
    ("I have 3 sacks of leaves now", 3, "sack", "once", "leaves"),
    ("There are about 10 kg of grass at the moment.", (8, 10, 12.5), "kg", "once", "grass"),
    ("we've got 3 sacks of my leaves", 3, "sack", "once", "my leaves"),
    # how often
    ("5 gal scraps a week", 5 * GALLON, "L", "week", "scraps"),
    ("2 caddies scraps per week", 2, "kitchen-caddy", "week", "scraps"),
    ("2 caddies of scraps every week", 2, "kitchen-caddy", "week", "scraps"),
    ("2 caddies of scraps each week", 2, "kitchen-caddy", "week", "scraps"),
    ("2 caddies/week scraps", 2, "kitchen-caddy", "week", "scraps"),
    ("2 caddies scraps weekly", 2, "kitchen-caddy", "week", "scraps"),
    ("1 mug grounds a day", 1, "mug", "day", "grounds"),
    ("1 mug grounds daily", 1, "mug", "day", "grounds"),
    ("a barrow of horse manure a month", 1, "wheelbarrow", "month", "horse manure"),
    ("2 buckets hen manure every two weeks", 1, "bucket", "week", "hen manure"),
    ("2 buckets hen manure a fortnight", 1, "bucket", "week", "hen manure"),
    ("2 buckets hen manure every other week", 1, "bucket", "week", "hen manure"),
    ("3 mugs grounds every 3 days", 1, "mug", "day", "grounds"),
    ("1 caddy scraps twice a week", 2, "kitchen-caddy", "week", "scraps"),
    ("1 caddy scraps three times a week", 3, "kitchen-caddy", "week", "scraps"),
    ("every week 2 caddies scraps", 2, "kitchen-caddy", "week", "scraps"),
    ("2 caddies a week of scraps", 2, "kitchen-caddy", "week", "scraps"),
    # slips of the pen, and nothing at all
    ("3 bukets leaves", 3, "bucket", "once", "leaves"),
    ("2 wheelbarows of grass", 2, "wheelbarrow", "once", "grass"),
    ("no straw", 0, "L", "once", "straw"),
    ("0 sacks of leaves", 0, "sack", "once", "leaves"),
    ("straw: none", 0, "L", "once", "straw"),
]


@pytest.mark.parametrize(("said", "count", "measure", "per", "name"), READINGS, ids=[row[0] for row in READINGS])
def test_a_phrase_is_read_as_meant(
    said: str, count: float | tuple[float, float, float], measure: str, per: str, name: str, knowledge: Knowledge
) -> None:
    phrase = read_phrase(said, knowledge)
    low, typical, high = count if isinstance(count, tuple) else (count, count, count)
    quantity = phrase.quantity
    assert quantity is not None, phrase.trouble
    assert (quantity.low, quantity.count, quantity.high) == pytest.approx((low, typical, high), rel=1e-8)
    assert (quantity.measure, quantity.per, phrase.name) == (measure, per, name)
    assert phrase.left == ()
    assert phrase.trouble == ""


def test_the_table_of_phrases_is_long_enough_to_mean_something() -> None:
    assert len({row[0] for row in READINGS}) == len(READINGS) >= 120


@pytest.mark.parametrize(
    ("said", "packed"),
    [
        ("2 packed sacks of leaves", True),
        ("2 sacks of packed leaves", True),
        ("2 sacks of leaves (packed)", True),
        ("2 sacks of leaves, trodden down", True),
        ("2 loosely filled sacks of leaves", False),
        ("2 sacks of leaves", False),
        ("2 bales of straw", True),  # bales are pressed by the baler
        ("2 round bales of hay", True),
        ("2 loose bales of straw", False),
        ("20 L packed leaves", True),
    ],
)
def test_whether_it_is_pressed_down(said: str, packed: bool, knowledge: Knowledge) -> None:
    quantity = read_phrase(said, knowledge).quantity
    assert quantity is not None
    assert quantity.packed is packed


@pytest.mark.parametrize("said", ["no straw", "0 sacks of leaves", "without straw", "straw: none", "zero sacks straw"])
def test_none_at_all_is_flagged(said: str, knowledge: Knowledge) -> None:
    phrase = read_phrase(said, knowledge)
    assert phrase.none
    assert phrase.quantity is not None
    assert (phrase.quantity.low, phrase.quantity.count, phrase.quantity.high) == (0, 0, 0)


@pytest.mark.parametrize("said", ["3 sacks leaves", "hardly any straw", "leaves", "half a sack"])
def test_something_is_not_nothing(said: str, knowledge: Knowledge) -> None:
    assert not read_phrase(said, knowledge).none


@pytest.mark.parametrize(("said", "vague"), [("lots of leaves", True), ("a few sacks", True), ("3-4 sacks", False)])
def test_a_vague_word_is_marked_as_worth_asking_about(said: str, vague: bool, knowledge: Knowledge) -> None:
    assert read_phrase(said, knowledge).vague is vague


COUNTS_THINGS = "say it in buckets, sacks, litres or kg"
TROUBLES = [
    ("a dozen eggshells", "'a dozen' counts things and is not a volume", COUNTS_THINGS),
    ("3 eggshells", "'3' counts things and is not a volume", COUNTS_THINGS),
    ("many leaves", "'many' counts things and is not a volume", COUNTS_THINGS),
    ("20 m2 of leaves", "'m2' is an area, not a volume or a weight", COUNTS_THINGS),
    ("3 cm leaves", "'cm' is a length, not a volume or a weight", COUNTS_THINGS),
    ("20 ft of leaves", "'ft' is a length, not a volume or a weight", COUNTS_THINGS),
    ("50 % leaves", "'%' is a share, not a volume or a weight", COUNTS_THINGS),
    ("20 °C leaves", "'°C' is a temperature, not a volume or a weight", COUNTS_THINGS),
    ("3 hours of leaves", "'hours' is a time, not a volume or a weight", COUNTS_THINGS),
    ("3 parsecs of leaves", "no measure 'parsecs'", COUNTS_THINGS),
    ("3 sakcs of leaves", "no measure 'sakcs'", "did you mean sack?"),
    ("3 tubs of leaves", "the measure may be one of several", "say tub-trug or ice-cream tub"),
    (
        "3-5 gallon bags of leaves",
        "it is not clear which number is the size and which the number of them",
        "write it as in '3 x 20 L bags'",
    ),
    (
        "20 sacks of leaves a year",
        "what comes once a year comes at once",
        "say how much there is now, or how much comes a week or a month",
    ),
    (
        "20 sacks of leaves every autumn",
        "what comes once a year comes at once",
        "say how much there is now, or how much comes a week or a month",
    ),
    ("2 caddies scraps a week weekly", "it is told twice how often it comes", "say it once"),
]


@pytest.mark.parametrize(("said", "trouble", "hint"), TROUBLES, ids=[row[0] for row in TROUBLES])
def test_what_is_no_amount_is_said_plainly(said: str, trouble: str, hint: str, knowledge: Knowledge) -> None:
    phrase = read_phrase(said, knowledge)
    assert phrase.quantity is None
    assert (phrase.trouble, phrase.hint) == (trouble, hint)


ABSURD = [
    ("-3 sacks leaves", "'-3 sacks leaves': an amount cannot be less than nothing"),
    ("−3 sacks leaves", "'−3 sacks leaves': an amount cannot be less than nothing"),
    ("minus two sacks of leaves", "'minus two sacks of leaves': an amount cannot be less than nothing"),
    ("leaves, -0.5 kg", "'leaves, -0.5 kg': an amount cannot be less than nothing"),
    ("99999 sacks of leaves", "'99999 sacks of leaves': this is more than any garden holds"),
    ("2000 tonnes of leaves", "'2000 tonnes of leaves': this is more than any garden holds"),
    ("9" * 400 + " L leaves", "'" + "9" * 59 + "…': this is more than any garden holds"),
]


@pytest.mark.parametrize(("said", "message"), ABSURD, ids=[row[0][:30] for row in ABSURD])
def test_an_amount_that_cannot_be_is_an_error_of_one_line(said: str, message: str, knowledge: Knowledge) -> None:
    with pytest.raises(HouseholdError) as caught:
        read_phrase(said, knowledge)
    assert str(caught.value) == message


def test_a_name_alone_has_no_amount(knowledge: Knowledge) -> None:
    phrase = read_phrase("dry leaves", knowledge)
    assert (phrase.name, phrase.quantity, phrase.trouble) == ("dry leaves", None, "")


def test_how_often_is_kept_even_without_an_amount(knowledge: Knowledge) -> None:
    phrase = read_phrase("kitchen scraps every week", knowledge)
    assert (phrase.name, phrase.quantity, phrase.per) == ("kitchen scraps", None, "week")


@pytest.mark.parametrize(
    ("said", "left"),
    [
        ("3 sacks dry leaves (oak)", ("oak",)),
        ("leaves 3 sacks from Dora", ("Dora",)),
        ("2 sacks leaves 3 buckets grass", ("3 buckets grass",)),
    ],
)
def test_what_cannot_be_placed_is_handed_back(said: str, left: tuple[str, ...], knowledge: Knowledge) -> None:
    phrase = read_phrase(said, knowledge)
    assert phrase.quantity is not None
    assert phrase.left == left


def test_chunks_say_what_each_stretch_was_read_as(knowledge: Knowledge) -> None:
    said = "I have about 3 big sacks of dry leaves a week"
    chunks = [(chunk.kind, chunk.text) for chunk in read_phrase(said, knowledge).chunks]
    assert chunks == [
        ("filler", "I"),
        ("filler", "have"),
        ("count", "about 3"),
        ("measure", "big sacks"),
        ("of", "of"),
        ("name", "dry leaves"),
        ("rate", "a week"),
    ]


def test_a_weekly_gallon_is_a_quantity_in_litres(knowledge: Knowledge) -> None:
    quantity = read_phrase("a gallon of scraps a week", knowledge).quantity
    assert quantity == Quantity(3.78541178, 3.78541178, 3.78541178, "L", "week", False)

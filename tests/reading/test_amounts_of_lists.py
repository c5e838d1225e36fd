"""Amounts of whole lists, amounts told twice, vague amounts and rates; what is expected is the plain sense of English.

How much a material is taken to have of a shared amount (an even share, from half to one and a half times as much) is
our own estimate, no source.
"""

from __future__ import annotations

import pytest

from advisor.hearing.hear import hear
from advisor.hearing.shapes import HeardAmount
from advisor.knowledge.load import shipped

KNOWLEDGE = shipped()


def _told(line: str) -> dict[str, HeardAmount]:
    return {one.ids[0]: one for one in hear(line, KNOWLEDGE).amounts if one.ids and one.quantity is not None}


@pytest.mark.parametrize(
    ("line", "materials", "total", "per"),
    [
        ("three barrows of goat droppings and hay a day", ("goat-manure", "hay"), 3.0, "day"),
        ("a sack of wood shavings and rabbit droppings each week", ("wood-shavings", "rabbit-manure"), 1.0, "week"),
        (
            "pile of hay, nettles and weeds, about 2 cubic metres in all",
            ("hay", "nettles", "garden-weeds"),
            2000,
            "",
        ),
        ("bracken and straw, 900 litres altogether", ("bracken-ferns", "straw"), 900.0, ""),
        ("heap of leaves and cow muck, about 600 litres", ("dry-leaves", "cow-manure"), 600.0, ""),
    ],
)
def test_a_list_shares_its_amount_as_a_range(line: str, materials: tuple[str, ...], total: float, per: str) -> None:
    told = _told(line)
    assert set(materials) <= told.keys()
    for name in materials:
        quantity = told[name].quantity
        assert quantity is not None
        assert quantity.count == pytest.approx(total / len(materials))
        assert quantity.low < quantity.count < quantity.high < total
        assert quantity.per == (per or "once")


@pytest.mark.parametrize(
    ("line", "material", "count", "measure"),
    [
        ("about a ton of beech leaves, like 30 bags", "beech-leaves", 30.0, "bag"),
        ("a ton of oak leaves in the drive, maybe 50 sacks", "oak-leaves", 50.0, "sack"),
        ("6 buckets of grass, that's about 70 litres", "grass-clippings", 70.0, "L"),
        ("10 bags of straw, 40 L each", "straw", 400.0, "L"),
    ],
)
def test_an_amount_told_twice_counts_once(line: str, material: str, count: float, measure: str) -> None:
    told = [one for one in hear(line, KNOWLEDGE).amounts if one.quantity is not None]
    assert len(told) == 1
    quantity = told[0].quantity
    assert quantity is not None
    assert (quantity.count, quantity.measure) == (count, measure)
    assert told[0].ids[0] == material


@pytest.mark.parametrize(
    "line", ["heap of shredded paper", "a stack of old newspapers", "a mound of hay", "a wee bit of sawdust"]
)
def test_a_vague_amount_is_a_wide_range(line: str) -> None:
    (told,) = hear(line, KNOWLEDGE).amounts
    assert told.quantity is not None
    assert not told.measured
    assert told.quantity.high >= 4 * told.quantity.low


@pytest.mark.parametrize(
    ("line", "counted"),
    [
        ("two sacks of leaves and some grass", {"dry-leaves": 2.0}),  # "some" is an amount of its own
        ("3 sacks of leaves and the grass from the mower", {"dry-leaves": 3.0}),
        ("grass 2 barrows, leaves 3 sacks", {"grass-clippings": 2.0, "dry-leaves": 3.0}),
        ("cow manure about 20 kg and some hay", {"cow-manure": 20.0}),
    ],
)
def test_an_amount_of_its_own_is_not_shared(line: str, counted: dict[str, float]) -> None:
    told = _told(line)
    for name, count in counted.items():
        quantity = told[name].quantity
        assert quantity is not None
        assert quantity.count == pytest.approx(count)


def test_a_bucket_to_work_with_is_no_amount() -> None:
    heard = hear("four barrows of horse manure a day, a field, a tractor with a bucket", KNOWLEDGE)
    assert [one.ids[:1] for one in heard.amounts] == [("horse-manure",)]


def test_a_rate_stands_behind_where_it_comes_from() -> None:
    quantity = _told("a bucket of coffee grounds from the cafe every week")["coffee-grounds"].quantity
    assert quantity is not None
    assert quantity.per == "week"

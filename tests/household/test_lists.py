"""Lists as people write them: where one item ends, and which amount goes with which name."""

from __future__ import annotations

import pytest

from advisor.household.amounts import read_list, split_list
from advisor.knowledge.base import Knowledge

SPLITS = [
    ("3 sacks leaves, 2 buckets grounds", ("3 sacks leaves", "2 buckets grounds")),
    ("3 sacks leaves; 2 buckets grounds", ("3 sacks leaves", "2 buckets grounds")),
    ("3 sacks leaves and 2 buckets grounds", ("3 sacks leaves", "2 buckets grounds")),
    ("3 sacks leaves plus 2 buckets grounds", ("3 sacks leaves", "2 buckets grounds")),
    ("3 sacks leaves + 2 buckets grounds", ("3 sacks leaves", "2 buckets grounds")),
    ("3 sacks leaves & 2 buckets grounds", ("3 sacks leaves", "2 buckets grounds")),
    ("3 sacks leaves as well as 2 buckets grounds", ("3 sacks leaves", "2 buckets grounds")),
    ("3 sacks leaves\n2 buckets grounds", ("3 sacks leaves", "2 buckets grounds")),
    ("3 sacks leaves. 2 buckets grounds.", ("3 sacks leaves", "2 buckets grounds")),
    ("- 3 sacks leaves\n- 2 buckets grounds", ("3 sacks leaves", "2 buckets grounds")),
    ("• 3 sacks leaves\n• 2 buckets grounds", ("3 sacks leaves", "2 buckets grounds")),
    ("3 sacks leaves, and 2 buckets grounds", ("3 sacks leaves", "2 buckets grounds")),
    ("leaves & grass", ("leaves", "grass")),
    ("two and a half barrows of grass", ("two and a half barrows of grass",)),
    ("2 and 1/2 barrows of grass", ("2 and 1/2 barrows of grass",)),
    ("between 2 and 3 barrows of grass", ("between 2 and 3 barrows of grass",)),
    ("one hundred and twenty litres", ("one hundred and twenty litres",)),
    ("a bucket and a half of grass", ("a bucket and a half of grass",)),
    ("2,5 kg grass, 1 sack leaves", ("2,5 kg grass", "1 sack leaves")),
    ("1,000 L leaves,1 sack straw", ("1,000 L leaves", "1 sack straw")),
    ("approx. 3 sacks leaves. 2 gal. scraps", ("approx. 3 sacks leaves", "2 gal. scraps")),
    ("3+ sacks leaves", ("3+ sacks leaves",)),
    ("leaves (2 sacks, packed), straw", ("leaves (2 sacks, packed)", "straw")),
    ("hoof and horn and straw", ("hoof and horn", "straw")),
    ("hoof & horn & straw", ("hoof & horn", "straw")),
    ("", ()),
    (" , and ; \n", ()),
]


@pytest.mark.parametrize(("text", "items"), SPLITS, ids=[row[0] for row in SPLITS])
def test_a_list_is_split_where_a_person_would(text: str, items: tuple[str, ...], knowledge: Knowledge) -> None:
    assert split_list(text) == items
    assert split_list(text, knowledge) == items


def test_names_of_the_rule_base_are_not_torn_apart(knowledge: Knowledge) -> None:
    text = "2 sacks wood chips, seasoned and dry, 1 sack straw"
    assert split_list(text, knowledge) == ("2 sacks wood chips, seasoned and dry", "1 sack straw")
    assert split_list(text) == ("2 sacks wood chips", "seasoned", "dry", "1 sack straw")


def test_a_name_with_a_comma_does_not_swallow_the_next_item(knowledge: Knowledge) -> None:
    text = "2 sacks wood chips, seasoned and dry leaves, 3 sacks"
    assert split_list(text, knowledge)[0] == "2 sacks wood chips"


def _read(text: str, knowledge: Knowledge) -> list[tuple[str, float | None, str]]:
    phrases = read_list(text, knowledge)
    assert all(text[slice(*phrase.span)] == phrase.said for phrase in phrases)
    return [
        (phrase.name, phrase.quantity.count, phrase.quantity.measure) if phrase.quantity else (phrase.name, None, "")
        for phrase in phrases
    ]


READ = [
    ("grass, 2 barrows", [("grass", 2, "wheelbarrow")]),
    ("2 barrows, grass", [("grass", 2, "wheelbarrow")]),
    ("grass, 2 barrows, 3 sacks leaves", [("grass", 2, "wheelbarrow"), ("leaves", 3, "sack")]),
    ("grass, 2 barrows, leaves, 3 sacks", [("grass", 2, "wheelbarrow"), ("leaves", 3, "sack")]),
    ("leaves: 3 sacks, grass: 2 barrows", [("leaves", 3, "sack"), ("grass", 2, "wheelbarrow")]),
    ("a barrow and two buckets of grass", [("grass", 1, "wheelbarrow"), ("grass", 2, "bucket")]),
    ("a bucket and half a sack of leaves", [("leaves", 1, "bucket"), ("leaves", 0.5, "sack")]),
    ("2 sacks leaves 3 buckets grass", [("leaves", 2, "sack"), ("grass", 3, "bucket")]),
    ("leaves and grass", [("leaves", None, ""), ("grass", None, "")]),
    ("2 sacks and 3 buckets", [("", 2, "sack"), ("", 3, "bucket")]),
    (
        "I have three sacks of dry leaves and a bucket and a half of grounds, and about 5 kg of scraps every week.",
        [("dry leaves", 3, "sack"), ("grounds", 1.5, "bucket"), ("scraps", 5, "kg")],
    ),
]


@pytest.mark.parametrize(("text", "expected"), READ, ids=[row[0] for row in READ])
def test_amounts_find_their_names(
    text: str, expected: list[tuple[str, float | None, str]], knowledge: Knowledge
) -> None:
    assert _read(text, knowledge) == expected


def test_a_comma_does_not_lend_a_name(knowledge: Knowledge) -> None:
    """ "2 barrows, 3 sacks leaves" has more likely lost a word than a name to share."""
    assert _read("2 barrows, 3 sacks leaves", knowledge)[0] == ("", 2, "wheelbarrow")

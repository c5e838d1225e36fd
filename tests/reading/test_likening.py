"""What only sounds like a sign, what was put right, and figures as they are said; lines are our own inventions."""

from __future__ import annotations

import pytest

from advisor.hearing.hear import hear
from advisor.knowledge.load import shipped


def _told(line: str) -> set[str]:
    return {f"{fact.name}={fact.value}" for fact in hear(line, shipped()).facts if fact.stance == "told"}


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("my eyes are swollen after the pollen", "sign.vessel=swollen"),
        ("my socks were soaking wet", "sign.moisture=wet"),
        ("my throat is on fire", "sign.warmth=burning"),
        ("it went up like a volcano", "sign.smell=rotten-egg"),
        ("the wind knocked me down like a dead sheep", "sign.animals=worms-dying"),
        ("do I turn it when it is hot?", "sign.warmth=hot"),
        ("say the rats came back, what then?", "sign.animals=rats"),
        ("gave it four cans, it was bone dry", "sign.moisture=dry"),
        ("pegged the sheet over it, the lid had blown off", "sign.cover=open"),
    ],
)
def test_what_is_no_sign_of_the_heap_is_not_told(line: str, fact: str) -> None:
    assert fact not in _told(line)


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("it is bone dry", "sign.moisture=dry"),
        ("the lid is swollen", "sign.vessel=swollen"),
        ("it smells like a pond in August", "sign.smell=rotten-egg"),
        ("like old gym socks", "sign.smell=rancid"),
        ("looks like a fox has been at it", "sign.animals=scavengers"),
        ("it smells as if something had died in it", "sign.smell=putrid"),
        ("it was roasting, now it sulks", "sign.heat_before=was-hot"),
        ("I'd say the middle is soaking", "sign.moisture=wet"),
        ("a hundred and forty on the probe", "sign.degrees=60"),
        ("down to the low thirties", "sign.degrees=32"),
        ("sixty odd in the belly of it", "sign.degrees=60"),
        ("not yet at 50", "sign.degrees=50"),
    ],
)
def test_what_is_a_sign_is_told(line: str, fact: str) -> None:
    assert fact in _told(line)


#: Things of each class, and constructions in which people compare with them: our own inventions.
THINGS = {
    "ammonia": (
        "a hen house in August",
        "wet nappies",
        "floor cleaner",
        "the gents at a football ground",
        "perm lotion",
    ),
    "rotten-egg": ("a blocked sink", "low tide", "bad eggs", "the sewer after rain"),
    "rancid": ("blue cheese", "butter gone off", "old chip fat", "baby sick"),
    "sour": ("vinegar", "pickled onions", "flat beer", "sour milk"),
    "putrid": ("a dead rat", "rotten fish", "bin juice", "roadkill"),
    "earthy": ("a wood after rain", "potting soil", "mushrooms"),
}
CONSTRUCTIONS = (
    "it smells like {}",
    "There is a whiff off it. It's like somebody had left {} in there",
    "the pong is the same as {}",
    "a stink that reminds me of {}, it does",
    "when I lift the lid there's a sniff of {}",
    "the smell of the heap is close to {}",
    "it puts me in mind of {}, that stench",
    "it stinks as if someone had mixed {} with the soil",
)


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
@pytest.mark.parametrize("smell", THINGS)
def test_what_a_smell_is_like_gives_the_smell_in_any_construction(construction: str, smell: str) -> None:
    for thing in THINGS[smell]:
        line = construction.replace("{}", thing)
        told = {fact for fact in _told(line) if fact.startswith("sign.smell")}
        assert told == {f"sign.smell={smell}"}, line


@pytest.mark.parametrize(
    ("line", "smells"),
    [
        ("the reek is like off cream, vinegar and a blocked drain", {"rancid", "sour", "rotten-egg"}),
        ("smells halfway between cat wee and dead fish", {"ammonia", "putrid"}),
        ("it has a bad-egg whiff", {"rotten-egg"}),
        ("an off-fish breath comes out of the hatch", {"putrid"}),
        ("gets me in the throat like oven cleaner", {"ammonia"}),
        ("it scratches at my throat like floor cleaner", {"ammonia"}),
        ("my towel stinks like vinegar", set()),
        ("it is as white as an egg", set()),
        ("the top looks like old cheese", set()),
        ("it feels like wet fish", set()),
        ("it does not smell like vinegar", set()),
        ("it looks like a wood in autumn, no smell at all", {"none"}),
        ("the lid blew up like a balloon and the stuff inside stinks like vinegar", {"sour"}),
        ("the lid rose up like a blown bag of silage when I cracked it", set()),
    ],
)
def test_several_likenesses_and_those_that_are_no_smell(line: str, smells: set[str]) -> None:
    assert {fact.partition("=")[2] for fact in _told(line) if fact.startswith("sign.smell")} == smells


@pytest.mark.parametrize(
    "line",
    [
        "it smells like somebody tipped dead fish and meat in",
        "there's a niff of rancid butter and old cheese off it",
    ],
)
def test_what_a_smell_is_compared_with_is_not_in_the_heap(line: str) -> None:
    assert not any(fact.startswith("sign.holds") for fact in _told(line))
    assert all(one.likened for one in hear(line, shipped()).materials)

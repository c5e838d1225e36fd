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

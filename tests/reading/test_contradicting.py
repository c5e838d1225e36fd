"""Contradictions, and other kinds told by form, each in lines of our own (no source: examples of ordinary speech)."""

import pytest

from advisor.hearing.hear import hear
from advisor.knowledge.load import shipped

_CORRECTIONS = [
    "Nobody said anything about rats, I only mentioned flies",
    "I never said it was cold, I said it was slow",
    "It isn't a wormery, it's an ordinary dustbin with holes",
    "that's not mould, it's just flour off the bread",
    "We don't have a dog, whatever my wife told you",
    "For the umpteenth time, it is NOT wet",
    "I said straw but it turned out to be hay",
    "oops sawdust not shavings",
    "I never turned it. That was my husband, the fool.",
    "who told you it was hot? it's barely lukewarm",
    "not slimy. matted. that's another thing altogether",
    "it DOES get hot, I've had 65 out of it",
]
_OTHERS = [
    ("It isn't hot any more, it's stone cold", "trouble"),
    ("the heap is not smelly and it is not wet", "observation"),
    ("I never turn it, is that bad?", "ask_fact"),
    ("I haven't any straw, I've got shavings", "stock"),
    ("fish heads n guts", "ask_material"),
    ("glossy magazines w the staples in", "ask_material"),
    ("straw, hay and some leaves", "stock"),
    ("grass clippings, two bags", "stock"),
    ("max 20 quid", "circumstance"),
    ("hardly any space tbh", "circumstance"),
    ("it stinks of bad eggs??", "trouble"),
    ("I had my sister over, didn't I, and she lifted the lid and it was crawling with ants", "trouble"),
    ("cat litter can i put it in", "ask_material"),
    ("I won't have sawdust in the house. What else would do?", "swap"),
    ("the problem is that it smells of eggs", "trouble"),
    ("mites all over the bin will they hurt me", "trouble"),
    ("may I sow straight into my compost", "ask_use"),
]


@pytest.mark.parametrize("said", _CORRECTIONS)
def test_a_contradiction_corrects(said: str) -> None:
    assert hear(said, shipped()).acts[0] == "correct"


@pytest.mark.parametrize(("said", "act"), _OTHERS)
def test_other_kinds_by_form(said: str, act: str) -> None:
    assert hear(said, shipped()).acts[0] == act

"""What a question asks, decided by the table of rules/words/acts-decided.toml. The lines are made up; no source."""

from __future__ import annotations

import pytest

from advisor.hearing.hear import hear
from advisor.knowledge.load import shipped

#: Lines in which the form of the question and what the whole line names say together what is asked.
DECIDED = {
    "ask_material": [
        "pizza boxes with cheese stuck to them. allowed?",
        "Old feather pillow, ripped. Worth tipping in?",
        "they say you can compost jeans. Zip off, I presume",
    ],
    "ask_why": ["Turning. What's it in aid of?", "what would make the middle go grey like that"],
    "ask_ready": ["Half of it is crumbly and half is still stalks. verdict?", "how can I be sure it's had long enough"],
    "ask_soil": ["Ground sets like concrete every June. What would loosen it up?"],
    "ask_use": ["Is it strong enough to feed leeks on its own", "What can I do with all this leafmould?"],
    "ask_year": ["How do I get it through the monsoon?", "What wants doing to a heap come November?"],
    "ask_plan": ["what would you knock together out of six pallets"],
    "ask_what_now": ["Day ten, it has cooled right off. What's my next job?"],
    "what_if": ["If I doubled the bran would it go any quicker"],
    "swap": ["can't get straw for love nor money. Would bracken stand in?"],
    "off": ["Write me a poem about my cat"],
}


@pytest.mark.parametrize(("act", "line"), [(act, line) for act, lines in DECIDED.items() for line in lines])
def test_what_is_asked_is_decided_by_form_and_by_what_is_named(act: str, line: str) -> None:
    assert hear(line, shipped()).acts[:1] == (act,)


@pytest.mark.parametrize(
    ("act", "line"),
    [
        ("off", "the lumps are as big as footballs"),
        ("ask_material", "I put the carrots in"),
        ("ask_year", "it cooled off last winter, is that normal?"),
        ("ask_soil", "the bucket is ready, where does it go?"),
        ("correct", "am I meant to rip them open?"),
    ],
)
def test_what_only_resembles_it_is_not_decided_so(act: str, line: str) -> None:
    assert act not in hear(line, shipped()).acts

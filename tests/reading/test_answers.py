"""Answers to an open question: which option they pick, and what is no answer. The lines are invented."""

from __future__ import annotations

import pytest

from advisor.hearing.hear import hear
from advisor.hearing.shapes import Asked, Heard
from advisor.knowledge.load import shipped

DAMP = Asked(
    "How damp is it when you squeeze a handful?", ("water runs out", "a drop or two", "nothing, and it falls apart")
)
TALL = Asked("How tall is the heap?", ("Under 2 ft (60 cm)", "2 to 4 ft (60 to 120 cm)", "Over 4 ft (120 cm)"))
IN_IT = Asked("Which of these are in the heap?", ("Grass mowings", "Kitchen scraps", "Leaves", "Woody prunings"))
SMELL = Asked("What does it smell of?", ("ammonia", "rotten eggs", "sour", "earthy"))
STEAM = Asked("Is it steaming when you open it?", ("yes", "no", "not sure"))
ROOM = Asked("How much room have you?", ("a garden", "a balcony", "only indoors"))
PACE = Asked("How often do you want to work on it?", ("every week", "once a month", "hardly ever"))
WAIT = Asked("How long can you wait?", ("under 3 months", "3 to 6 months", "over 6 months"))
BOTH = Asked("Sun or shade?", ("sun", "shade"))
NO_OPTIONS = Asked("How big is the heap?")


def _heard(line: str, asked: Asked) -> Heard:
    return hear(line, shipped(), asked)


@pytest.mark.parametrize(
    ("asked", "line", "options"),
    [
        (DAMP, "2", (2,)),
        (DAMP, "number 3 please", (3,)),
        (DAMP, "the second one", (2,)),
        (DAMP, "the last", (3,)),
        (DAMP, "a drop or two", (2,)),
        (DAMP, "bone dry", (3,)),
        (DAMP, "soaking wet", (1,)),
        (DAMP, "it just crumbles", (3,)),
        (DAMP, "not wet and not dry", (2,)),
        (DAMP, "the second one but a bit less", (2,)),
        (TALL, "about knee high", (1,)),
        (TALL, "up to my chest", (3,)),
        (TALL, "3 feet", (2,)),
        (TALL, "maybe 80 cm", (2,)),
        (TALL, "1.5 m", (3,)),
        (IN_IT, "1 and 3", (1, 3)),
        (IN_IT, "all of them", (1, 2, 3, 4)),
        (IN_IT, "all but the last", (1, 2, 3)),
        (IN_IT, "mostly leaves", (3,)),
        (SMELL, "like bad eggs", (2,)),
        (SMELL, "vinegary", (3,)),
        (SMELL, "cat pee", (1,)),
        (STEAM, "yep", (1,)),
        (STEAM, "nope", (2,)),
        (STEAM, "no idea", (3,)),
        (STEAM, "not that I've seen", (2,)),
        (ROOM, "we have a lawn and a veg patch", (1,)),
        (ROOM, "just under the sink", (3,)),
        (PACE, "weekly", (1,)),
        (PACE, "as seldom as possible", (3,)),
        (WAIT, "8 weeks", (1,)),
        (WAIT, "a year", (3,)),
        (BOTH, "a bit of both", (1, 2)),
        (BOTH, "both", (1, 2)),
    ],
)
def test_the_options_that_an_answer_picks(asked: Asked, line: str, options: tuple[int, ...]) -> None:
    heard = _heard(line, asked)
    assert (heard.acts[:1], heard.options) == (("answer",), options)


@pytest.mark.parametrize("line", ["I don't know", "no idea, sorry", "haven't looked", "not sure really", "dunno"])
@pytest.mark.parametrize("asked", [DAMP, TALL, IN_IT, NO_OPTIONS])
def test_not_knowing_is_an_answer(line: str, asked: Asked) -> None:
    heard = _heard(line, asked)
    assert heard.acts[:1] == ("answer",) and heard.unknown and heard.options == ()


@pytest.mark.parametrize(("line", "yes"), [("yes", True), ("aye it does", True), ("no", False), ("not at all", False)])
def test_yes_and_no(line: str, yes: bool) -> None:
    assert _heard(line, Asked("Does anything run out of it?")).yes is yes


@pytest.mark.parametrize(
    ("asked", "line"),
    [
        (DAMP, "what do you mean by a handful?"),
        (DAMP, "there are rats in it now"),
        (DAMP, "turned it yesterday"),
        (DAMP, "start again please"),
        (DAMP, "can I put bread in?"),
        (TALL, "why do you ask?"),
        (TALL, "there's smoke coming out of it"),
        (SMELL, "how long until it's ready?"),
        (STEAM, "save that"),
    ],
)
def test_something_else_is_no_answer(asked: Asked, line: str) -> None:
    heard = _heard(line, asked)
    assert "answer" not in heard.acts and heard.options == ()


@pytest.mark.parametrize(
    "line",
    [
        "about 3 weeks ago",
        "30:1",
        "2 x 3",
        "the first week or two",
        "2/11",
        "on the 2nd of May",
        "half 2 in the afternoon",
    ],
)
def test_a_figure_inside_a_line_picks_no_option(line: str) -> None:
    assert _heard(line, DAMP).options == () and _heard(line, IN_IT).options == ()


def test_a_figure_of_the_kind_asked_answers() -> None:
    assert _heard("waist high and 4 ft across", NO_OPTIONS).acts[:1] == ("answer",)

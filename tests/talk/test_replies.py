"""Every kind of line gets an answer at once: the first lines hold the answer and the first deed, in words of our own.

What the answers say comes from rules/answers.toml, seen.toml, ready.toml, heeded.toml and the rules of troubles, each
with its sources; here it is checked that they reach the person who asks, in the right order.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from conversing import Person

OWN = "3 bags of leaves, 1 bucket of coffee grounds, 2 buckets of grass, I have a garden and an open heap"
_FIRST = 3


def first_lines(person: Person, number: int = _FIRST) -> str:
    """The first lines of a reply, without the question behind it."""
    lines: list[str] = []
    for reply in person.replies:
        if reply.kind != "question":
            lines += [*reply.text.split("\n"), *(line.text for line in reply.lines)]
    return "\n".join(lines[:number])


@pytest.fixture
def person(tmp_path: Path) -> Person:
    """Somebody who has told of a heap."""
    return Person(tmp_path).says(OWN)


@pytest.mark.parametrize(
    ("said", "answer", "deed"),
    [
        # troubles: what it is, what to do today
        ("it reeks of ammonia since I put all that grass on", "Too many greens", "Today: "),
        ("water squirts out when I squeeze it and it smells of drains", "Too wet", "Today: Mix"),
        ("the grass has set into a slimy mat", "Matted", "Today: Pull mats and lumps apart"),
        ("the handful falls apart like dust", "Too dry", "Today: Water it"),
        ("the worms are climbing up the walls of the box", "It may be", "Today: Squeeze a handful of the bedding"),
        # things seen
        ("there are white threads all through it", "fungi at work", "water it"),
        ("squeezed a handful and two drops came", "just right", "no water"),
        ("it measured 60 °C in the middle", "hot enough to kill weed seeds", "Turn it"),
        # deeds
        ("I turned the heap on Sunday", "Noted: turned, Sunday 22 November", "Next: "),
        ("watered it this morning, two cans", "Noted: watered", "Next: squeeze a handful"),
        ("emptied the tumbler yesterday", "Noted: emptied, Tuesday 24 November", "Next: "),
        # materials, for the vessel that is meant
        ("can I put banana skins in?", "Banana skins: yes, in an open heap", ""),
        ("may banana skins go in the tumbler?", "yes, in a tumbler", ""),
        ("can orange peel go in the worm bin?", "Citrus peel: no, not in a worm bin", "takes it"),
        ("can meat go in the fermented bucket?", "Meat scraps: yes, in a fermented bucket", "off crops eaten raw"),
        ("can I compost coal ash?", "No: ash of coal", "Bin it"),
        ("are pine needles all right?", "Pine needles: yes", "No more than a quarter"),
        ("we keep a cat, can the litter go in the heap?", "no, not in an open heap", "trench"),
        # one fact
        ("how hot is too hot?", "above 70 °C", "Turn it and water it"),
        ("how wet should it be?", "wrung-out cloth", "Squeeze|squeeze"),
        ("how far from the stream must it be?", "10 m", "Ask your council"),
        ("how often should I water it?", "gives no drop", "can at a time"),
        ("how long must the bucket stay closed before I bury it?", "Two weeks", "Drain it"),
        ("what mask do I need?", "FFP2", "Damp the heap"),
        ("do mushrooms mean that it has gone bad?", "a normal part of rotting", "Don't eat them"),
        # how, use, soil
        ("how do I sieve the finished compost?", "mesh", "Sieve it"),
        ("how do I clean the bucket?", "brush", "Use no bleach"),
        ("can I use it on my lawn?", "half a bucket", "brushed into the lawn"),
        ("how much compost for one pot of herbs?", "A quarter to a third|part in five", ""),
        ("my soil is heavy clay, does compost help?", "Yes, compost opens clay", "in the top"),
        (
            "two inches of sand, one of silt, three of clay in my jar: what soil is it?",
            "More than 40 % clay",
            "Work out",
        ),
        # ready, by the signs that are told
        (
            "is it ready? dark and crumbly, smells of the forest, a peach stone left",
            "Yes, it is ready",
            "sieve them out",
        ),
        ("bucket shut for 3 weeks, pickle smell, white fluff. is it ready to bury?", "Yes, bury it", "20 cm to 30 cm"),
        # why, what now, what if, swaps
        ("what should I do this week?", "nothing is due", "Squeeze a handful"),
        ("what if I used twice the leaves?", "6 bags of dry autumn leaves", "Still an open heap"),
        ("would straw be better than the leaves?", "3 bags of straw", "Still an open heap"),
        # corrections
        ("no, I meant 5 bags of leaves", "5 bags of dry autumn leaves", "in place of 3 bags"),
    ],
)
def test_the_first_lines_hold_the_answer_and_the_first_deed(person: Person, said: str, answer: str, deed: str) -> None:
    told = first_lines(person.says(said))
    assert any(words in told for words in answer.split("|")), told
    assert any(words in told for words in deed.split("|")), told


@pytest.mark.parametrize(
    ("said", "heeded"),
    [
        ("my back is bad", "nothing that needs turning"),
        ("the council allows closed bins only", "a closed bin with a lid"),
        ("no worms please", "no worm bin"),
        ("we live on a balcony", "worm bin"),
        ("which way is easiest for somebody who is away a lot?", "Being away does no harm"),
    ],
)
def test_circumstances_are_heeded_in_plain_words(tmp_path: Path, said: str, heeded: str) -> None:
    assert heeded in first_lines(Person(tmp_path).says(said))


@pytest.mark.parametrize("said", ["tell me a joke", "you are useless"])
def test_what_is_beside_the_subject_gets_one_polite_line(person: Person, said: str) -> None:
    person.says(said)
    assert len(person.replies) == 1
    assert person.text.startswith("I only know about compost and soil.")


def test_what_was_heard_of_a_trouble_comes_behind_the_answer(person: Person) -> None:
    kinds = [reply.kind for reply in person.says("it stinks of ammonia").replies]
    assert kinds.index("verdict") < kinds.index("heard")


def test_a_trouble_asks_one_question_at_most(person: Person) -> None:
    person.says("it is cold and nothing happens")
    assert sum(reply.kind == "question" for reply in person.replies) <= 1


def test_a_question_is_answered_without_asking_back(person: Person) -> None:
    person.says("can I put egg shells in?")
    assert person.heard("question") == ""


def test_more_tells_what_the_answer_left_out(person: Person) -> None:
    person.says("it drips and smells of rotten eggs")
    before = person.text
    person.says("more")
    assert "There is this too:" in person.text
    assert all(line.text not in before for reply in person.replies for line in reply.lines)


def test_why_tells_the_causes_of_a_trouble(person: Person) -> None:
    person.says("it stinks of ammonia", "why")
    assert "too many greens" in person.text


def test_why_names_the_sources_of_a_straight_answer(person: Person) -> None:
    # The source of the answer [how-wet] of rules/answers.toml.
    person.says("how wet should it be?", "why")
    assert "That comes from:" in person.text


def test_what_cannot_be_answered_is_named(person: Person) -> None:
    person.says("who won the cup in composting last year?")
    assert "I can't answer that here yet" in person.text or "I only know about compost" in person.text


def test_treated_grass_is_kept_out_before_all_else(person: Person) -> None:
    told = first_lines(person.says("how long until clippings treated with weedkiller can go in the heap?"), 1)
    assert "Keep it out of compost" in told


def test_nothing_is_guessed_from_what_is_said_in_passing(person: Person) -> None:
    person.says("white fluff like cotton on the old melon in the worm bin")
    assert {held.material for held in person.talk.household.holdings} == {
        "dry-leaves",
        "coffee-grounds",
        "grass-clippings",
    }


@pytest.mark.parametrize("before", ["", "3 sacks of leaves and ", "my heap stinks of ammonia. I have "])
@pytest.mark.parametrize("word", ["zorbulant", "strwq", "quavellin"])
def test_a_name_that_nobody_knows_is_said_back(person: Person, before: str, word: str) -> None:
    person.says(f"{before}2 bags of {word}")
    assert any(word in reply.text for reply in person.replies)


def test_the_rest_of_a_long_page_is_not_lost_in_silence(person: Person) -> None:
    person.says("we keep hens. " * 200 + "there are rats in it")
    assert any("I read as far as" in reply.text for reply in person.replies)


@pytest.mark.parametrize(
    ("said", "noted"),
    [
        ("turned it last Sunday, 58 C", "turned, "),
        ("60 C on Friday, turned it", "turned; "),
        ("turned it, 58 C on Tuesday", "turned; "),
        ("on Monday turned the heap, 55 C", "turned and "),
    ],
)
def test_a_day_is_of_what_it_follows(person: Person, said: str, noted: str) -> None:
    """As the diary takes it (advisor/diary/from_words.py): what has no day of its own is of today."""
    person.says(said)
    assert noted in person.heard("heard")


@pytest.mark.parametrize("said", ["a bin", "I've got a bin"])
def test_a_bin_by_itself_opens_no_trouble_and_is_asked_about(person: Person, said: str) -> None:
    person.says(said)
    assert not person.talk.cure
    assert person.talk.question is not None
    assert "open-sided bin" in person.talk.question.ask and "closed bin" in person.talk.question.ask

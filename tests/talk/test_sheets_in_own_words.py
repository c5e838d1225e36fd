"""Sheets filled by people who do not read out the options: near words, several answers in a line, corrections."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from conversing import KNOWLEDGE, TODAY, Person

from advisor.errors import HouseholdError
from advisor.hearing.days import read_day
from advisor.hearing.hear import hear
from advisor.hearing.shapes import Asked as Put
from advisor.services.figures import number_said
from advisor.talk.filling import answer_of, corrected, parts
from advisor.talk.sheets.playing import Blank, choice

SMELLS = {"earthy": "earth or a wood after rain", "ammonia": "ammonia", "rotten": "rot or rotten eggs"}
METHODS = {"open-heap": "an open heap", "leaf-heap": "a heap of leaves", "worm-bin": "a worm bin"}


@pytest.fixture
def person(tmp_path: Path) -> Person:
    return Person(tmp_path)


def _said(person: Person) -> str:
    return "\n".join(reply.text for reply in person.replies)


# ---------------------------------------------------------------- the words of an option, or near them


def _fills(said: str, blank: Blank) -> str:
    """What the words fill a blank with; "no answer" if nothing."""
    put = Put(blank.ask, tuple(option.label for option in blank.options), "", blank.also, blank.many)
    try:
        return answer_of(said, blank, hear(said, KNOWLEDGE, put, TODAY))
    except HouseholdError as error:
        return str(error) if "may be" in str(error) else "no answer"


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("a wood", "earthy"),
        ("like a wood after rain", "earthy"),
        ("ammonia I think", "ammonia"),
        ("rotten eggs", "rotten"),
        ("Earth or a wood after rain.", "earthy"),
        ("2", "ammonia"),
        ("the last one", "rotten"),
        ("it does not smell of ammonia", None),
        ("3 sacks of earth", None),
        ("of my grandmother's kitchen", None),
        ("2 weeks", None),
        ("", None),
    ],
)
def test_near_words_name_an_option_or_none(said: str, meant: str | None) -> None:
    assert _fills(said, choice("What does it smell of?", "", SMELLS)) == (SMELLS[meant] if meant else "no answer")


def test_other_words_for_an_option_are_as_good() -> None:
    assert _fills("heap", choice("How was it made?", "", METHODS)) == "no answer"
    assert _fills("heap", choice("How was it made?", "", METHODS, near={"open-heap": ["heap"]})) == "an open heap"


@pytest.mark.parametrize(
    ("said", "meant"),
    [("no, just the one", "no"), ("yes please", "yes"), ("aye", "yes"), ("nope", "no"), ("no idea", "")],
)
def test_yes_and_no_may_have_company(said: str, meant: str) -> None:
    assert _fills(said, choice("Another bed?", "", {"yes": "yes", "no": "no"})) == meant


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("1 and 3", "an open heap, a worm bin"),
        ("a worm bin, an open heap", "a worm bin, an open heap"),
        ("worms and leaves", "a worm bin, a heap of leaves"),
        ("all of them", "an open heap, a heap of leaves, a worm bin"),
        ("1, 9", "no answer"),
        ("I don't know", ""),
    ],
)
def test_exact_words_and_numbers_of_a_list(said: str, meant: str) -> None:
    blank = choice("How was it made?", "", METHODS, many=True)
    assert _fills(said, blank) == meant
    assert meant in ("", "no answer") or blank.read(meant)


@pytest.mark.parametrize("text", [*SMELLS.values(), *METHODS.values()])
def test_what_is_offered_can_be_typed_back(text: str) -> None:
    for blank in (choice("?", "", {**SMELLS, **METHODS}), choice("?", "", {**SMELLS, **METHODS}, many=True)):
        assert _fills(text, blank) == _fills(text.upper(), blank) == text


def test_a_heap_is_judged_in_the_words_of_the_one_who_made_it(person: Person) -> None:
    person.says("is it done? it's dark and crumbly but there's bits of stick in it", "yes")
    assert person.talk.household.holdings == ()  # the sticks are in the compost, not on hand
    person.says("heap")
    assert person.heard("heard") == "Heard: an open heap."
    person.says("like the woods")
    # the looks were told when the sheet was opened
    assert "“it's dark and crumbly but there's bits of stick in it”, you said" in _said(person)
    assert person.question.ask.startswith("Does it warm again")
    person.says("no it stays cold", "oh about a year", "nothing like that")
    assert any(reply.text == "Ready for what:" for reply in person.replies)


def test_a_dead_soil_is_no_dead_heap(person: Person) -> None:
    person.says("rebuild my soil", "A", "8 m2", "it's dead")
    assert person.heard("heard") == "Heard: spent: pale, hard or dusty, hardly a worm."
    person.says("spuds and beans")
    assert person.heard("heard") == "Heard: potatoes and tomatoes, peas and beans."


# ---------------------------------------------------------------- several answers in a line


def test_name_and_size_in_one_breath_and_the_rest_borne_in_mind(person: Person) -> None:
    person.says("how thick do I put it on", "yes", "A, 1.2 x 6 m, for vegetables")
    assert "Heard: 7.2 m²." in _said(person)
    assert "I bear in mind “for vegetables”." in _said(person)
    assert person.question.ask == "What is A to get?"


def test_going_back_goes_through_each_of_them(person: Person) -> None:
    person.says("how thick do I put it on", "yes", "A, 1.2 x 6 m", "go back")
    assert person.question.ask.startswith("How big is A?")
    person.says("go back")
    assert person.question.ask.startswith("What do you call")


def test_a_name_may_have_a_comma(person: Person) -> None:
    person.says("how thick do I put it on", "yes", "by the fence, near the shed")
    assert person.question.ask.startswith("How big is by the fence, near the shed?")


def test_all_marks_of_a_jar_at_once(person: Person) -> None:
    person.says("how do I do the jar thing", "A", "skip", "skip", "4 cm, 7 cm, 10 cm")
    assert person.question.ask == "On which day was it done?"


def test_what_is_told_besides_goes_to_the_heap(person: Person) -> None:
    person.says("how thick do I put it on", "yes", "A", "8 m2", "1", "3, and I have 2 sacks of dry leaves")
    assert person.litres("dry-leaves") == pytest.approx(150)
    assert person.question.ask.startswith("What is to grow on A?")


def test_what_never_was_asked_is_said_at_the_end(person: Person) -> None:
    person.says("rebuild my soil", "A, 8 m2, behind the church", "1", "skip", "no", "it never freezes here", "1", "no")
    assert "bear in mind" not in _said(person)
    person.says("no")
    assert "I did not get to ask about “behind the church”." in _said(person)


def test_animals_told_with_the_question_are_not_asked_for(person: Person) -> None:
    person.says("we've three hens and a pony, how much straw", "yes")
    assert person.question.ask.startswith("For how many weeks")
    person.says("all winter", "nights only", "slowly")
    texts = [line.text for reply in person.replies for line in reply.lines]
    assert any(text.startswith("3 hens") for text in texts)
    assert any(text.startswith("1 pony") for text in texts)


def test_a_flat_that_was_told_is_not_asked_for(person: Person) -> None:
    person.says("I live in a flat with my two kids how much compost would I get", "yes", "3")
    assert any(reply.text == "In a worm bin:" for reply in person.replies)


# ---------------------------------------------------------------- corrections


@pytest.mark.parametrize(
    ("said", "better"),
    [
        ("no, 8 m2", "8 m2"),
        ("no, 8 m2 not 6", "8 m2"),
        ("8 m2, not 6", "8 m2"),
        ("sorry, I meant a worm bin", "a worm bin"),
        ("oops, it's 20 April", "20 April"),
        ("make that 3 weeks", "3 weeks"),
        ("8 m2", None),
        ("not a clue", None),
        ("no", None),
        ("nothing", None),
    ],
)
def test_a_correction_is_known_by_its_words(said: str, better: str | None) -> None:
    assert corrected(said) == better


def test_a_size_is_put_right(person: Person) -> None:
    person.says("how thick do I put it on", "yes", "A", "6 m2", "no, 8 m2 not 6")
    assert person.heard("heard") == "Put right: 8 m²."
    assert person.question.ask == "What is A to get?"
    person.says("1", "skip", "skip", "no")
    person.says("no, make that 10 m2")
    assert person.heard("heard") == "Put right: 10 m²."
    person.says("go back")
    assert "10 m2" in person.heard("heard")


def test_what_was_said_of_it_is_said_anew(person: Person) -> None:
    person.says("how thick do I put it on", "yes", "A", "6 m2", "1", "skip", "skip", "no", "skip", "1")
    assert person.question.ask.startswith("Shall I keep")
    person.says("sorry, 12 m2")
    texts = [line.text for reply in person.replies for line in reply.lines]
    assert any(text.startswith("A (12 m²") for text in texts)
    assert person.question.ask.startswith("Shall I keep")


def test_an_option_is_put_right(person: Person) -> None:
    person.says("is my compost ready?", "yes", "1", "earthy", "no, ammonia")
    assert person.heard("heard") == "Put right: ammonia."
    person.says("sorry, 1")
    assert person.heard("heard") == "Put right: earth or a wood after rain."


def test_no_at_a_yes_or_no_question_is_no(person: Person) -> None:
    person.says("how thick do I put it on", "yes", "A", "6 m2", "1", "3", "skip", "no, just the one")
    assert person.question.ask.startswith("How much finished compost")


def test_what_is_in_the_diary_is_taken_out_first(person: Person) -> None:
    person.says("earthworm count", "A", "skip", "skip", "3", "20 cm", "yesterday", "yes", "no, 5 not 3")
    assert "go back" in _said(person) or person.question.ask == "What next?"
    person.says("no more for now", "my soil diary")
    assert any("3" in line.text for reply in person.replies for line in reply.lines)


def test_a_correction_of_nothing_gets_the_way_back(person: Person) -> None:
    person.says("is my compost ready?", "yes", "no, the blue one")
    assert "go back" in person.heard("answer")
    assert person.question.ask == "How was it made?"


# ---------------------------------------------------------------- numbers and times


@pytest.mark.parametrize(
    ("said", "weeks"),
    [
        ("3", 3),
        ("about 3 weeks", 3),
        ("a week", 1),
        ("two weeks", 2),
        ("a couple of weeks", 2),
        ("2 months", 8.7),
        ("half a year", 26.1),
        ("a year and a half", 78.3),
        ("14 days", 2),
        ("none", 0),
        ("twelve", 12),
        ("twenty weeks", 20),
        ("2 or 3", 2.5),
        ("three to four weeks", 3.5),
        ("never", 0),
    ],
)
def test_weeks_as_they_are_said(said: str, weeks: float) -> None:
    # The calendar: a year has 365.25 days, a month a twelfth of that.
    assert number_said(said, 0, 200, "weeks") == pytest.approx(weeks, abs=0.05)


@pytest.mark.parametrize("said", ["it is a bit dry", "no idea really", "2 4", "", "many", "500 weeks"])
def test_what_is_no_number_of_weeks(said: str) -> None:
    with pytest.raises(HouseholdError):
        number_said(said, 0, 200, "weeks")


@pytest.mark.parametrize(
    ("said", "day"),
    [
        # the calendar: 25 November 2026 is a Wednesday
        ("last tuesday", date(2026, 11, 24)),
        ("on Wednesday", date(2026, 11, 18)),
        ("last week", date(2026, 11, 19)),  # from Monday to Sunday, at its middle
        ("two weeks ago", date(2026, 11, 11)),
        ("last year", date(2025, 7, 2)),
        ("in early May", date(2026, 5, 16)),
    ],
)
def test_days_by_their_names(said: str, day: date) -> None:
    assert read_day(said, "", KNOWLEDGE, TODAY) == day


def test_worms_counted_in_words(person: Person) -> None:
    person.says("count worms", "yes", "A", "skip", "skip", "five, seven and 2")
    assert person.question.ask.startswith("How wide the block is")


def test_a_size_without_a_unit_is_asked_for_one(person: Person) -> None:
    person.says("how thick do I put it on", "yes", "A", "8")
    assert person.heard("lost") == "8 of what (say 8 m2, 8 sq ft, or both sides: 1.2 x 6 m)."


def test_signs_that_cannot_be_seen_are_passed_over(person: Person) -> None:
    person.says("how thick do I put it on", "yes", "A", "\u202e8 m2\u202c")
    assert person.heard("heard") == "Heard: 8 m²."


def test_another_matter_is_no_name_for_a_bed(person: Person) -> None:
    person.says("how thick do I put it on", "yes", "deep litter for six hens")
    assert person.question.ask.startswith("For how many weeks")


@pytest.mark.parametrize("said", ["how much wood ash can I put on", "how much lime"])
def test_a_question_is_no_answer_to_the_next(person: Person, said: str) -> None:
    person.says(said, "yes")
    assert person.question.ask.startswith("How big is the heap?")


def test_months_that_name_another_sheet(person: Person) -> None:
    person.says("plan a year", "3 buckets of grass a week", "all year")
    assert person.heard("heard") == "Heard: all the year round."


def test_parts_of_a_line() -> None:
    assert parts("A, 1.2 x 6 m; for vegetables. Thanks!") == ["A", "1.2 x 6 m", "for vegetables", "Thanks"]
    assert parts("1,5 m") == ["1,5 m"]
    assert parts(" ") == []


def test_a_day_may_be_put_right(person: Person) -> None:
    person.says("earthworm count", "A", "skip", "skip", "3", "20 cm", "yesterday", "sorry, today")
    assert "Put right" in _said(person)
    texts = [line.text for reply in person.replies for line in reply.lines]
    assert any(text.startswith(date(2026, 11, 25).isoformat()) for text in texts)

"""What is said on a form and is no answer to it, and the program's own words typed back. The lines are invented."""

from __future__ import annotations

from pathlib import Path

import pytest
from conversing import KNOWLEDGE, Person

from advisor.talk.doors import DOORS
from advisor.talk.labels import Labels
from advisor.talk.sheets.menus import MORE, SOIL


@pytest.fixture
def person(tmp_path: Path) -> Person:
    return Person(tmp_path)


def _at_the_worms(person: Person) -> Person:
    """On a form, asked for the worms in each block."""
    person.says("earthworm count", "A", "skip", "skip")
    assert person.question.ask.startswith("Worms in each block")
    return person


@pytest.mark.parametrize(
    "danger", ["there is smoke coming out of the heap", "I breathed in a cloud of white dust and feel ill"]
)
def test_a_danger_is_heard_on_a_form_and_the_form_goes_on(person: Person, danger: str) -> None:
    _at_the_worms(person).says(danger)
    assert person.replies[0].kind == "caution"
    assert person.talk.question is None, "nothing stands behind a warning"
    person.says("3 4 2")
    assert person.question.ask.startswith("How wide the block is")


@pytest.mark.parametrize("trouble", ["my heap stinks of rotten eggs", "rats have got into the bin, help"])
def test_a_trouble_interrupts_a_form_which_can_be_taken_up_again(person: Person, trouble: str) -> None:
    _at_the_worms(person).says("3 4 2", trouble)
    assert person.talk._account.state.in_trouble
    assert "back to the questions" in person.text
    person.says("back to the questions")
    assert person.question.ask.startswith("How wide the block is")
    person.says("20 cm", "today")
    assert any("or 3 to a block of 20 cm" in line.text for reply in person.replies for line in reply.lines)


def test_never_mind_in_a_trouble_goes_back_to_the_form_that_waits(person: Person) -> None:
    _at_the_worms(person).says("my heap stinks of rotten eggs", "never mind")
    assert person.question.ask.startswith("Worms in each block")


@pytest.mark.parametrize("question", ["how often should I turn my heap?", "can I put in citrus?"])
def test_a_question_is_answered_and_the_form_stays(person: Person, question: str) -> None:
    before = _at_the_worms(person).question.ask
    person.says(question)
    assert any(reply.kind in ("answer", "verdict") for reply in person.replies)
    assert person.question.ask == before


def test_a_trouble_is_no_name_for_a_bed(person: Person) -> None:
    person.says("rebuild my soil", "my heap stinks of rotten eggs")
    assert person.talk._account.state.in_trouble


@pytest.mark.parametrize("number", [str(place) for place, door in enumerate(DOORS, 1) if door in ("soil", "more")])
def test_a_number_picked_at_a_menu_is_no_measurement(person: Person, number: str) -> None:
    """Through every form behind a menu, the digits that led there fill no blank."""
    person.says(number)
    for place in range(1, len(person.question.options)):
        inner = Person(Path(person.talk._heaps.folder).parent).says(number, str(place))
        assert "you said" not in inner.text, (number, place)
        inner.says(str(place))
        assert f"“{place}”, you said" not in inner.text, (number, place)


@pytest.mark.parametrize("said", ["2 weeks ago", "30:1", "2 x 3 m", "the first week or two"])
def test_a_number_inside_a_line_picks_no_option(person: Person, said: str) -> None:
    ask = person.says("is my compost ready?", "yes").question.ask
    assert person.says(said).question.ask == ask


@pytest.mark.parametrize("units", ["metric", "us"])
def test_a_bare_figure_on_a_form_is_in_the_units_in_use(tmp_path: Path, units: str) -> None:
    person = Person(tmp_path, units="us" if units == "us" else "metric")
    _at_the_worms(person).says("8", "8", "today")
    said = " ".join(line.text for reply in person.replies for line in reply.lines)
    # Geometry: 8 in a block of 8 in each way are 18 to the square foot; of 8 cm each way 1,250 to the square metre.
    assert ("18 earthworms to the square foot" if units == "us" else "1250 earthworms to the square metre") in said


@pytest.mark.parametrize("said", ["I don't know", "no idea", "dunno", "not sure really", "haven't looked"])
def test_not_knowing_always_ends_a_question(person: Person, said: str) -> None:
    person.says("is my compost ready?", "yes")
    asked = []
    for _ in range(12):
        if person.question.ask in asked:
            pytest.fail(person.question.ask)
        asked.append(person.question.ask)
        if "test of it" in asked[-1]:
            break
        person.says(said)
    assert len(asked) == 7


def test_what_must_be_known_and_is_not_is_left_at_the_second_time(person: Person) -> None:
    person.says("rebuild my soil", "A", "I don't know")
    assert person.question.ask.startswith("How big is A?")
    person.says("no idea")
    assert person.question.ask == "What next?"


@pytest.mark.parametrize("label", [*DOORS.values(), *SOIL.values(), *MORE.values()])
def test_a_door_opens_by_its_own_words_wherever_it_was_seen(person: Person, label: str) -> None:
    person.says(label)
    assert not person.heard("lost")


def test_answers_of_questions_that_are_not_open_are_understood_in_their_own_words(person: Person) -> None:
    declared = KNOWLEDGE.kinds["place"].attributes["climate"].words
    person.says(declared["wet"])
    assert person.talk.household.answers["place.climate"] == ("wet",)
    assert Labels(KNOWLEDGE).meant("none") == ()


def test_an_option_of_an_earlier_question_puts_that_right(person: Person) -> None:
    person.says("is my compost ready?", "yes", "an open heap", "ammonia", "no, earth or a wood after rain")
    assert person.heard("heard") == "Put right: earth or a wood after rain."

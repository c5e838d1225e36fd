"""The talk with words that were understood already: what is told, taken back, changed, tried and kept in mind."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest
from conversing import ENGINE, HERE, KNOWLEDGE, Person, have

from advisor.counsel.consult import consult
from advisor.household.shapes import Holding, Household, Quantity, Room
from advisor.talk.intents import (
    Ask,
    AskMaterial,
    AskWhy,
    Door,
    Enter,
    Have,
    HaveNot,
    Lost,
    Pick,
    Swap,
    TellMeasure,
    TellRoom,
    Told,
    Unclear,
    Vague,
    WhatIf,
    Which,
)


@pytest.fixture
def person(tmp_path: Path) -> Person:
    return Person(tmp_path)


def told(attribute: str, *values: str | float) -> Told:
    return Told(attribute, values, HERE)


# ---------------------------------------------------------------- telling


def test_nothing_stands_before_anything_is_told(person: Person) -> None:
    assert person.talk.plan is None
    assert person.talk.changes == ()
    assert [option.label for option in person.question.options] == [
        "Start a heap",
        "Something is wrong with my heap",
        "I have no manure",
        "I keep animals, and bed them",
        "Look after the soil",
        "Something else",
        "I don't know",
    ]


def test_what_is_heard_is_said_back_with_litres(person: Person) -> None:
    person.means(have("3 sacks dry leaves"), have("1 bucket coffee grounds"))
    # A sack of 75 L and a bucket of 11 L, the typical sizes of rules/measures.toml.
    assert KNOWLEDGE.measures["sack"].litres.typical == 75
    assert person.heard("heard") == (
        "Heard: 3 sacks of dry autumn leaves (about 220 L), 1 bucket of coffee grounds (about 11 L)."
    )


def test_the_plan_is_that_of_the_consultation(person: Person) -> None:
    person.means(have("3 sacks dry leaves"), have("1 bucket coffee grounds"), told("place.space", "garden"))
    assert person.plan == consult(person.talk.household, KNOWLEDGE, ENGINE, with_doubts=False)


def test_a_second_amount_takes_the_place_of_the_first_and_that_is_said(person: Person) -> None:
    person.means(have("3 sacks dry leaves")).means(have("5 sacks dry leaves"))
    assert "in place of 3 sacks of dry autumn leaves" in person.heard("heard")
    assert person.litres("dry-leaves") == pytest.approx(375)


def test_more_is_added(person: Person) -> None:
    person.means(have("3 sacks dry leaves")).means(have("2 sacks dry leaves", more=True))
    assert "another 2 sacks" in person.heard("heard")
    assert person.litres("dry-leaves") == pytest.approx(375)


def test_two_amounts_of_one_thing_in_one_line_are_both_there(person: Person) -> None:
    person.means(have("2 sacks dry leaves"), have("1 wheelbarrow dry leaves"))
    assert len(person.talk.household.holdings) == 2


def test_a_contradiction_is_settled_by_what_was_said_last(person: Person) -> None:
    person.means(have("1 bucket kitchen scraps a week"), told("place.space", "garden"))
    person.means(told("place.space", "flat"))
    assert "a flat or room with no outdoor space, in place of a garden" in person.heard("heard")
    assert person.talk.household.answers["place.space"] == ("flat",)
    assert person.method in ("fermented-bucket", "worm-bin")


def test_answers_of_which_several_hold_add_up_but_none_stands_alone(person: Person) -> None:
    person.means(told("place.container", "closed-bin")).means(told("place.container", "tumbler"))
    assert person.talk.household.answers["place.container"] == ("closed-bin", "tumbler")
    person.means(told("place.container", "none"))
    assert person.talk.household.answers["place.container"] == ("none",)
    person.means(told("place.container", "bays"))
    assert person.talk.household.answers["place.container"] == ("bays",)


def test_the_size_of_a_measure_counts_wherever_in_the_line_it_stands(person: Person) -> None:
    person.means(have("3 buckets coffee grounds"), TellMeasure("bucket", 20.0, HERE))
    assert "(about 60 L)" in person.heard("heard")
    assert person.litres("coffee-grounds") == pytest.approx(60)


def test_an_area_is_taken_as_a_square_and_that_is_said(person: Person) -> None:
    person.means(told("place.room", 2.25))
    assert "a square of 1.5 m each way" in person.heard("heard")
    assert person.talk.household.room == Room(1.5, 1.5)


@pytest.mark.parametrize(
    "nonsense",
    [told("place.space", "castle"), told("place.room", 1e9), told("place.holds", -3.0), told("no.such", "yes")],
    ids=["word", "too much", "below zero", "attribute"],
)
def test_an_answer_that_cannot_be_is_not_taken(person: Person, nonsense: Told) -> None:
    person.means(have("3 sacks dry leaves"))
    before = person.talk.household
    person.means(nonsense, text="the moon")
    assert "could not place" in person.heard("lost")
    assert person.talk.household == before


def test_a_room_of_no_size_is_no_ground(person: Person) -> None:
    person.means(have("3 sacks dry leaves"), TellRoom(Room(0.0, 0.0), HERE))
    assert "no free ground" in person.heard("heard")
    assert person.talk.plan is not None


@pytest.mark.parametrize("count", [1e7, 1e300])
def test_an_amount_out_of_all_bounds_changes_nothing(person: Person, count: float) -> None:
    person.means(have("3 sacks dry leaves"))
    before = (person.talk.household, person.talk.plan)
    huge = Have(Holding("straw", Quantity(count, count, count, "L"), "a mountain of straw"), HERE)
    person.means(huge)
    assert "“a mountain of straw”: this is more than any garden holds" in person.heard("lost")
    person.means(WhatIf((huge,), HERE))
    assert "more than any garden holds" in person.heard("lost")
    assert (person.talk.household, person.talk.plan) == before


def test_nor_does_an_amount_grow_out_of_all_bounds_bit_by_bit(person: Person) -> None:
    for _ in range(3):
        person.means(have("500 m3 straw", more=True))
    assert "more than any garden holds" in person.heard("lost")
    assert person.litres("straw") == pytest.approx(1_000_000)


# ---------------------------------------------------------------- guesses, and words that are not clear


def test_a_material_without_an_amount_is_a_guess_with_its_range(person: Person) -> None:
    person.means(Vague("straw", "straw", HERE))
    heard = person.heard("heard")
    assert "at a guess" in heard
    assert "anything from" in heard
    assert "Say how much there is" in heard


def test_a_guess_is_put_right_by_an_amount_but_puts_no_amount_right(person: Person) -> None:
    person.means(Vague("straw", "straw", HERE)).means(have("2 sacks straw"))
    assert person.litres("straw") == pytest.approx(150)
    person.means(Vague("straw", "straw", HERE))
    assert "as you said before" in person.heard("heard")
    assert person.litres("straw") == pytest.approx(150)


def test_the_trouble_with_an_amount_is_told(person: Person) -> None:
    person.means(Vague("straw", "3 m of straw", HERE, trouble="'3 m' is a length, not a volume or a weight"))
    assert "is a length" in person.heard("lost")
    assert "at a guess" in person.heard("heard")


def test_two_near_readings_are_asked_about_with_what_tells_them_apart(person: Person) -> None:
    unclear = Unclear("2 sacks of bedding", ("straw", "hay"), HERE, have("2 sacks straw").holding)
    person.means(unclear)
    assert "straw or " in person.question.ask
    assert [", carbon to nitrogen " in option.label for option in person.question.options] == [True, True, False]
    assert person.question.options[-1].label == "I don't know"
    person.means(Pick(2, HERE))
    assert person.litres("hay") > 0
    assert person.litres("straw") == 0


def test_naming_one_of_the_readings_answers_too(person: Person) -> None:
    person.means(Unclear("2 sacks of bedding", ("straw", "hay"), HERE, have("2 sacks straw").holding))
    person.means(Vague("straw", "straw", HERE))
    assert person.litres("straw") == pytest.approx(150)


def test_unclear_words_are_put_twice_and_then_left_out_aloud(person: Person) -> None:
    person.means(Unclear("bedding", ("straw", "hay"), HERE))
    person.means(have("3 sacks dry leaves"))
    assert "bedding" in person.question.ask
    person.means(have("1 bucket coffee grounds"))
    assert "I leave “bedding” out" in person.heard("answer")
    assert "bedding" not in person.question.ask


def test_of_two_near_answers_the_person_picks(person: Person) -> None:
    person.means(Which("place.space", ("paved-yard", "garden"), "yard", HERE))
    person.means(Pick(1, HERE))
    assert person.talk.household.answers["place.space"] == ("paved-yard",)


def test_saying_it_outright_settles_it_as_well(person: Person) -> None:
    person.means(Which("place.space", ("paved-yard", "garden"), "yard", HERE))
    person.means(told("place.space", "balcony"))
    assert "yard" not in person.question.ask
    assert "I leave" not in person.heard("answer")


def test_what_could_not_be_placed_is_named_with_the_nearest(person: Person) -> None:
    person.means(have("3 sacks dry leaves"), Lost("2 sacks stroh", (0, 5), ("straw",)))
    assert person.heard("lost") == "I could not place “2 sacks stroh”. Did you mean straw?"


def test_of_a_pasted_page_the_first_pieces_are_named_and_the_rest_counted(person: Person) -> None:
    person.means(*(Lost(f"gibberish {n} " * 20, (n, n + 1)) for n in range(40)))
    lost = person.heard("lost")
    assert lost.count("I could not place") == 6
    assert "34 more pieces" in lost
    assert max(len(line) for line in lost.split("\n")) < 120


# ---------------------------------------------------------------- taking back and changing


def test_going_back_takes_the_last_line_back_and_everything_follows(person: Person) -> None:
    person.means(have("3 sacks dry leaves"), have("1 bucket kitchen scraps a week"))
    before = (person.talk.household, person.plan, person.talk.question)
    person.means(told("place.space", "flat"))
    assert person.plan != before[1]
    person.means(Ask("back", HERE))
    assert "Taken back: a flat" in person.heard("heard")
    assert (person.talk.household, person.plan, person.talk.question) == before


def test_going_back_to_the_very_start_and_no_further(person: Person) -> None:
    person.means(have("3 sacks dry leaves")).means(Ask("back", HERE))
    assert person.talk.plan is None
    person.means(Ask("back", HERE))
    assert "nothing to take back" in person.heard("answer")


def test_a_question_passed_over_is_not_put_again_until_it_is_taken_back(person: Person) -> None:
    person.means(have("3 sacks dry leaves"))
    first = person.question
    person.means(Ask("skip", HERE))
    assert "Left open" in person.heard("heard")
    assert person.question != first
    person.means(Ask("back", HERE))
    assert person.question == first


def test_starting_again_sets_everything_aside_and_can_be_taken_back(person: Person) -> None:
    person.means(have("3 sacks dry leaves"), told("place.space", "garden"))
    household = person.talk.household
    person.means(Ask("again", HERE))
    assert person.talk.plan is None
    assert person.talk.changes == ()
    person.means(Ask("back", HERE))
    assert person.talk.household == household


def test_changes_tell_what_was_said_move_by_move(person: Person) -> None:
    person.means(have("3 sacks dry leaves")).means(told("place.space", "garden")).means(Ask("skip", HERE))
    assert person.talk.changes[0].startswith("3 sacks of dry autumn leaves")
    assert person.talk.changes[1] == "a garden"
    assert person.talk.changes[2].startswith("left open")


def test_none_of_it_takes_it_away(person: Person) -> None:
    person.means(have("3 sacks dry leaves"), have("2 sacks straw")).means(HaveNot(("straw", "hay"), HERE))
    assert person.litres("straw") == 0
    assert "no straw" in person.heard("heard")


# ---------------------------------------------------------------- trying


def test_what_if_changes_nothing_until_yes(person: Person) -> None:
    person.means(have("6 sacks dry leaves"), have("3 buckets coffee grounds"), told("place.space", "garden"))
    before = person.plan
    person.means(WhatIf((HaveNot(("coffee-grounds",), HERE),), HERE))
    answer = person.heard("answer")
    assert answer.startswith("Suppose no coffee grounds.")
    assert 2 <= len(answer.split("\n")) <= 5
    assert person.plan == before
    person.means(Ask("yes", HERE))
    assert person.litres("coffee-grounds") == 0


def test_what_if_tells_another_method_with_its_reason(person: Person) -> None:
    person.means(have("6 sacks dry leaves"), have("1 bucket kitchen scraps a week"), told("place.space", "garden"))
    person.means(WhatIf((told("place.space", "flat"),), HERE))
    assert ", not a bin, because a heap needs open air" in person.heard("answer")
    assert "because" in person.heard("answer")


def test_what_if_it_is_so_already(person: Person) -> None:
    person.means(told("place.space", "garden"), have("6 sacks dry leaves"))
    person.means(WhatIf((told("place.space", "garden"),), HERE))
    assert "nothing would change" in person.heard("answer")


def test_what_if_of_nothing_that_was_understood(person: Person) -> None:
    person.means(WhatIf((Lost("pigs could fly", HERE),), HERE))
    assert "pigs could fly" in person.heard("answer")


def test_a_swap_is_as_much_by_volume_and_is_kept_only_if_so_wished(person: Person) -> None:
    person.means(have("2 sacks straw"), have("3 buckets coffee grounds"))
    straw = person.litres("straw")
    person.means(Swap("straw", "shredded-paper", HERE))
    assert person.question.ask == "Keep it so?"
    assert person.litres("straw") == straw
    person.means(Ask("no", HERE))
    assert person.litres("straw") == straw
    person.means(Swap("straw", "shredded-paper", HERE)).means(Ask("yes", HERE))
    assert person.litres("straw") == 0
    assert person.litres("shredded-paper") == pytest.approx(straw)


def test_a_bale_is_swapped_by_its_litres(person: Person) -> None:
    person.means(have("2 straw bales"))
    straw = person.litres("straw")
    person.means(Swap("straw", "dry-leaves", HERE)).means(Pick(1, HERE))
    assert person.litres("dry-leaves") == pytest.approx(straw)


def test_what_is_not_there_cannot_be_swapped(person: Person) -> None:
    person.means(have("3 sacks dry leaves")).means(Swap("straw", "hay", HERE))
    assert "not told me of any straw" in person.heard("answer")


# ---------------------------------------------------------------- what must be said at once


def test_a_grave_caution_is_said_at_once_and_once(person: Person) -> None:
    person.means(have("2 wheelbarrows horse manure"), have("3 sacks dry leaves"), told("place.space", "garden"))
    # 120 days between raw manure and harvest: 7 CFR 205.203 as in rules/safety.toml.
    assert "120 days" in person.heard("caution")
    person.means(told("place.climate", "temperate"))
    assert "120 days" not in person.heard("caution")


def test_what_stays_out_is_said_as_soon_as_it_is_named(person: Person) -> None:
    person.means(have("3 sacks dry leaves"), told("place.space", "garden")).means(have("1 bucket dog waste"))
    assert any(line.startswith("Dog waste: ") for line in person.heard("caution").split("\n"))


def test_the_method_is_told_when_it_changes_and_not_otherwise(person: Person) -> None:
    person.means(have("6 sacks dry leaves"), have("2 buckets kitchen scraps a week"), told("place.space", "garden"))
    assert "suits you best so far" in person.heard("verdict")
    person.means(told("place.neighbours", "far"))
    assert person.heard("verdict") == ""
    person.means(told("place.space", "flat"))
    verdict = person.heard("verdict")
    assert verdict.startswith("Now a ")
    assert "suits you better than a " in verdict


def test_the_method_is_not_told_before_there_is_anything_to_compost(person: Person) -> None:
    person.means(told("place.space", "garden"))
    assert person.heard("verdict") == ""
    assert "What have you got" in person.question.ask


# ---------------------------------------------------------------- asking back


def test_why_names_the_rules_and_their_sources(person: Person) -> None:
    person.means(have("6 sacks dry leaves"), told("place.space", "garden"), told("place.pests", "rats"))
    person.means(AskWhy("m1", HERE))
    answer = person.heard("answer")
    assert "rats-want-it-closed" in answer
    assert "test-valley-rats" in answer
    assert "you: " in answer


def test_every_line_of_the_plan_can_be_asked_why(person: Person) -> None:
    person.means(have("6 sacks dry leaves"), have("1 bucket kitchen scraps a week"), have("1 jug wood ash"))
    for line in person.plan.lines():
        person.means(AskWhy(line.id, HERE))
        assert person.heard("answer").startswith(f"{line.id}: {line.text}")


def test_why_of_a_question_tells_what_the_answers_would_change(person: Person) -> None:
    person.means(have("6 sacks dry leaves"), have("1 bucket kitchen scraps a week"))
    while person.question.attribute != "place.space":
        person.means(Ask("skip", HERE))
    person.means(AskWhy("question", HERE))
    answer = person.heard("answer")
    assert answer.startswith(person.question.why)
    assert "“a flat or room with no outdoor space”" in answer


def test_why_of_a_line_that_is_not_there_names_the_nearest(person: Person) -> None:
    person.means(have("6 sacks dry leaves")).means(AskWhy("m9", HERE))
    assert "no line called m9" in person.heard("answer")
    assert "m1" in person.heard("answer")


def test_a_material_is_answered_with_lines_that_can_be_asked_why(person: Person) -> None:
    person.means(AskMaterial(("citrus-peel",), HERE))
    reply = next(reply for reply in person.replies if reply.kind == "answer")
    assert "yes, in an open heap or a bin" in reply.text
    assert {line.id for line in reply.lines} <= set(person.talk.context.lines)
    told = []
    for line in reply.lines:
        person.means(AskWhy(line.id, HERE))
        told.append(person.heard("answer"))
    assert any("citrus-and-worms" in text for text in told)


def test_of_several_materials_those_alike_are_told_together(person: Person) -> None:
    person.means(AskMaterial(("lettuce", "dog-waste", "cucumbers"), HERE))
    answer = person.heard("answer")
    names = [KNOWLEDGE.materials[name].name for name in ("lettuce", "cucumbers")]
    assert " and ".join(names).lower() in answer.lower()
    assert any(line.startswith("No: dog waste") for line in answer.split("\n"))


def test_what_else_gives_the_next_two_with_reasons(person: Person) -> None:
    person.means(have("6 sacks dry leaves"), have("1 bucket kitchen scraps a week"), told("place.space", "garden"))
    ranking = person.plan.choice.ranking
    person.means(Ask("else", HERE))
    answer = person.heard("answer")
    assert ranking[0].name in answer.split("\n")[0]
    assert f"2. An {ranking[1].name}" in answer or f"2. A {ranking[1].name}" in answer
    assert "for it:" in answer


def test_units_change_what_is_said_and_not_what_is_known(person: Person) -> None:
    person.means(have("3 sacks dry leaves"))
    household = person.talk.household
    person.means(Ask("us", HERE))
    assert person.plan.units == "us"
    assert person.talk.household == household
    person.means(Ask("list", HERE))
    assert "gal" in person.text


# ---------------------------------------------------------------- numbers, yes and no


def test_numbers_pick_from_the_list_on_the_screen(person: Person) -> None:
    person.means(have("3 sacks dry leaves"))
    options = person.question.options
    person.means(Pick(5, HERE))
    assert person.talk.household.answers["place.space"] == (options[4].value,)


def test_several_numbers_pick_several_where_several_may_hold(person: Person) -> None:
    person.means(have("3 sacks dry leaves"), told("place.space", "garden"))
    while person.question.attribute != "place.container":
        person.means(Ask("skip", HERE))
    person.means(Pick(3, HERE), Pick(5, HERE))
    assert person.talk.household.answers["place.container"] == ("closed-bin", "tumbler")


@pytest.mark.parametrize("number", [0, 99, -1])
def test_a_number_that_is_not_on_the_list_is_refused_kindly(person: Person, number: int) -> None:
    person.means(have("3 sacks dry leaves")).means(Pick(number, HERE))
    assert "There are 7 to pick from." in person.heard("answer")


def test_yes_with_nothing_to_say_yes_to(person: Person) -> None:
    person.means(have("3 sacks dry leaves")).means(Ask("yes", HERE))
    assert person.heard("answer").startswith("Good.")


def test_i_dont_know_is_always_the_last_option(person: Person) -> None:
    person.means(have("6 sacks dry leaves"), have("1 bucket kitchen scraps a week"))
    for _ in range(12):
        if person.talk.question is None:
            person.means(Ask("skip", HERE))
            if person.talk.question is None:
                break
        assert person.question.options[-1].label == "I don't know"
        person.means(Pick(len(person.question.options), HERE))


# ---------------------------------------------------------------- the doors, and the screen


@pytest.mark.parametrize("door", get_args(Door))
def test_every_door_leads_somewhere_and_to_a_question(person: Person, door: Door) -> None:
    person.means(Enter(door, HERE))
    assert len(person.text) > 40
    assert person.talk.question is not None


def test_without_manure_nitrogen_comes_from_elsewhere(person: Person) -> None:
    person.means(Enter("no-manure", HERE))
    named = person.heard("answer")
    for name, material in KNOWLEDGE.materials.items():
        if material.fetch and material.role == "green" and "farm-manure" not in material.traits:
            assert material.name in named, name


def test_a_screen_edits_amounts_and_answers_directly(person: Person) -> None:
    person.means(have("3 sacks dry leaves"), have("2 sacks straw"), told("place.container", "closed-bin"))
    person.replies = person.talk.set_amount("dry-leaves", "5 sacks")
    assert person.litres("dry-leaves") == pytest.approx(375)
    person.replies = person.talk.set_amount("dry-leaves", "purple")
    assert person.heard("lost")
    assert person.litres("dry-leaves") == pytest.approx(375)
    person.talk.set_amount("straw", "none")
    assert person.litres("straw") == 0
    person.talk.set_answer("place.container", ("tumbler",))
    assert person.talk.household.answers["place.container"] == ("tumbler",)
    person.talk.set_answer("place.container", ())
    assert "place.container" not in person.talk.household.answers
    person.talk.remove("dry-leaves")
    assert person.talk.household.holdings == ()
    person.means(Ask("back", HERE))
    assert person.litres("dry-leaves") == pytest.approx(375)


def test_carrying_on_with_a_household_says_what_stands(tmp_path: Path) -> None:
    household = Household("the terrace", (have("3 sacks dry leaves").holding,), {"place.space": ("garden",)})
    person = Person(tmp_path, household)
    assert "Carrying on with the terrace" in person.heard("greeting")
    assert person.heard("verdict")
    assert person.talk.plan is not None


def test_every_exchange_is_counted(person: Person) -> None:
    person.means(have("3 sacks dry leaves")).means(Ask("list", HERE))
    person.talk.set_amount("dry-leaves", "2 sacks")
    assert person.talk.exchanges == 3
    person.means(text="  ")
    assert person.talk.exchanges == 3

"""Conversations as people would hold them, typed word by word, from the first line to what they came for."""

from __future__ import annotations

from pathlib import Path

import pytest
from conversing import ENGINE, KNOWLEDGE, Person
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.counsel.consult import consult


@pytest.fixture
def person(tmp_path: Path) -> Person:
    return Person(tmp_path)


# ---------------------------------------------------------------- from cold to a recipe


def test_leaves_grounds_and_scraps(person: Person) -> None:
    person.says("3 bags of leaves, a bucket of coffee grounds and the kitchen scraps")
    assert person.heard("heard").startswith(
        "Heard: 3 bags of dry autumn leaves (about 140 L), 1 bucket of coffee grounds"
    )
    assert "kitchen scraps a week" in person.heard("heard")
    assert "suits you best so far" in person.heard("verdict")
    for _ in range(8):
        if person.talk.question is None:
            break
        person.says("I don't know")
    assert person.talk.exchanges <= 8
    assert person.heard("verdict").startswith("So: a")
    assert any(line.id == "r1" for reply in person.replies for line in reply.lines)


def test_an_old_hand_says_it_all_in_one_breath(person: Person) -> None:
    person.says(
        "6 sacks of dry leaves, 2 wheelbarrows of horse manure, 3 buckets of grass clippings, 4 x 4 ft, I want it quick"
    )
    household = person.talk.household
    assert {held.material for held in household.holdings} == {"dry-leaves", "horse-manure", "grass-clippings"}
    assert household.room is not None
    assert household.answers["wish.aim"] == ("quick",)
    assert person.plan.choice.aim == "hot"


def test_somebody_who_does_not_know_where_to_begin(person: Person) -> None:
    person.says("1")
    assert "What have you got" in person.question.ask
    person.says("1, 2")
    assert {held.material for held in person.talk.household.holdings} == {"kitchen-scraps", "dry-leaves"}
    assert "at a guess" in person.heard("heard")
    assert person.talk.plan is not None


def test_somebody_in_a_flat(person: Person) -> None:
    person.says("a caddy of kitchen scraps a week", "we live in a flat with no garden")
    assert person.method in ("fermented-bucket", "worm-bin", "collection")
    assert "flat" in person.text


def test_the_picked_option_may_be_typed_in_its_own_words(person: Person) -> None:
    person.says("6 sacks of leaves and a bucket of kitchen scraps a week")
    while person.question.attribute != "place.space":
        person.says("skip")
    for option in person.question.options[:-1]:
        person.says(option.say)
        assert person.talk.household.answers["place.space"] == (option.value,)
        person.says("go back")


def test_several_options_may_be_typed_in_their_own_words(person: Person) -> None:
    person.says("6 sacks of leaves and a bucket of kitchen scraps a week", "a small garden")
    while not person.question.many:
        person.says("I don't know")
    attribute, (first, second, *_) = person.question.attribute, person.question.options[1:]
    person.says(f"{first.say}, {second.say}")
    assert person.talk.household.answers[attribute] == (first.value, second.value)


# ---------------------------------------------------------------- changing one's mind


def test_changing_an_earlier_answer(person: Person) -> None:
    person.says("6 sacks of leaves and a bucket of kitchen scraps a week", "it's a balcony")
    on_a_balcony = person.method
    person.says("a worm bin is there already")
    person.says("actually it is a garden")
    assert "in place of a balcony" in person.heard("heard")
    assert person.talk.household.answers["place.container"] == ("worm-bin",)
    assert person.plan == consult(person.talk.household, KNOWLEDGE, ENGINE, with_doubts=False)
    assert person.method != on_a_balcony or person.heard("verdict") == ""


def test_correcting_the_amount_just_said(person: Person) -> None:
    person.says("3 sacks of leaves", "no, 5 sacks")
    assert person.litres("dry-leaves") == pytest.approx(375)
    assert "in place of 3 sacks" in person.heard("heard")


def test_another_sack_of_the_same(person: Person) -> None:
    person.says("3 sacks of leaves", "another 2 sacks of leaves")
    assert person.litres("dry-leaves") == pytest.approx(375)


def test_go_back_and_go_back(person: Person) -> None:
    person.says("3 sacks of leaves", "2 buckets of coffee grounds", "a garden")
    person.says("go back", "undo")
    assert [held.material for held in person.talk.household.holdings] == ["dry-leaves"]
    assert person.talk.household.answers == {}


def test_start_again_and_think_better_of_it(person: Person) -> None:
    person.says("3 sacks of leaves", "a garden", "start again")
    assert person.talk.plan is None
    assert person.question.options[0].label == "Start a heap"
    person.says("go back")
    assert person.litres("dry-leaves") > 0


def test_a_measure_of_ones_own_follows_everywhere(person: Person) -> None:
    person.says("2 buckets of coffee grounds")
    assert person.litres("coffee-grounds") == pytest.approx(22)
    person.says("my bucket is 20 L")
    assert person.litres("coffee-grounds") == pytest.approx(40)


# ---------------------------------------------------------------- what if, and swaps


def test_what_if_there_were_no_coffee_grounds(person: Person) -> None:
    person.says("6 sacks of leaves, 3 buckets of coffee grounds", "a garden")
    before = person.plan
    person.says("what if I had no coffee grounds")
    assert person.heard("answer").startswith("Suppose no coffee grounds.")
    assert person.plan == before


def test_what_if_there_were_more_and_yes(person: Person) -> None:
    person.says(
        "6 sacks of leaves, 1 bucket of coffee grounds", "a garden", "what if I had 5 buckets of coffee grounds?"
    )
    assert person.litres("coffee-grounds") == pytest.approx(11)
    person.says("yes")
    assert person.litres("coffee-grounds") == pytest.approx(55)


def test_what_if_and_then_no(person: Person) -> None:
    person.says("6 sacks of leaves, 1 bucket of coffee grounds", "what if I had no leaves", "no")
    assert person.litres("dry-leaves") > 0


def test_swap_the_straw_for_shredded_paper_and_keep_it(person: Person) -> None:
    person.says("2 sacks of straw, 3 buckets of grass clippings", "a garden", "swap the straw for shredded paper")
    assert person.question.ask == "Keep it so?"
    person.says("yes")
    assert {held.material for held in person.talk.household.holdings} == {"shredded-paper", "grass-clippings"}


def test_swap_and_think_better_of_it(person: Person) -> None:
    person.says("2 sacks of straw, 3 buckets of grass clippings", "swap the straw for cardboard", "no")
    assert {held.material for held in person.talk.household.holdings} == {"straw", "grass-clippings"}
    assert person.talk.question is None or person.question.ask != "Keep it so?"


# ---------------------------------------------------------------- why, at each stage


def test_why_before_anything_is_known(person: Person) -> None:
    person.says("why")
    assert person.text
    assert person.talk.plan is None


def test_why_is_that_asked(person: Person) -> None:
    person.says("6 sacks of leaves and a bucket of kitchen scraps a week")
    asked = person.question
    person.says("why do you ask?")
    assert person.heard("answer").startswith(asked.why)
    assert "What the answers would change" in person.heard("answer")
    assert person.question == asked


def test_why_of_the_method_down_to_what_was_said(person: Person) -> None:
    person.says("6 sacks of leaves and a bucket of kitchen scraps a week", "a garden", "we have rats", "why m1")
    answer = person.heard("answer")
    assert "rule: bin" in answer
    assert "you: what kind of space there is: a garden" in answer
    assert "test-valley-rats" in answer


def test_why_of_a_line_of_the_recipe(person: Person) -> None:
    person.says("6 sacks of leaves and 4 buckets of grass", "a garden", "why r1")
    assert person.heard("answer").startswith("r1: ")
    assert "carbon to nitrogen" in person.heard("answer")


def test_why_when_all_is_said(person: Person) -> None:
    person.says("6 sacks of leaves and 4 buckets of grass")
    while person.talk.question is not None:
        person.says("I don't know")
    person.says("why")
    assert "stands, because:" in person.heard("answer")
    assert "[" in person.heard("answer")


def test_why_after_a_material(person: Person) -> None:
    person.says("6 sacks of leaves", "can I put citrus in the worm bin?")
    assert "no, not in a worm bin" in person.heard("answer")
    person.says("why not?")
    assert "citrus-and-worms" in person.heard("answer")


# ---------------------------------------------------------------- asking about things


@pytest.mark.parametrize(
    ("asked", "word"),
    [
        ("can I put citrus in the worm bin?", "no, not in a worm bin"),
        ("what about bread in the heap?", "no, not in"),
        ("can straw go in?", "Straw: "),
        ("do plastic bags rot?", "Plastic: no, not in any compost"),
    ],
)
def test_whether_a_thing_may_go_in(person: Person, asked: str, word: str) -> None:
    person.says("6 sacks of leaves", asked)
    assert word in person.heard("answer")
    assert any(because.sources for reply in person.replies for line in reply.lines for because in line.why)


def test_asking_about_a_thing_does_not_add_it(person: Person) -> None:
    person.says("6 sacks of leaves", "can I put in bread?")
    assert [held.material for held in person.talk.household.holdings] == ["dry-leaves"]


def test_what_else_could_be_done(person: Person) -> None:
    person.says("6 sacks of leaves and a bucket of kitchen scraps a week", "a garden", "what else could I do?")
    assert "comes first with" in person.heard("answer")
    assert "2. " in person.heard("answer")


def test_what_was_told_so_far(person: Person) -> None:
    person.says("6 sacks of leaves", "a garden", "what have I told you so far")
    assert "6 sacks of dry autumn leaves" in person.heard("answer")
    assert "a garden" in person.heard("answer")


def test_show_the_plan(person: Person) -> None:
    person.says("6 sacks of leaves and 4 buckets of grass", "show the plan")
    (reply,) = (reply for reply in person.replies if reply.kind == "plan")
    assert reply.plan is not None
    assert reply.plan.doubts
    assert reply.plan.model_copy(update={"doubts": ()}) == person.plan


def test_show_the_plan_too_soon(person: Person) -> None:
    person.says("show the plan")
    assert "no plan yet" in person.heard("answer")


def test_american_units(person: Person) -> None:
    person.says("5 gal of coffee grounds and 3 bags of leaves", "US units", "show the plan")
    assert person.plan.units == "us"
    assert "gal" in " ".join(line.text for line in person.plan.lines())


# ---------------------------------------------------------------- keeping


def test_save_leave_and_carry_on_another_day(tmp_path: Path) -> None:
    first = Person(tmp_path).says("6 sacks of leaves and a bucket of kitchen scraps a week", "a small garden with rats")
    household, plan = first.talk.household, first.plan
    first.says("save it as Behind the shed")
    assert "Kept as “Behind the shed”" in first.heard("answer")
    first.says("bye")
    assert "not kept" not in first.heard("farewell")

    second = Person(tmp_path).says("carry on with a heap")
    assert second.question.options[0].say == "Behind the shed"
    second.says("1")
    assert second.talk.household.holdings == household.holdings
    assert second.talk.household.answers == household.answers
    assert second.method == plan.choice.method
    second.says("what if I had no leaves", "no", "go back")
    assert second.talk.plan is None


def test_two_heaps_are_kept_apart_and_one_is_written_over(tmp_path: Path) -> None:
    person = Person(tmp_path).says("6 sacks of leaves", "save", "start again", "4 sacks of straw", "save")
    person.says("start again", "carry on with a heap")
    assert {option.say for option in person.question.options[:-1]} == {"my heap", "my heap 2"}
    person.says("my heap", "9 sacks of leaves", "save", "start again", "carry on with a heap", "my heap")
    assert person.litres("dry-leaves") == pytest.approx(9 * 75)


def test_nothing_to_carry_on_with(person: Person) -> None:
    person.says("carry on with a heap")
    assert "No heap is kept yet" in person.heard("answer")
    assert "What have you got" in person.question.ask


def test_leaving_without_saving_is_said(person: Person) -> None:
    person.says("6 sacks of leaves", "bye")
    assert "not kept" in person.heard("farewell")


# ---------------------------------------------------------------- heaps in trouble


def test_a_heap_that_stinks(person: Person) -> None:
    person.says("it stinks of rotten eggs and it's slimy")
    assert person.heard("verdict").startswith("Not enough air")
    cures = [line.text for reply in person.replies for line in reply.lines]
    assert any("Turn it" in text for text in cures)
    assert any("poison" in text for text in cures)  # the gas gathers in a pit, not over an open heap


def test_a_shut_bucket_that_stinks_is_opened_outdoors(person: Person) -> None:
    person.says("my fermented bucket stinks of rotten eggs")
    assert "outdoors" in person.heard("caution")


def test_the_cure_is_measured_once_it_is_known_what_went_in(person: Person) -> None:
    person.says("it stinks of rotten eggs and it's slimy")
    assert "I measure the cure out" in person.heard("verdict")
    person.says("6 buckets of grass clippings and 1 sack of dry leaves")
    assert any("C:N from about" in line.text for reply in person.replies for line in reply.lines)


def test_a_heap_that_is_cold_is_asked_about(person: Person) -> None:
    person.says("something is wrong with my heap", "it is stone cold")
    assert person.question.attribute.startswith("sign.")
    for _ in range(6):
        if person.talk.question is None:
            break
        person.says("1")
    assert person.talk.question is None or person.talk.exchanges >= 7


def test_a_sign_can_be_taken_back(person: Person) -> None:
    person.says("something is wrong with my heap", "it stinks of ammonia", "go back")
    assert "Taken back" in person.heard("heard")
    assert "Tell me what you see" in person.text


# ---------------------------------------------------------------- nonsense and mischief


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "   ",
        "?",
        "asdf qwer zxcv",
        "🤖🤖🤖",
        "\x00\x1b[31mred\x07",
        "لا أعرف",
        "1" * 400,
        "-5 buckets of leaves",
        "0 sacks of straw",
        "1e309 litres of straw",
        "99999999999 buckets of grass",
        "; DROP TABLE heaps; --",
        "why why why",
        "yes no yes",
        "7 8 9 10 11",
        "no",
        "save as",
        "swap straw for straw",
        "what if",
        "what if what if I had leaves",
        "the quick brown fox jumps over the lazy dog " * 60,
        "leaves\nand\r\ngrass\tand\u2028straw",
        "\u202e3 sacks of leaves\u202c",
    ],
)
def test_nothing_typed_breaks_the_talk(person: Person, typed: str) -> None:
    for before in ((), ("3 sacks of leaves and a bucket of coffee grounds",)):
        person.says(*before, typed)
        assert person.replies, typed
        assert all(reply.text for reply in person.replies)
        assert not any(sign in person.text for sign in "\x00\x1b\x07\u202e")
    person.says("show the plan")
    assert person.talk.plan is not None


def test_a_conversation_of_nonsense_keeps_what_sense_there_was(person: Person) -> None:
    person.says("3 sacks of leaves", "colourless green ideas sleep furiously", "42 43 44", "a garden")
    assert person.litres("dry-leaves") > 0
    assert person.talk.household.answers.get("place.space") == ("garden",)


_PIECES = st.sampled_from(
    [
        "my soil's like concrete",
        "how thick do I put it on",
        "A, 1.2 x 6 m, for vegetables",
        "no, 8 m2 not 6",
        "we've three hens and a pony, how much straw",
        "3 sacks of leaves",
        "no leaves",
        "a bucket of grass",
        "straw",
        "manure",
        "a garden",
        "a flat",
        "rats",
        "why",
        "why m1",
        "yes",
        "no",
        "1",
        "2 and 3",
        "99",
        "go back",
        "start again",
        "what if I had no straw",
        "swap straw for hay",
        "skip",
        "can I put in bread",
        "show the plan",
        "what else",
        "us units",
        "metric",
        "help",
        "it stinks",
        "next question",
        "4 x 4 ft",
        "my bucket is 12 L",
        "what have I told you",
        "asdf",
        "",
        "something is wrong with my heap",
        "I have no manure",
    ]
)


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture]
)
@given(st.lists(_PIECES, max_size=10))
def test_whatever_is_said_in_whatever_order_the_plan_is_that_of_the_household(tmp_path: Path, lines: list[str]) -> None:
    person = Person(tmp_path)
    for line in lines:
        person.says(line)
        assert person.replies or line == ""
        household = person.talk.household
        if household.holdings or household.answers or household.room is not None:
            assert person.plan == consult(household, KNOWLEDGE, ENGINE, units=person.talk.units, with_doubts=False)
        if person.talk.question is not None:
            assert person.question.options[-1].label == "I don't know"
    while person.talk.changes:
        person.says("go back")
        if "nothing to take back" in person.text:
            break
    assert person.talk.plan is None

"""Short dialogues of people in trouble: what was told before counts, what is told in passing reaches the answer.

Each is invented for the kind it stands for. What is right is what the sources of the rules say, named beside each.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from conversing import Person


@pytest.fixture
def person(tmp_path: Path) -> Person:
    return Person(tmp_path)


def test_told_before_the_trouble_opened(person: Person) -> None:
    """Compost that looks ready and smells of ammonia is not (Westford, finished compost; source westford-finished)."""
    person.says("It's dark and crumbly now, is it ready?")
    person.says("mind you, it smells of ammonia")
    assert person.heard("verdict").startswith("Not ripe yet")


def test_wet_on_top_says_nothing_of_the_middle(person: Person) -> None:
    """Too wet and too dry look alike from outside (NRCS 317): the top is no answer to the squeeze."""
    person.says("the heap has been stone cold for a month")
    assert person.question.attribute == "sign.moisture"
    person.says("the surface is damp whenever I check")
    assert "Too wet" not in person.text
    person.says("dry, it falls apart")
    assert person.heard("verdict").startswith("Too dry")


def test_what_is_likened_is_neither_danger_nor_content(person: Person) -> None:
    """A bloom like ash is heat-loving life that dries out (source on-farm-troubles-memory), and no ash."""
    person.says("it's all dry and dusty inside, grey stuff like somebody emptied an ashtray over it")
    assert "fire service" not in person.text
    assert "a grey-white bloom like ash" in person.heard("heard") and "wood ash" not in person.heard("heard")
    assert "Damp it before you fork" in person.text  # the care that goes with dust is shown with the cure


def test_no_name_is_asked_after_while_something_ails(person: Person) -> None:
    """A heap in trouble is asked about its signs, not which greens they were."""
    person.says("my heap just sits there cold, there is lots of green stuff in it")
    assert person.question.attribute.startswith("sign.")
    assert person.talk.plan is None


@pytest.mark.parametrize(
    "line", ["the barn with the straw is close by", "my neighbour has a hose", "the goats are near"]
)
def test_a_danger_that_stands_plans_nothing(person: Person, line: str) -> None:
    """Whoever waits for the fire service is told to (BioCycle on fires in heaps; source biocycle-fires)."""
    person.says("smoke is coming out of the muck heap and it smells burnt")
    person.says(line)
    assert person.heard("caution").startswith("Have you called the fire service?")
    assert person.talk.plan is None


def test_a_warning_is_not_repeated_for_what_tells_nothing_of_the_danger(person: Person) -> None:
    """One reminder; then what is said is heard for what it is, and the danger told again is warned of again."""
    person.says("smoke is coming out of the muck heap and it smells burnt", "the goats are near")
    person.says("three sacks of leaves and two buckets of grass")
    assert "fire service" not in person.text
    person.says("it is smoking again")
    assert "fire service" in person.text


def test_the_danger_is_left_where_the_person_leaves_it(person: Person) -> None:
    person.says("smoke is coming out of the muck heap and it smells burnt", "start over")
    person.says("three sacks of leaves and two buckets of grass")
    assert person.talk.plan is not None


def test_illness_after_dust_counts_though_the_dust_is_past(person: Person) -> None:
    """Fever and cough days after dusty compost: a doctor, today (SA Health on Legionella longbeachae)."""
    person.says("I've a touch of flu, want to sieve the rest of the compost, it was ever so dusty last time")
    assert "doctor today" in person.heard("caution")
    person.says("shivery with a bad cough")
    assert "tell them about the compost" in person.heard("caution")


def test_pure_compost_and_a_crust_are_salt(person: Person) -> None:
    """At most a third of compost in a potting mix (OSU Extension EM 9308): pure it is too salty for seedlings."""
    person.says("the lettuce seedlings keel over and die")
    person.says("it is straight compost and nothing else in the pots", "a white crust has come up on top")
    assert person.heard("verdict").startswith("Too salty")
    assert "no more than a quarter" in person.text


def test_peas_that_stay_green_point_at_nitrogen(person: Person) -> None:
    """Legumes feed themselves: it does not turn the answer."""
    person.says("the cabbages went yellow and stay tiny since I dug my compost in", "only the beans look fine")
    assert "legumes: green" in person.heard("heard").replace("peas, beans or clover in the same bed", "legumes")
    assert person.talk.household.holdings == ()


def test_roots_of_a_tree_are_no_disease(person: Person) -> None:
    person.says("the bay is choked with fine brown roots and dries out")
    assert person.heard("verdict").startswith("Tree or hedge roots")
    assert "weedkiller" in person.text and "clubroot" not in person.text


def test_boxes_of_card_are_not_boxes_of_what_was_spoken_of_last(person: Person) -> None:
    person.says("the bin is a slimy green stinking mess of grass", "I get three boxes of grass a week")
    person.says("there are plenty of cardboard boxes too")
    held = [holding.material for holding in person.talk.household.holdings]
    assert held.count("grass-clippings") == 1
    assert "cardboard" in held


def test_a_sleeper_is_covered_up_again(person: Person) -> None:
    """Common practice, no source: a winter sleeper is left alone."""
    person.says("forked the leaf pile over and found a hedgehog curled up in it, shall I bring it indoors?")
    assert "Put the leaves back over it" in person.text
    assert "Bury food" not in person.text


def test_advice_of_a_neighbour_is_no_spill(person: Person) -> None:
    person.says("rats have got into the bin", "the man next door reckons I should put poison down")
    assert "hazardous" not in person.text
    assert not person.heard("caution").startswith("Stop using that heap")


def test_five_times_i_do_not_know_ends_in_a_guess(person: Person) -> None:
    """After at most five questions there is a best guess with a safe first step."""
    person.says("something is wrong with my heap, it is stone cold")
    asked = 0
    while person.talk.question is not None and asked < 6:
        person.says("I don't know")
        asked += 1
    assert asked <= 5
    verdict = [line.text for reply in person.replies for line in reply.lines]
    assert person.heard("verdict").startswith("My best guess") or verdict


def test_what_drains_into_water_is_never_normal(person: Person) -> None:
    """Run-off must not reach open water (University of Minnesota Extension, Managing manure by composting)."""
    person.says("brown liquid trickles out of my heap and down into the brook, that's fine isn't it?")
    assert not person.heard("verdict").startswith("Nothing is wrong")
    assert "out of the water" in person.text


def test_a_dry_top_says_nothing_of_the_middle(person: Person) -> None:
    """Sun dries the top over a wet middle: common practice, no source."""
    person.says("the heap is dry as dust on top but it stinks, I water it every evening")
    person.says("lower down it is black slime")
    assert person.heard("verdict").startswith("Too wet")
    assert "Water it" not in person.text


def test_a_hand_is_no_thermometer(person: Person) -> None:
    """From about 70 °C it is too hot (BioCycle on fires in heaps); no hand bears 60 °C (common practice, no source)."""
    person.says("my heap is too hot to hold a hand in, should I pour water on it?")
    assert "Put a thermometer" in person.text and "spread it from the outside" not in person.text
    person.says("there's no smoke, just steam")
    assert person.heard("verdict").startswith("Nothing is wrong")


@pytest.mark.parametrize(
    ("line", "answer"),
    [
        ("the pile stays cold so I bought a tub of starter bacteria, how much do I use?", "You need no activator"),
        ("my bin is crawling with ants, shall I pour a kettle of boiling water in?", "No hot water"),
        ("flies everywhere in the bin, should I use fly spray?", "use no poison"),
        ("the heap is stone cold, will a can of cola wake it up?", "No beer, cola"),
    ],
)
def test_a_remedy_that_does_not_help_is_answered_beside_the_cure(person: Person, line: str, answer: str) -> None:
    """Microbes are there already (Cornell, chemistry of composting); poisons kill them (common practice, no source)."""
    person.says(line)
    assert person.heard("verdict") and answer in person.heard("answer")
    assert "Suppose" not in person.text


def test_what_is_in_a_heap_that_ails_is_no_stock_with_a_guessed_amount(person: Person) -> None:
    person.says("my heap stinks of ammonia", "it's mostly hen manure and lawn mowings")
    assert person.talk.household.holdings == ()
    person.says("there are plenty of fallen leaves by the shed")
    assert [held.material for held in person.talk.household.holdings] == ["dry-leaves"]


def test_the_bedding_of_worms_is_no_litter(person: Person) -> None:
    person.says("the worms are leaving the wormery", "the bedding is nice and damp")
    assert "manure" not in person.text


def test_what_is_sunk_and_sweet_is_sieved(person: Person) -> None:
    """Compost at its end smells of earth (Westford, finished compost)."""
    person.says("the heap has shrunk by half", "it smells of woodland soil", "some twigs are left in it")
    assert person.heard("verdict").startswith("Nothing is wrong")
    assert "Sieve it" in person.text


def test_what_is_dug_out_of_a_trench_goes_deeper(person: Person) -> None:
    """A trench has no lid to shut: animals do not smell what lies deep (common practice, no source)."""
    person.says("foxes dig up my bean trench every night")
    assert "Bury it a forearm deep" in person.text and "a lid that latches" not in person.text


def test_a_question_that_was_not_put_is_not_answered(person: Person) -> None:
    """A question is kept back where a line asks; what is said next answers nothing of it."""
    person.says("is it bad when a heap steams?", "there's no smoke")
    assert "smell: nothing" not in person.text


def test_what_is_sick_and_went_in_is_answered_before_any_next_step(person: Person) -> None:
    """Blighted tubers stay out (sources of rules/qualifiers.toml, diseased)."""
    person.says("I threw the potatoes with blight in the heap")
    assert "potato blight tubers out" in person.text
    assert "mix it in" not in person.text


@pytest.mark.parametrize(
    ("said", "answer"),
    [
        ("thanks", "You're welcome"),
        ("hello", "Good day"),
        # Steam over a warm heap is no smoke: source of the answer to sign.steam in rules/seen.toml.
        ("my heap is steaming, is that normal", "That is steam"),
        # BioCycle on fires in heaps; source biocycle-fires.
        ("will it catch fire", "almost never does"),
    ],
)
def test_a_plain_line_gets_a_plain_answer(person: Person, said: str, answer: str) -> None:
    person.says(said)
    assert answer in person.text


def test_what_to_do_is_the_cure_while_a_heap_ails(person: Person) -> None:
    person.says("my heap stinks of ammonia, it is all grass", "so what should I do?")
    assert person.heard("verdict").startswith("Too many greens")
    person.says("I turned it and mixed in the leaves, what next?")
    assert "look again" in person.text


def test_what_went_in_is_told_where_stuff_is_asked_for(person: Person) -> None:
    """Mostly scraps and grass is a heap gone wrong only where a heap stands: common practice, no source."""
    person.says("I want to start composting, where do I begin", "mostly kitchen scraps and grass")
    assert not person.talk.cure
    assert {held.material for held in person.talk.household.holdings} == {"kitchen-scraps", "grass-clippings"}


@pytest.mark.parametrize(
    ("opening", "then", "verdict"),
    [
        # asked while pointing at it, then told more of: each tells of the animal (common practice, no source)
        ("are those mice I can hear in the heap?", "scratching at dusk", "Food scraps that lie open"),
        ("was that a toad, are they snakes?", "smooth and as long as my arm", "An animal that lives in it"),
        # dry heaps stop (NRCS 317): a bare word after what was only half a trouble
        ("is that mould in my heap?", "dry as a biscuit", "Too dry"),
    ],
)
def test_the_second_line_belongs_to_what_the_first_pointed_at(
    person: Person, opening: str, then: str, verdict: str
) -> None:
    """A line that tells more of what was asked about opens the trouble, and no plan."""
    person.says(opening)
    assert not person.heard("verdict")
    person.says(then)
    assert person.heard("verdict").startswith(verdict)
    assert person.talk.plan is None


@pytest.mark.parametrize("opening", ["do snakes live in compost?", "do coffee grounds draw flies?"])
def test_a_question_at_large_opens_no_trouble(person: Person, opening: str) -> None:
    """Nobody who asks what compost draws has seen any of it: what is listed next is to plan with."""
    person.says(opening, "I have leaves and grass")
    assert not person.talk.household.answers.get("sign.animals")
    assert person.method == "open-heap"


@pytest.mark.parametrize("line", ["it is a red plastic one", "ground freezes next week", "it's outside my kitchen"])
def test_what_changes_nothing_is_said_to_change_nothing(person: Person, line: str) -> None:
    """A heap in trouble is told of on: no soil test, no name to settle, no plan."""
    person.says("my pile has gone slimy and it stinks of rotten eggs")
    person.says(line)
    assert "check my soil" not in person.text
    assert person.heard("answer").startswith("That does not change what I said")
    assert not person.heard("lost")


def test_a_sheet_refuses_no_two_lines_alike(person: Person) -> None:
    """Three lines that answer nothing: refused, shown what would do, and then listened to."""
    person.says("check my soil")
    refusals = [person.says(line).text for line in ("grumble grumble", "hmm what")]
    assert refusals[0].startswith("“grumble grumble” is none of these")
    assert "none of these" not in refusals[1] and "1 for" in refusals[1]
    person.says("grumble again")
    assert person.talk.question is None or person.talk.question.ask != "Which check?"


def test_a_sheet_gives_way_to_a_trouble(person: Person) -> None:
    """Something wrong is told of beside an open blank: it is dealt with (Westford on odours; source in the cure)."""
    person.says("check my soil", "my bin stinks of ammonia since I put grass in")
    assert person.heard("verdict").startswith("Too many greens")

"""What kind of thing a line is: invented lines in many voices, each with the act that must come first."""

from __future__ import annotations

import pytest

from advisor.hearing.hear import hear
from advisor.hearing.vocabulary import vocabulary_for
from advisor.knowledge.load import shipped

LINES = {
    "undo": ["undo", "er, take that back please", "ignore that last bit", "cancel that would you"],
    "redo": ["redo", "put it back again"],
    "save": ["save this", "make a note of that please", "could you save my heap for next time"],
    "paper": [
        "give me that on paper",
        "could you print it out for me",
        "I'd like a printout please",
        "can I have the plan on paper?",
        "make me a page to print",
    ],
    "calendar": [
        "put it in my calendar",
        "can you add the dates to my calendar?",
        "give me a calendar file",
        "export it as a calendar",
    ],
    "load": ["open my notes", "where had we got to with my bin?", "carry on from last time"],
    "start_over": ["start again please", "forget all that and start over", "scrap that lot, new heap"],
    "units": ["in litres please", "use imperial", "i don't do gallons"],
    "help": ["help", "what can you do?", "what sort of things can I ask you?"],
    "leave": ["bye", "that's all for today, thanks", "right, I'm off"],
    "off": ["who won the cricket", "tell me a joke", "this app is rubbish"],
    "correct": [
        "no, I meant the other bin",
        "sorry, not Tuesday, it was Thursday",
        "thirty litres, not thirteen",
        "actually it was only two bags",
        "my mistake, that should have been 45",
    ],
    "swap": [
        "swap the straw for shredded paper",
        "I've no straw, could I use torn cardboard?",
        "use hay instead of the leaves",
        "cardboard in place of leaves, would that do?",
    ],
    "what_if": [
        "what if I leave the lid off",
        "suppose I only turn it twice a year?",
        "would it heat up if I added grass",
        "if I stop feeding them for a month will they die?",
        "what would happen if i just left it",
    ],
    "ask_year": ["give me the whole year month by month", "what do I do each month of the year?"],
    "ask_ready": [
        "is it done yet",
        "how will I know when it is finished?",
        "would you say this is ready?",
        "ready or not?",
    ],
    "ask_material": [
        "can i put egg boxes in",
        "is citrus ok for the worms",
        "are tea leaves allowed?",
        "feathers, yes or no?",
        "what about hair from the barber",
        "is possible to put bread in the heap?",
        "shud i add cardboard",
        "banana skins?",
        "is it safe to compost sawdust",
        "i can throw in the bones?",
    ],
    "ask_use": [
        "how much compost on my tomato bed?",
        "can I spread it on the lawn",
        "how thick do I mulch the roses",
        "can I plant straight into it?",
    ],
    "ask_soil": ["how do I test my soil?", "what sort of soil have I got"],
    "ask_plan": [
        "how do I start a compost heap",
        "which bin should I buy?",
        "what's the best way to compost in a small garden",
        "give me a recipe",
        "I want to start composting",
    ],
    "ask_what_now": [
        "what should I do this weekend?",
        "what next",
        "anything I need to do today?",
        "tell me what needs doing",
    ],
    "ask_how": ["how do I turn a heap", "how to sieve compost", "what is bokashi", "how I must store it?"],
    "ask_why": ["why is it so slow", "how come mine never steams", "what makes it smell?"],
    "ask_fact": [
        "how long does it take",
        "how often should I turn it",
        "max height of pile?",
        "how big must be the heap",
        "how much water per barrow of leaves?",
        "where should I put the bin?",
        "is it too late in the year to begin?",
        "how many worms do i need",
        "what temperature should it be",
        "i want to know how much straw for 2 barrows of grass",
        "optimum moisture?",
        "does it need a lid",
    ],
    "stock": [
        "3 bags of leaves and a bucket of peelings",
        "I've got half a ton of horse muck",
        "we get about 5 litres of scraps a week",
        "20 kg straw + 10 kg grass",
        "loads of cardboard, no grass",
        "no leaves left",
        "I have some paper, few leaf and much grass",
    ],
    "deed": [
        "turned it on Saturday",
        "I added two buckets of straw yesterday",
        "put three barrows of leaves on it this morning",
        "we have mixed everything last week",
        "gave it a good soak last night",
    ],
    "circumstance": [
        "the council won't allow open heaps",
        "my back is bad so I can't lift much",
        "I've only got an hour a week",
        "we live in a flat on the third floor",
        "there are five of us",
        "our garden is 6 by 4 metres",
    ],
}


@pytest.mark.parametrize(("act", "line"), [(act, line) for act, lines in LINES.items() for line in lines])
def test_the_first_act_of_a_line(act: str, line: str) -> None:
    assert hear(line, shipped()).acts[:1] == (act,)


#: Lines in which the words of an act stand, and which are not that act.
NOT = {
    "undo": ["the worms went back to the bottom", "I took the last bag back to the shop"],
    "start_over": [
        "do I have to start again?",
        "it began to heat and then cooled, will it start again",
        "a new heap would cost more",
    ],
    "save": ["I save egg boxes for it", "to save work I never turn it"],
    "paper": [
        "the paper is wet",
        "can I put printed paper in it?",
        "I laid the scraps on a sheet of paper",
        "is newspaper print harmful",
    ],
    "calendar": ["I put an old calendar in", "can calendars be composted?", "my calendar says I turned it on Sunday"],
    "leave": ["I leave it a week between feeds", "should I leave the lid off?", "later in the year it steams"],
    "help": ["will lime help?", "the kids help me turn it"],
    "load": ["I get a load of muck each spring", "I opened the bin and it stank"],
    "units": ["it holds 200 litres", "the pile is four feet high"],
    "correct": ["it's not wet, it's dry", "there is no smell, no flies"],
    "stock": [
        "the leaves in my heap are slimy",
        "how much straw do I need for two buckets of grass?",
        "can I put in four bags of leaves?",
        "put two barrows of leaves on yesterday",
    ],
    "ask_why": ["that is why I turn it", "the reason is the rain"],
    "ask_how": ["I know how to turn it", "that's how I do it"],
    "deed": ["should I have turned it?", "when do I turn it"],
}


@pytest.mark.parametrize(("act", "line"), [(act, line) for act, lines in NOT.items() for line in lines])
def test_words_of_an_act_that_are_not_that_act(act: str, line: str) -> None:
    assert act not in hear(line, shipped()).acts


#: Questions that are taken for a neighbouring topic as yet; each is a fault to mend.
TAKEN_FOR_ANOTHER = frozenset([("spread-how-much", "how much compost for the roses?")])


@pytest.mark.parametrize(("name", "line", "says"), vocabulary_for(shipped()).topics)
def test_examples_of_topics(name: str, line: str, says: bool, request: pytest.FixtureRequest) -> None:
    """Every example of rules/words/topics.toml asks for its topic, and no counter does."""
    if (name, line) in TAKEN_FOR_ANOTHER:
        request.applymarker(pytest.mark.xfail(reason="taken for a neighbouring topic"))
    assert (name in {one.topic for one in hear(line, shipped()).asked}) is says


@pytest.mark.xfail(reason="roses are taken for trees")
def test_two_questions_are_both_asked() -> None:
    heard = hear("how often should I turn it, and how much compost for the roses?", shipped())
    assert [(one.act, one.topic) for one in heard.asked] == [
        ("ask_fact", "turn-how-often"),
        ("ask_use", "spread-how-much"),
    ]


def test_a_question_names_its_materials() -> None:
    (asked,) = hear("how much straw for a trailer of grass?", shipped()).asked
    assert (asked.topic, [one.said for one in asked.materials]) == ("brown-for-green", ["straw", "grass"])


@pytest.mark.parametrize(
    ("line", "about"),
    [
        ("two buckets of grass and a bag of leaves", "heap"),
        ("the lid of my fermented bucket is stuck", "fermented bucket"),
        ("my worms are climbing out of the box", "worm bin"),
        ("the compost stinks of ammonia", "heap"),
        ("how much of the finished compost for the beds?", "compost"),
        ("is horse muck all right?", "heap"),
        ("my tumbler is full of balls", "tumbler"),
        ("what kind of soil is this?", "soil"),
    ],
)
def test_what_a_line_is_about(line: str, about: str) -> None:
    assert hear(line, shipped()).about == about

"""Why: the tree of reasons, and how it reads."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
import toy_garden as toy
from toy_garden import fact, rule

from advisor.errors import InferenceFault
from advisor.inference.engine import Consultation, Engine
from advisor.inference.facts import Fact
from advisor.inference.trace import Reason, render, tree
from advisor.knowledge.base import Rule


def _consult(rules: list[Rule] | None, *told: tuple[Fact, str], close: bool = False) -> Consultation:
    engine = toy.engine() if rules is None else Engine(rules, toy.KINDS)
    with engine.consultation() as talk:
        for each, origin in told:
            talk.tell([each], origin)
        if close:
            talk.close_answers()
    return talk


def _all(reason: Reason) -> Iterator[Reason]:
    yield reason
    for each in (*reason.children, *reason.also):
        yield from _all(each)


def test_a_reason_goes_down_to_what_was_said() -> None:
    talk = _consult(
        None,
        (fact("yard.soil", "clay"), "you said: heavy clay"),
        (fact("pile.trait", "dung", "south"), "from the table of materials"),
        (fact("pile.share", 62.5, "south"), "from the amounts you gave"),
    )
    why = tree(talk, "pile[south].fate = ash")
    assert (why.origin, why.rule, why.evidence, why.source) == ("rule", "doomed", "tradition", ("common-practice",))
    fate, mood = why.children
    assert (fate.statement, fate.rule) == ("pile[south].fate = dung", "much-dung")
    assert [(child.statement, child.origin, child.said) for child in fate.children] == [
        ("pile[south].trait = dung", "computed", "from the table of materials"),
        ("pile[south].share = 62.5", "computed", "from the amounts you gave"),
    ]
    assert (mood.statement, mood.because) == ("yard.mood = clay", "Clay holds water.")
    assert mood.children == (Reason("yard.soil = clay", "told", "you said: heavy clay"),)


def test_a_silence_is_a_reason() -> None:
    talk = _consult(None, (fact("yard.area", 30), "computed"), close=True)
    silence, area = tree(talk, "yard.mood = ash").children
    assert silence == Reason("unknown(yard.soil)", "unanswered", "nobody has said")
    assert area.origin == "computed"


def test_every_rule_that_says_so_is_named() -> None:
    rules = [
        rule("by-area", ["yard.area > 1"], [("yard.mood", "ash")]),
        rule("by-soil", ["yard.soil == 'clay'"], [("yard.mood", "ash")]),
    ]
    talk = _consult(rules, (fact("yard.area", 30), "computed"), (fact("yard.soil", "clay"), "you said"))
    why = tree(talk, "yard.mood = ash")
    assert [why.rule, *(other.rule for other in why.also)] == ["by-area", "by-soil"]


def test_what_was_told_and_also_follows_keeps_both_reasons() -> None:
    rules = [rule("by-area", ["yard.area > 1"], [("yard.mood", "ash")])]
    talk = _consult(rules, (fact("yard.mood", "ash"), "you said"), (fact("yard.area", 30), "computed"))
    why = tree(talk, "yard.mood = ash")
    assert (why.origin, why.said, why.rule) == ("told", "you said", "")
    assert [other.rule for other in why.also] == ["by-area"]


def test_a_rule_is_no_reason_for_what_it_rests_on() -> None:
    """a and b follow from each other; only a has another ground."""
    rules = [
        rule("start", ["yard.area > 1"], [("yard.mood", "ash")]),
        rule("there", ["yard.mood == 'ash'"], [("yard.mood", "bark")]),
        rule("back", ["yard.mood == 'bark'"], [("yard.mood", "ash")]),
        rule("itself", ["yard.mood == 'ash'"], [("yard.mood", "ash")]),
    ]
    talk = _consult(rules, (fact("yard.area", 30), "computed"))
    assert {firing.rule for firing in talk.fired("yard", "mood", value="ash")} == {"start", "back", "itself"}
    why = tree(talk, "yard.mood = ash")
    assert (why.rule, why.also) == ("start", ())
    bark = tree(talk, "yard.mood = bark")
    assert [each.rule or each.statement for each in _all(bark)] == ["there", "start", "yard.area = 30"]


def test_a_longer_way_round_is_a_reason_if_it_does_not_lead_back() -> None:
    rules = [
        rule("short", ["yard.area > 1"], [("yard.mood", "ash")]),
        rule("half", ["yard.soil == 'clay'"], [("yard.mood", "elm")]),
        rule("whole", ["yard.mood == 'elm'"], [("yard.mood", "ash")]),
    ]
    talk = _consult(rules, (fact("yard.area", 30), "computed"), (fact("yard.soil", "clay"), "you said"))
    why = tree(talk, "yard.mood = ash")
    assert [each.rule or each.statement for each in _all(why)] == [
        "short",
        "yard.area = 30",
        "whole",
        "half",
        "yard.soil = clay",
    ]


def test_what_was_explained_once_is_not_explained_again() -> None:
    rules = [rule("first", ["yard.area > 1"], [("yard.mood", "ash")])]
    rules += [
        rule(f"wide-{n}", ["yard.mood == 'ash'", f"yard.area > {n}"], [("pile.rank", float(n), "north")])
        for n in range(5)
    ]
    rules.append(rule("end", [f"pile.rank > {n - 0.5}" for n in range(5)], [("pile.fate", "ash", "same")]))
    talk = _consult(rules, (fact("yard.area", 30), "computed"))
    reasons = list(_all(tree(talk, "pile[north].fate = ash")))
    assert sum(reason.rule == "first" for reason in reasons) == 1
    again = [reason for reason in reasons if reason.again]
    assert again
    assert all(not reason.children and not reason.rule for reason in again)


def test_only_what_is_known_can_be_explained() -> None:
    talk = _consult(None, (fact("yard.soil", "clay"), "you said"))
    with pytest.raises(InferenceFault) as caught:
        tree(talk, "yard.mood = klay")
    assert str(caught.value) == "'yard.mood = klay' is not known (did you mean yard.mood = clay?)"


def test_every_fact_of_every_level_can_be_explained() -> None:
    talk = _consult(
        list(toy.many_rules(20)),
        *[(fact("pile.trait", word, pile), "the table") for word in toy.WORDS for pile in toy.PILES],
        *[(fact("pile.share", 30, pile), "the amounts") for pile in toy.PILES],
        *[(fact("yard.guests", word), "you said") for word in toy.WORDS],
        (fact("yard.area", 900), "computed"),
    )
    for key in talk.known:
        reasons = list(_all(tree(talk, key)))
        ends = [reason for reason in reasons if not reason.children and not reason.again and not reason.rule]
        assert ends, key
        assert all(reason.said for reason in ends), key


def test_the_tree_reads_as_indented_text() -> None:
    talk = _consult(
        [
            rule("wet-clay", ["yard.soil == 'clay'"], [("yard.mood", "clay")], "Clay holds water and shuts out air."),
            rule("dung-heats", ["pile.trait == 'dung'"], [("pile.fate", "dung", "same")], "Dung heats fiercely."),
            rule(
                "sour-end",
                ["pile.fate == 'dung'", "yard.mood == 'clay'", "unknown(yard.guests)"],
                [("pile.fate", "ash", "same")],
                "Dung that lies on wet ground goes sour, and what is put upon it goes sour with it in a week or two.",
            ),
            rule(
                "east-is-ash", ["pile['east'].trait == 'dung'"], [("pile.fate", "ash", "east")], "It lies to the east."
            ),
        ],
        (fact("yard.soil", "clay"), "you said: clay"),
        (fact("pile.trait", "dung", "east"), "from the table of materials"),
        close=True,
    )
    text = render(tree(talk, "pile[east].fate = ash"), width=66)
    assert text == "\n".join(
        [
            "pile[east].fate = ash",
            "  because It lies to the east.",
            "  [east-is-ash: tradition, common-practice]",
            "  since pile[east].trait = dung (from the table of materials)",
            "  also because Dung that lies on wet ground goes sour, and what is",
            "    put upon it goes sour with it in a week or two.",
            "  [sour-end: tradition, common-practice]",
            "  since pile[east].fate = dung",
            "    because Dung heats fiercely.",
            "    [dung-heats: tradition, common-practice]",
            "    since pile[east].trait = dung (from the table of materials)",
            "  and yard.mood = clay",
            "    because Clay holds water and shuts out air.",
            "    [wet-clay: tradition, common-practice]",
            "    since yard.soil = clay (you said: clay)",
            "  and unknown(yard.guests) (nobody has said)",
        ]
    )


@pytest.mark.parametrize("width", [20, 40, 80, 132])
def test_lines_keep_to_the_width_where_there_is_room_for_words(width: int) -> None:
    talk = _consult(
        None,
        (fact("yard.soil", "clay"), "you said: heavy clay, all the way to the fence"),
        (fact("yard.area", 30), "computed from the plan"),
        (fact("pile.trait", "dung", "south"), "from the table of materials"),
        (fact("pile.share", 62.5, "south"), "from the amounts you gave"),
    )
    text = render(tree(talk, "yard.score = -2"), width=width)
    for line in text.splitlines():
        indent = len(line) - len(line.lstrip())
        assert len(line) <= max(width, indent + 26) or " " not in line.strip()

"""What a rule becomes for the engine."""

from __future__ import annotations

from typing import Any

from toy_garden import rule

from advisor.inference.compile import Compiled, compiled

_END = [("yard.mood", "ash")]


def _engine_form(one: Compiled) -> dict[str, list[Any]]:
    return {name: body["$and"] for pattern in one.patterns for name, body in pattern.for_engine().items()}


def test_each_condition_is_one_pattern() -> None:
    assert _engine_form(compiled(rule("r", ["yard.soil == 'clay'", "25 <= yard.area < 35"], _END))) == {
        "p0": [{"kind": "yard.soil"}, {"value": "clay"}],
        "p1": [
            {"kind": "yard.area"},
            {"$gte": {"value": 25.0}},
            {"$lt": {"value": 35.0}},
            {"subject": {"p0": "subject"}},
        ],
    }


def test_conditions_on_one_kind_are_joined_to_its_first_pattern_and_named_ones_are_not() -> None:
    when = [
        "pile.share > 1",
        "stuff.share > 2",
        "pile.trait != 'elm'",
        "pile['north'].smell == 'ash'",
        "stuff.note == 'elm'",
    ]
    assert _engine_form(compiled(rule("r", when, _END))) == {
        "p0": [{"kind": "pile.share"}, {"$gt": {"value": 1.0}}],
        "p1": [{"kind": "stuff.share"}, {"$gt": {"value": 2.0}}],
        "p2": [{"kind": "pile.trait"}, {"$neq": {"value": "elm"}}, {"subject": {"p0": "subject"}}],
        "p3": [{"kind": "pile.smell"}, {"subject": "north"}, {"value": "ash"}],
        "p4": [{"kind": "stuff.note"}, {"value": "elm"}, {"subject": {"p1": "subject"}}],
    }


def test_alternatives_stand_last_and_patterns_that_have_them_lead() -> None:
    when = ["pile.share > 1", "pile.trait in ('elm', 'ash')", "pile.fate in ('elm', 'bark')"]
    one = compiled(rule("r", when, _END))
    assert list(_engine_form(one)) == ["p1", "p2", "p0"]
    assert one.order == ("p0", "p1", "p2")
    assert _engine_form(one) == {
        "p1": [{"kind": "pile.trait"}, {"$or": [{"value": "ash"}, {"value": "elm"}]}],
        "p2": [
            {"kind": "pile.fate"},
            {"subject": {"p1": "subject"}},
            {"$or": [{"value": "bark"}, {"value": "elm"}]},
        ],
        "p0": [{"kind": "pile.share"}, {"$gt": {"value": 1.0}}, {"subject": {"p1": "subject"}}],
    }


def test_one_alternative_alone_is_a_plain_comparison() -> None:
    (tests,) = _engine_form(compiled(rule("r", ["pile['east'].trait in ('ash',)"], _END))).values()
    assert tests == [{"kind": "pile.trait"}, {"subject": "east"}, {"value": "ash"}]


def test_silence_is_a_fact_about_the_attribute() -> None:
    (tests,) = _engine_form(compiled(rule("r", ["unknown(yard.soil)"], _END))).values()
    assert tests == [{"kind": "unknown"}, {"subject": "yard.soil"}]


def test_the_same_subject_is_that_of_the_first_condition_without_a_name_or_else_the_first() -> None:
    when = ["unknown(pile.smell)", "pile['north'].share > 5", "pile.trait == 'elm'", "stuff['hay'].share > 1"]
    assert compiled(rule("r", when, _END)).leads == {"pile": 2, "stuff": 3}

"""A sketch says what the whole consultation would say, for any household and any further answer."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.counsel.consult import consult, shipped_engine
from advisor.counsel.doubts import answered, doubts, is_open, possible, prospects
from advisor.counsel.settle import settle
from advisor.counsel.sketch import Outline, sketcher_for
from advisor.household.files import read_household
from advisor.household.shapes import Holding, Household, Quantity, Room
from advisor.knowledge.conditions import Value
from advisor.knowledge.load import shipped
from advisor.places import scenarios_folder

KNOWLEDGE, ENGINE = shipped(), shipped_engine()
SHIPPED = [read_household(path, KNOWLEDGE) for path in sorted(scenarios_folder().glob("*.toml"))]
QUESTIONS = {question.attribute: question for question in KNOWLEDGE.questions}


def whole(household: Household) -> tuple[str, str, int]:
    """Method, aim and turnings by the first half of the consultation itself, with every rule and every fact."""
    with ENGINE.consultation() as talk:
        settled = settle(talk, household, KNOWLEDGE)
        return settled.method, talk.word("plan", "aim") or "", int(talk.number("turning", "times") or 0)


@st.composite
def households(draw: st.DrawFn) -> Household:
    answers: dict[str, tuple[Value, ...]] = {}
    for name in draw(st.lists(st.sampled_from(sorted(QUESTIONS)), unique=True, max_size=8)):
        if name != "place.room":
            answers[name] = (draw(st.sampled_from(possible(name, KNOWLEDGE))),)
    holdings = []
    for material in draw(st.lists(st.sampled_from(sorted(KNOWLEDGE.materials)), unique=True, max_size=5)):
        count = draw(st.sampled_from([0.5, 1, 3, 12, 60]))
        measure = draw(st.sampled_from(["bucket", "sack", "wheelbarrow"]))
        per = draw(st.sampled_from(["once", "week", "month"]))
        holdings.append(Holding(material, Quantity(count, count, count, measure, per), f"{count} {measure}"))
    room = draw(st.none() | st.builds(Room, st.sampled_from([0.4, 1.0, 2.5]), st.sampled_from([0.5, 1.5, 6.0])))
    return Household("drawn", tuple(holdings), answers, room)


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(households(), st.data())
def test_a_sketch_of_any_household_is_what_the_consultation_settles(household: Household, data: st.DataObject) -> None:
    view = sketcher_for(KNOWLEDGE, ENGINE).view(household)
    assert (view.now.method, view.now.aim, view.now.turnings) == whole(household)
    for name in data.draw(st.lists(st.sampled_from(sorted(QUESTIONS)), unique=True, min_size=2, max_size=2)):
        if is_open(QUESTIONS[name], household, KNOWLEDGE):
            values = possible(name, KNOWLEDGE)
            for value, drawn in zip(values, view.tried(name, values), strict=True):
                told = answered(household, name, value)
                assert (drawn.method, drawn.aim, drawn.turnings) == whole(told), (name, value)
                # what was laid over is what follows from all told at once, vote by vote and caution by caution
                again = sketcher_for(KNOWLEDGE, ENGINE).view(told).now
                assert as_drawn(drawn) == as_drawn(again), (name, value)


def as_drawn(outline: Outline) -> tuple[object, ...]:
    """All of an outline, also what two equal ones may differ in."""
    return outline, outline.standings, outline.notices, round(outline.browner, 6)


def test_the_order_of_methods_is_that_of_the_plan() -> None:
    for household in SHIPPED:
        plan = consult(household, KNOWLEDGE, ENGINE, with_doubts=False)
        drawn = sketcher_for(KNOWLEDGE, ENGINE).view(household).now.standings
        assert [(one.method, one.score) for one in drawn] == [(one.method, one.score) for one in plan.choice.ranking]


def test_a_sketch_misses_no_caution_that_the_plan_has_unless_it_hangs_on_the_mix() -> None:
    hangs_on_the_mix = {
        f"caution.{then.subject}"
        for rule in KNOWLEDGE.rules
        for then in rule.then
        if then.kind == "caution" and any(condition.kind in ("recipe", "blend", "heap") for condition in rule.when)
    }
    declared = KNOWLEDGE.notices["caution"]
    for household in SHIPPED:
        plan = consult(household, KNOWLEDGE, ENGINE, with_doubts=False)
        said = {line.text for line in plan.cautions}
        drawn = sketcher_for(KNOWLEDGE, ENGINE).view(household).now.notices
        for name in declared:
            if f"caution.{name}" not in hangs_on_the_mix and "{" not in declared[name].say:
                assert (declared[name].say in said) == (f"caution.{name}" in drawn), (household.name, name)


def test_what_was_tried_for_one_question_is_known_to_the_next_asker(monkeypatch) -> None:
    household = SHIPPED[0]
    sketcher = sketcher_for(KNOWLEDGE, ENGINE)
    prospects(household, KNOWLEDGE, ENGINE)
    drawn = []
    outline = sketcher.outline
    monkeypatch.setattr(sketcher, "outline", lambda *arguments: drawn.append(1) or outline(*arguments))
    doubts(household, KNOWLEDGE, ENGINE)
    assert drawn == []


def test_a_household_that_was_seen_is_not_looked_at_again_and_another_is() -> None:
    sketcher = sketcher_for(KNOWLEDGE, ENGINE)
    one, other = SHIPPED[0], SHIPPED[1]
    view = sketcher.view(one)
    assert sketcher.view(other).household == other
    assert sketcher.view(one) is view
    assert sketcher.view(replace(one, answers={})).household.answers == {}


def test_what_stays_out_of_everything_does_so_by_its_nature() -> None:
    # The sketcher counts on it: the shares of what is on hand leave these out, and are added up once.
    for rule in KNOWLEDGE.rules:
        if any((then.attribute, then.value) == ("barred_from", "all") for then in rule.then):
            assert {condition.kind for condition in rule.when} == {"holding"}, rule.id

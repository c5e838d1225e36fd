"""A consultation from the outside: telling, reading, closing, and what is refused."""

from __future__ import annotations

import threading

import pytest
import toy_garden as toy
from toy_garden import fact, rule

from advisor.errors import InferenceFault
from advisor.inference import engine as engine_module
from advisor.inference.engine import Consultation, Engine, Firing
from advisor.knowledge.shapes import Kind


def _consult(engine: Engine, *facts: object) -> Consultation:
    with engine.consultation() as talk:
        talk.tell(facts, "told")  # type: ignore[arg-type]
    return talk


def test_rules_chain_from_facts_to_conclusions() -> None:
    talk = _consult(
        toy.engine(),
        fact("yard.soil", "clay"),
        fact("yard.area", 30),
        fact("pile.trait", "dung", "south"),
        fact("pile.share", 62.5, "south"),
    )
    assert talk.values("pile", "fate", "south") == ("ash", "dung")
    assert talk.values("yard", "mood") == ("clay", "dung")
    assert talk.values("yard", "score") == (-2.0, 1.5, 3.0)
    assert talk.about("pile", "fate") == {"south": ("ash", "dung")}
    assert talk.subjects("pile") == ("south",)
    assert talk.subjects("stuff") == ()
    assert talk.number("yard", "area") == 30.0
    assert talk.word("yard", "soil") == "clay"
    assert talk.word("yard", "guests") is None
    assert talk.number("pile", "share", "north") is None


def test_the_trace_names_every_firing_nearest_to_the_facts_first() -> None:
    told = [fact("yard.soil", "clay"), fact("pile.trait", "dung", "south"), fact("pile.share", 62.5, "south")]
    talk = _consult(toy.engine(), *told)
    assert talk.firings == (
        Firing("clay-lies-wet", ("yard.soil = clay",), ("yard.mood = clay",)),
        Firing(
            "much-dung",
            ("pile[south].trait = dung", "pile[south].share = 62.5"),
            ("pile[south].fate = dung", "yard.mood = dung"),
        ),
        Firing("doomed", ("pile[south].fate = dung", "yard.mood = clay"), ("pile[south].fate = ash",)),
    )
    assert list(talk.known) == [
        "pile[south].share = 62.5",
        "pile[south].trait = dung",
        "yard.soil = clay",
        "pile[south].fate = dung",
        "yard.mood = clay",
        "yard.mood = dung",
        "pile[south].fate = ash",
    ]


def test_conditions_on_one_kind_speak_of_one_subject() -> None:
    apart = _consult(toy.engine(), fact("pile.trait", "dung", "south"), fact("pile.share", 62.5, "north"))
    assert "much-dung" not in {firing.rule for firing in apart.firings}


def test_a_named_subject_is_that_one_alone() -> None:
    talk = _consult(toy.engine(), fact("pile.share", 60, "north"), fact("pile.share", 60, "south"))
    assert talk.about("pile", "fate") == {"north": ("elm",)}


def test_any_of_several_named_subjects_will_do_and_need_not_be_the_same_as_another() -> None:
    told = [fact("pile.trait", "bark", "north"), fact("pile.trait", "bark", "east"), fact("pile.share", 10, "south")]
    talk = _consult(toy.engine(), *told)
    assert talk.fired("pile", "rank", "south", -1.0) == (
        Firing("two-sides", ("pile[north].trait = bark", "pile[south].share = 10"), ("pile[south].rank = -1",)),
    )


def test_the_same_subject_is_the_named_one_when_no_other_is_meant() -> None:
    named = rule("named", ["pile['north', 'south'].share > 5"], [("pile.fate", "ash", "same")])
    talk = _consult(Engine([named], toy.KINDS), fact("pile.share", 6, "south"), fact("pile.share", 6, "east"))
    assert talk.about("pile", "fate") == {"south": ("ash",)}


def test_one_fact_may_meet_two_conditions() -> None:
    """The engine's own default would not have it."""
    talk = _consult(toy.engine(), fact("pile.share", 20, "north"))
    assert talk.fired("pile", "rank", "north", 3) == (
        Firing("twice", ("pile[north].share = 20",), ("pile[north].rank = 3",)),
    )


def test_conditions_with_alternatives_keep_to_one_subject() -> None:
    """The engine forgets a join that stands behind alternatives."""
    told = [
        fact("pile.trait", "elm", "north"),
        fact("pile.trait", "clay", "south"),
        fact("pile.trait", "bark", "north"),
    ]
    talk = _consult(toy.engine(), *told)
    assert [firing.matched for firing in talk.fired("pile", "rank", "north", 2.0)] == [
        ("pile[north].trait = elm", "pile[north].trait = bark")
    ]
    assert talk.fired("pile", "rank", "south", 2.0) == ()


def test_facts_that_meet_two_conditions_either_way_round_fire_once() -> None:
    both = rule("both", ["yard.guests != 'ash'", "yard.guests != 'bark'"], [("yard.mood", "elm")])
    words = ("clay", "dung", "elm")
    talk = _consult(Engine([both], toy.KINDS), *(fact("yard.guests", word) for word in words))
    clay, dung, elm = (f"yard.guests = {word}" for word in words)
    assert [firing.matched for firing in talk.firings] == [
        (clay,),
        (clay, dung),
        (clay, elm),
        (dung,),
        (dung, elm),
        (elm,),
    ]


def test_unless_something_else_follows_from_them() -> None:
    sides = ["pile['north', 'south'].share > 5", "pile['north', 'south'].share > 6"]
    either = rule("either", sides, [("pile.fate", "ash", "same")])
    talk = _consult(Engine([either], toy.KINDS), fact("pile.share", 7, "north"), fact("pile.share", 7, "south"))
    north, south = "pile[north].share = 7", "pile[south].share = 7"
    assert [firing.matched for firing in talk.fired("pile", "fate", "north")] == [(north,), (north, south)]
    assert [firing.matched for firing in talk.fired("pile", "fate", "south")] == [(south,), (south, north)]


def test_two_rules_with_one_conclusion_are_both_in_the_trace() -> None:
    talk = _consult(toy.engine(), fact("yard.soil", "clay"), fact("yard.guests", "elm"), fact("yard.mood", "clay"))
    assert [firing.rule for firing in talk.fired("yard", "mood", value="clay")] == ["clay-lies-wet"]
    assert [firing.rule for firing in talk.fired("yard", "mood")] == ["clay-lies-wet", "not-ash", "stranger"]
    assert talk.said("yard.mood = clay") == "told"
    assert talk.said("yard.mood = elm") == ""


def test_reasons_are_counted_even_if_they_weigh_the_same() -> None:
    rules = [rule(f"reason-{n}", [f"yard.area > {n}"], [("pile.rank", 2.0, "east")]) for n in (1, 2)]
    talk = _consult(Engine(rules, toy.KINDS), fact("yard.area", 3))
    assert talk.values("pile", "rank", "east") == (2.0,)
    assert len(talk.fired("pile", "rank", "east")) == 2


def test_telling_goes_on_in_strata_and_the_first_origin_stands() -> None:
    with toy.engine().consultation() as talk:
        talk.tell([fact("yard.soil", "clay")], "you said: clay")
        assert talk.values("yard", "mood") == ("clay",)
        talk.tell([fact("yard.area", 30)], "computed from the plan")
        talk.tell([fact("yard.soil", "clay")], "you said it again")
        assert talk.values("yard", "score") == (1.5, 3.0)
    assert talk.said("yard.soil = clay") == "you said: clay"
    assert talk.said("yard.area = 30") == "computed from the plan"
    assert [firing.rule for firing in talk.firings] == ["clay-lies-wet", "middling", "roomy"]


def test_silence_is_known_once_the_answers_are_closed() -> None:
    with toy.engine().consultation() as talk:
        talk.tell([fact("yard.area", 30), fact("pile.share", 6, "east")], "computed")
        assert talk.values("yard", "mood") == ()
        talk.close_answers()
        talk.close_answers()
    assert talk.values("yard", "mood") == ("ash",)
    assert talk.values("pile", "fate", "east") == ("bark",)
    assert talk.said("unknown(yard.soil)") == "nobody has said"
    assert talk.fired("yard", "mood")[0].matched == ("unknown(yard.soil)", "yard.area = 30")
    unknown = [key for key in talk.known if key.startswith("unknown")]
    assert unknown == ["unknown(pile.smell)", "unknown(yard.guests)", "unknown(yard.soil)"]


def test_an_answer_that_was_told_is_not_unknown() -> None:
    with toy.engine().consultation() as talk:
        talk.tell([fact("yard.soil", "clay"), fact("pile.smell", "elm", "north")], "told")
        talk.close_answers()
    assert [key for key in talk.known if key.startswith("unknown")] == ["unknown(yard.guests)"]


def test_after_closing_more_may_be_told_but_not_what_was_taken_as_unanswered() -> None:
    with toy.engine().consultation() as talk:
        talk.tell([fact("yard.guests", "elm")], "told")
        talk.close_answers()
        talk.tell([fact("yard.area", 30), fact("yard.guests", "ash")], "later")
        with pytest.raises(InferenceFault, match=r"yard\.soil = clay: was taken as unanswered"):
            talk.tell([fact("yard.area", 30), fact("yard.soil", "clay")], "too late")
        assert "yard.score = 3" in talk.known


def test_a_contradiction_is_refused_and_nothing_of_it_is_kept() -> None:
    with toy.engine().consultation() as talk:
        talk.tell([fact("yard.soil", "clay")], "told")
        with pytest.raises(InferenceFault, match=r"yard\.soil = elm: contradicts what is known already, clay"):
            talk.tell([fact("yard.area", 30), fact("yard.soil", "elm")], "told")
        with pytest.raises(InferenceFault, match="contradicts"):
            talk.tell([fact("pile.share", 5, "north"), fact("pile.share", 6, "north")], "told")
        assert list(talk.known) == ["yard.soil = clay", "yard.mood = clay"]
        talk.tell([fact("pile.share", 5, "north"), fact("pile.share", 6, "south")], "told")
    assert talk.about("pile", "share") == {"north": (5.0,), "south": (6.0,)}


def test_several_values_where_one_is_expected_are_a_fault() -> None:
    talk = _consult(toy.engine(), fact("yard.guests", "elm"), fact("yard.guests", "bark"), fact("yard.area", 30))
    with pytest.raises(InferenceFault, match=r"yard\.guests = bark, yard\.guests = elm: one value is expected"):
        talk.word("yard", "guests")
    with pytest.raises(InferenceFault, match="several hold"):
        talk.number("yard", "score")
    with pytest.raises(InferenceFault, match=r"ask for number\(\)"):
        talk.word("yard", "area")
    with pytest.raises(InferenceFault, match=r"ask for word\(\)"):
        talk.number("yard", "soil")


@pytest.mark.parametrize(
    "ask",
    [
        lambda talk: talk.values("yard", "sole"),
        lambda talk: talk.word("yrad", "soil"),
        lambda talk: talk.about("pile", "shares"),
        lambda talk: talk.fired("pile", "fat"),
        lambda talk: talk.subjects("piles"),
    ],
)
def test_a_misspelt_question_is_a_fault_and_not_a_silence(ask: object) -> None:
    talk = _consult(toy.engine())
    with pytest.raises(InferenceFault):
        ask(talk)  # type: ignore[operator]


def test_a_consultation_is_read_after_it_has_ended_and_told_nothing_more() -> None:
    talk = _consult(toy.engine(), fact("yard.soil", "clay"))
    _consult(toy.engine(), fact("yard.soil", "elm"))
    assert talk.values("yard", "mood") == ("clay",)
    with pytest.raises(InferenceFault, match="has ended"):
        talk.tell([fact("yard.area", 1)], "told")
    with pytest.raises(InferenceFault, match="has ended"):
        talk.close_answers()
    with pytest.raises(TypeError):
        talk.known["yard.soil = elm"] = fact("yard.soil", "elm")  # type: ignore[index]


def test_nothing_is_carried_from_one_consultation_to_the_next() -> None:
    _consult(toy.engine(), fact("pile.trait", "dung", "south"))
    talk = _consult(toy.engine(), fact("pile.share", 62.5, "south"))
    assert {firing.rule for firing in talk.firings} == set()


def test_an_exception_in_the_body_leaves_the_engine_clean() -> None:
    with pytest.raises(ZeroDivisionError), toy.engine().consultation() as talk:
        talk.tell([fact("pile.trait", "dung", "south")], "told")
        raise ZeroDivisionError
    assert not _consult(toy.engine(), fact("pile.share", 62.5, "south")).firings
    assert _consult(toy.engine(), fact("yard.soil", "clay")).values("yard", "mood") == ("clay",)


def test_a_consultation_within_a_consultation_is_refused() -> None:
    with toy.engine().consultation() as talk:
        with pytest.raises(InferenceFault, match="open already"), toy.engine().consultation():
            pytest.fail("a second one began")
        talk.tell([fact("yard.soil", "clay")], "told")
    assert talk.values("yard", "mood") == ("clay",)


def test_other_threads_wait_their_turn() -> None:
    found: dict[str, set[str]] = {}
    inside, wait = threading.Event(), threading.Event()

    def other() -> None:
        inside.set()
        with toy.engine().consultation() as talk:
            talk.tell([fact("yard.guests", "elm")], "told")
            found["other"] = set(talk.known)

    with toy.engine().consultation() as talk:
        talk.tell([fact("yard.soil", "clay")], "told")
        thread = threading.Thread(target=other)
        thread.start()
        assert inside.wait(10)
        wait.wait(0.05)
        talk.tell([fact("yard.area", 30)], "told")
        assert "other" not in found
    thread.join(10)
    assert found["other"] == {"yard.guests = elm", "yard.mood = elm", "yard.mood = bark"}
    assert "yard.guests = elm" not in talk.known


def test_a_rule_that_multiplies_facts_without_end_is_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    when = ["stuff['hay'].trait != 'ash'", "stuff['leaf'].trait != 'ash'", "stuff['草'].trait != 'ash'"]
    greedy = Engine([rule("greedy", when, [("yard.mood", "ash")])], toy.KINDS)
    told = [fact("stuff.trait", word, name) for word in toy.WORDS[1:] for name in ("hay", "leaf", "草")]
    assert len(_consult(greedy, *told).firings) == 4**3
    monkeypatch.setattr(engine_module, "FIRINGS_AT_MOST", 50)
    with pytest.raises(InferenceFault, match=r"more than 50 firings; the last rule was 'greedy'"):
        _consult(greedy, *told)


def test_after_a_fault_the_consultation_can_only_end(monkeypatch: pytest.MonkeyPatch) -> None:
    with toy.engine().consultation() as talk:
        with monkeypatch.context() as patch:
            patch.setattr(engine_module, "FIRINGS_AT_MOST", 0)
            with pytest.raises(InferenceFault, match="more than 0 firings"):
                talk.tell([fact("yard.soil", "clay")], "told")
        with pytest.raises(InferenceFault, match="has broken"):
            talk.tell([fact("yard.area", 30)], "told")
        assert dict(talk.known) == {}
    assert _consult(toy.engine(), fact("yard.soil", "clay")).values("yard", "mood") == ("clay",)


def test_rules_are_checked_when_the_engine_is_made() -> None:
    good = toy.RULES[0]
    with pytest.raises(InferenceFault, match="two rules are called 'clay-lies-wet'"):
        Engine([good, good], toy.KINDS)
    with pytest.raises(InferenceFault, match=r"rule r: yard\.soil: it is answer, so no rule may conclude it"):
        Engine([rule("r", ["yard.area > 1"], [("yard.soil", "clay")])], toy.KINDS)
    with pytest.raises(InferenceFault, match=r"rule r: yard\.mood = wet: yard\.mood is never that"):
        Engine([rule("r", ["yard.area > 1"], [("yard.mood", "wet")])], toy.KINDS)
    with pytest.raises(InferenceFault, match=r"rule r: pile\[any\]\.rank = 9: .* between -5 and 5"):
        Engine([rule("r", ["stuff.share > 1"], [("pile.rank", 9.0, "any")])], {**toy.KINDS, "pile": _loose_pile()})
    with pytest.raises(InferenceFault, match="rule r: no condition is about a pile"):
        Engine([rule("r", ["yard.area > 1"], [("pile.fate", "ash", "same")])], toy.KINDS)
    with pytest.raises(InferenceFault, match=r"rule r: yard\.area > 1\.00001: facts are kept to four decimals"):
        Engine([rule("r", ["yard.area > 1.00001"], [("yard.mood", "ash")])], toy.KINDS)
    with pytest.raises(InferenceFault, match="'unknown' is the engine's own kind of fact"):
        Engine([], {**toy.KINDS, "unknown": toy.KINDS["yard"]})


def _loose_pile() -> Kind:
    return toy.KINDS["pile"].model_copy(update={"subjects": "materials"})


def test_numbers_are_never_compared_for_equality() -> None:
    (condition,) = rule("r", ["yard.area > 5"], [("yard.mood", "ash")]).when
    equal = condition._replace(tests=(condition.tests[0]._replace(operator="=="),))
    with pytest.raises(InferenceFault, match="numbers are compared with <"):
        Engine([toy.RULES[0]._replace(when=(equal,))], toy.KINDS)


def test_an_engine_without_rules_remembers_what_it_is_told() -> None:
    assert list(_consult(Engine([], toy.KINDS), fact("yard.soil", "clay")).known) == ["yard.soil = clay"]

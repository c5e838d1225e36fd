"""The edges of durable-rules 2.0.28 that advisor/inference leans on or steers clear of.

These try the engine itself, not our rules: when a new release changes one of them, the test that fails says which
guard to look at. What can crash or hang runs in a process of its own with a time limit.
"""

from __future__ import annotations

import logging
import os
import random
import subprocess
import sys
import textwrap
import types
from collections.abc import Callable, Iterator
from importlib.metadata import version
from pathlib import Path
from typing import Any

import durable.engine as durable
import pytest
import toy_garden as toy
from toy_garden import fact, rule

from advisor.errors import EngineMissing, InferenceFault
from advisor.inference.compile import Compare, Pattern
from advisor.inference.engine import Engine
from advisor.inference.network import Network

_HERE = Path(__file__).parent
_ENVIRONMENT = {"PYTHONPATH": os.pathsep.join([str(_HERE), str(_HERE.parents[1])]), "PATH": ""}


class QuietHost(durable.Host):  # type: ignore[misc]
    """The engine's host without its timers, and otherwise as it comes."""

    def _run(self) -> None:
        pass


Fired = list[tuple[str, ...]]


def _bare(*patterns: list[dict[str, Any]], **settings: Any) -> tuple[Any, Fired]:
    """One rule on a quiet host, with none of our guards, and the list of what it fires on."""
    fired: Fired = []
    names = [f"p{n}" for n in range(len(patterns))]
    body = [{name: {"$and": tests}} for name, tests in zip(names, patterns, strict=True)]

    def note(c: Any) -> None:
        fired.append(tuple(getattr(c, name).id for name in names))

    host = QuietHost({"bare": {"rule": {"all": body, "run": note, **settings}}})
    return host.get_ruleset("bare"), fired


def _rest(rules: Any, state: int) -> list[tuple[Any, Any]]:
    ended: list[tuple[Any, Any]] = []
    rules.do_actions(state, lambda error, outcome: ended.append((error, outcome)))
    return ended


def _network(on_match: Callable[..., Any]) -> Network:
    return Network({"any": [Pattern("p", (Compare("kind", "==", "k"),))]}, on_match)


def _message(name: str, value: str | float = "v") -> dict[str, str | float]:
    return {"kind": "k", "subject": "s", "value": value, "id": name}


def _python(code: str) -> list[str]:
    return [sys.executable, "-W", "ignore", "-c", textwrap.dedent(code)]


def _alone(code: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        _python(code),
        cwd=_HERE,
        env=_ENVIRONMENT | environment,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def test_these_are_the_edges_of_this_release() -> None:
    assert version("durable-rules") == "2.0.28"


# ---------------------------------------------------------------------- facts


def test_a_fact_that_no_pattern_takes_is_thrown_away_unless_some_rule_holds_it() -> None:
    rules, _ = _bare([{"kind": "k"}])
    with pytest.raises(durable.MessageNotHandledException):
        rules.assert_fact({"kind": "other", "id": "f1"})
    assert rules.get_facts("0") == []
    with Engine([], toy.KINDS).consultation() as talk:
        talk.tell([fact("yard.soil", "clay")], "no rule is about soil")
    assert "yard.soil = clay" in talk.known


def test_the_id_alone_says_which_fact_it_is() -> None:
    rules, _ = _bare([{"kind": "k"}])
    rules.assert_fact(_message("f1", "one"))
    with pytest.raises(durable.MessageObservedException):
        rules.assert_fact(_message("f1", "two"))


def _hash(text: str) -> int:
    value = 0x811C9DC5
    for byte in text.encode():
        value = ((value ^ byte) * 16777619) & 0xFFFFFFFF
    return value


def test_ids_are_told_apart_by_a_short_hash_which_ours_do_not_share() -> None:
    chance = random.Random(1)
    names = iter(lambda: f"{chance.getrandbits(64):x}", "")
    seen: dict[int, str] = {}
    name = next(names)
    while (twin := seen.setdefault(_hash(name), name)) == name:
        name = next(names)
    rules, _ = _bare([{"kind": "k"}])
    rules.assert_fact(_message(twin))
    with pytest.raises(durable.MessageObservedException):
        rules.assert_fact(_message(name))
    ours = ["~open", "sid-0", *(f"f{number}" for number in range(1, 50_001))]
    assert len({_hash(name) for name in ours}) == len(ours)


def test_a_number_with_a_bare_exponent_is_refused() -> None:
    rules, _ = _bare([{"kind": "k"}])
    with pytest.raises(Exception, match="204"):
        rules.assert_fact(_message("f1", 1e-7))
    with toy.engine().consultation() as talk:
        talk.tell([fact("yard.area", 1e-7), fact("stuff.share", 1e9, "hay")], "told")
    assert talk.number("yard", "area") == 0


def test_in_a_batch_such_a_number_takes_the_rest_with_it_in_silence() -> None:
    """So facts go in one at a time."""
    rules, fired = _bare([{"kind": "k"}])
    state = rules.assert_facts([_message("f1"), _message("f2", 1e-7), _message("f3")])
    _rest(rules, state)
    assert fired == [("f1",)]


def test_words_are_matched_to_the_letter_whatever_they_hold() -> None:
    rules = []
    for number, name in enumerate(toy.STUFF):
        about = rule(f"is-{number}", ["stuff['hay'].trait == 'elm'"], [("yard.score", float(number))])
        rules.append(about._replace(when=(about.when[0]._replace(subjects=(name,)),)))
    engine = Engine(rules, toy.KINDS)
    for number, name in enumerate(toy.STUFF):
        with engine.consultation() as talk:
            talk.tell([fact("stuff.trait", "elm", name)], "told")
        assert talk.values("yard", "score") == (float(number),), name
        assert talk.subjects("stuff") == (name,)


def test_subjects_are_joined_to_the_letter() -> None:
    joined = Engine(
        [rule("joined", ["stuff.trait == 'elm'", "stuff.share > 1"], [("stuff.note", "elm", "same")])], toy.KINDS
    )
    with joined.consultation() as talk:
        talk.tell([fact("stuff.trait", "elm", name) for name in toy.STUFF[::2]], "told")
        talk.tell([fact("stuff.share", 2, name) for name in toy.STUFF[1:]], "told")
    assert set(talk.about("stuff", "note")) == set(toy.STUFF[2::2])


# ---------------------------------------------------------------------- patterns


def test_a_join_behind_alternatives_is_never_looked_at() -> None:
    join, either = {"subject": {"p0": "subject"}}, {"$or": [{"value": "a"}, {"value": "b"}]}
    for tests, expected in (([either, join], 2), ([join, either], 1)):
        rules, fired = _bare([{"kind": "k"}, {"value": "z"}], [{"kind": "k"}, *tests])
        rules.assert_fact({"kind": "k", "subject": "x", "value": "z", "id": "f1"})
        rules.assert_fact({"kind": "k", "subject": "x", "value": "a", "id": "f2"})
        _rest(rules, rules.assert_fact({"kind": "k", "subject": "y", "value": "b", "id": "f3"}))
        assert len(fired) == expected


def test_one_fact_meets_two_patterns_only_if_the_rule_is_not_distinct() -> None:
    for settings, expected in (({}, []), ({"dist": 0}, [("f1", "f1")])):
        rules, fired = _bare([{"kind": "k"}], [{"kind": "k"}, {"value": "v"}], **settings)
        _rest(rules, rules.assert_fact(_message("f1")))
        assert fired == expected


def test_alternatives_that_hold_together_fire_once_for_each() -> None:
    """Ours exclude each other: a fact has one value and one subject."""
    rules, fired = _bare([{"kind": "k"}, {"$or": [{"value": "v"}, {"subject": "s"}]}])
    _rest(rules, rules.assert_fact(_message("f1")))
    assert fired == [("f1",), ("f1",)]


def test_what_the_engine_is_given_it_alters() -> None:
    definition = {"bare": {"rule": {"all": [{"m": {"kind": "k"}}], "run": lambda _: None}}}
    QuietHost(definition)
    with pytest.raises(KeyError, match="run"):
        QuietHost(definition)
    assert Engine(toy.RULES, toy.KINDS).rules == Engine(toy.RULES, toy.KINDS).rules


def test_a_rule_joins_sixteen_facts_at_most() -> None:
    for count, refused in ((16, False), (17, True)):
        engine = Engine([rule("long", [f"yard.area > {n}" for n in range(count)], [("yard.mood", "ash")])], toy.KINDS)
        with engine.consultation() as talk:
            if refused:
                with pytest.raises(InferenceFault) as caught:
                    talk.tell([fact("yard.area", 500)], "told")
                assert "304" in str(caught.value.__cause__)
            else:
                talk.tell([fact("yard.area", 500)], "told")
                assert len(talk.firings) == 1


def test_five_hundred_and_twelve_tests_after_one_hang_the_compiler() -> None:
    """The lint stops at 400 (limits.py)."""
    code = """
        import toy_garden as toy
        for count in (510, 513):
            bands = [toy.rule(f"r{n}", [f"{n} <= yard.area < {n + 1}"], [("yard.mood", "ash")]) for n in range(count)]
            print("begun", flush=True)
            toy.Engine(bands, toy.KINDS).prepare()
            print("compiled", flush=True)
    """
    process = subprocess.Popen(_python(code), cwd=_HERE, env=_ENVIRONMENT, stdout=subprocess.PIPE, text=True)
    try:
        assert process.stdout
        assert [process.stdout.readline() for _ in range(3)] == ["begun\n", "compiled\n", "begun\n"]
        with pytest.raises(subprocess.TimeoutExpired):
            process.communicate(timeout=3)
    finally:
        process.kill()
        process.communicate()


# ---------------------------------------------------------------------- firing


@pytest.mark.parametrize("error", [ZeroDivisionError, SystemExit, KeyboardInterrupt])
def test_whatever_an_action_raises_is_swallowed(error: type[BaseException]) -> None:
    def breaks(_: Any) -> None:
        raise error("broken")

    rules = QuietHost({"bare": {"rule": {"all": [{"m": {"kind": "k"}}], "run": breaks}}}).get_ruleset("bare")
    ((fault, state),) = _rest(rules, rules.assert_fact(_message("f1")))
    assert fault is None
    assert "broken" in state["exception"]


def test_and_comes_to_light_here_with_its_cause() -> None:
    def breaks(*_: Any) -> None:
        raise ZeroDivisionError("broken")

    network = _network(breaks)
    network.open()
    with pytest.raises(InferenceFault, match="a rule broke") as caught:
        network.tell([_message("f1")])
    network.close()
    assert isinstance(caught.value.__cause__, ZeroDivisionError)


def test_of_several_faults_the_first_is_told_and_stops_the_rest() -> None:
    seen = []

    def breaks(_: str, ids: dict[str, str]) -> Any:
        seen.append(ids["p"])
        raise ZeroDivisionError(ids["p"])

    network = _network(breaks)
    network.open()
    with pytest.raises(InferenceFault) as caught:
        network.tell([_message("f1"), _message("f2"), _message("f3")])
    network.close()
    assert len(seen) == 1
    assert str(caught.value.__cause__) == seen[0]


@pytest.mark.parametrize("error", [SystemExit, KeyboardInterrupt])
def test_and_a_wish_to_stop_is_obeyed(error: type[BaseException]) -> None:
    def stops(*_: Any) -> None:
        raise error

    network = _network(stops)
    network.open()
    with pytest.raises(error):
        network.tell([_message("f1")])
    network.close()


def test_a_fact_that_a_rule_concludes_and_the_engine_refuses_comes_to_light_too() -> None:
    network = _network(lambda *_: [_message("f1")])  # the fact it fired on, again
    network.open()
    with pytest.raises(InferenceFault) as caught:
        network.tell([_message("f1")])
    network.close()
    assert isinstance(caught.value.__cause__, durable.MessageObservedException)


def test_after_a_fault_the_next_consultation_is_right() -> None:
    rules = [rule(f"area-{n}", [f"yard.area > {n}"], [("yard.mood", "ash")]) for n in range(70)]
    engine = Engine([*rules, *toy.RULES], toy.KINDS)
    for area, right in ((500, False), (1.5, True), (500, False), (1.5, True)):
        with engine.consultation() as talk:
            if right:
                talk.tell([fact("yard.area", area)], "told")
                assert {firing.rule for firing in talk.firings} == {"area-0", "area-1"}
            else:
                with pytest.raises(InferenceFault, match=r"refuses a fact: yard\.area"):
                    talk.tell([fact("yard.soil", "clay"), fact("yard.area", area)], "told")


def test_an_action_with_two_parameters_never_ends_and_says_nothing() -> None:
    calls = []

    def action(_: Any, number: Any = 3) -> None:  # the trap: to bind a loop's variable so
        calls.append(number)

    rules = QuietHost({"bare": {"rule": {"all": [{"m": {"kind": "k"}}], "run": action}}}).get_ruleset("bare")
    assert _rest(rules, rules.assert_fact(_message("f1"))) == []
    _rest(rules, rules.assert_fact(_message("f2")))
    assert len(calls) == 1
    assert callable(calls[0])


def test_a_clock_that_jumps_makes_the_engine_drop_a_result(monkeypatch: pytest.MonkeyPatch) -> None:
    """It takes an action for expired after ten seconds of wall clock, as when summer time begins."""
    engine = Engine(toy.RULES, toy.KINDS)
    hours = iter(range(0, 10_000_000, 3600))
    with engine.consultation() as talk, monkeypatch.context() as patch:
        patch.setattr(durable, "_unix_now", lambda: next(hours))
        with pytest.raises(InferenceFault) as caught:
            talk.tell([fact("yard.soil", "clay")], "told")
    assert "never came to rest" in str(caught.value.__cause__)
    with engine.consultation() as talk:
        talk.tell([fact("yard.soil", "clay")], "told")
    assert talk.values("yard", "mood") == ("clay",)


# ---------------------------------------------------------------------- states, threads, processes


def test_states_that_are_not_deleted_run_out_at_1024() -> None:
    code = """
        from durable import engine
        Host = type("Host", (engine.Host,), {"_run": lambda _: None})
        rules = Host({"r": {"any": {"all": [{"m": {"kind": "k"}}], "run": lambda c: None}}}).get_ruleset("r")
        for number in range(1100):
            try:
                rules.assert_fact({"kind": "k", "id": "f", "sid": f"s{number}"})
            except MemoryError:
                print(number)
                break
    """
    assert _alone(code).stdout == "1024\n"


def test_no_memory_is_freed_that_was_never_set() -> None:
    """The C library fills fresh memory with rubbish here; deleting a state in which nothing ever fired would crash."""
    code = """
        import toy_garden as toy
        for _ in range(20):
            engine = toy.Engine(toy.RULES, toy.KINDS)
            for told in ([], [toy.fact("yard.soil", "bark")], [toy.fact("yard.soil", "clay")]):
                with engine.consultation() as talk:
                    talk.tell(told, "told")
        print("alive")
    """
    result = _alone(code, MALLOC_PERTURB_="165", MALLOC_CHECK_="3")
    assert (result.returncode, result.stdout) == (0, "alive\n"), result.stderr


def test_the_stock_host_starts_threads_and_ours_starts_none() -> None:
    code = """
        import threading, toy_garden as toy
        from durable import engine
        with toy.engine().consultation() as talk:
            talk.tell([toy.fact("yard.soil", "clay")], "told")
        print(threading.active_count())
        engine.Host({"r": {"any": {"all": [{"m": {"kind": "k"}}], "run": lambda c: None}}})
        print(threading.active_count())
    """
    assert _alone(code).stdout == "1\n3\n"


def test_the_package_can_be_imported_without_the_engine() -> None:
    code = """
        import sys, advisor.inference.engine, advisor.inference.trace, advisor.inference.limits
        print("durable" in sys.modules)
    """
    assert _alone(code).stdout == "False\n"


def test_nothing_the_engine_logs_reaches_the_screen(capfd: pytest.CaptureFixture[str]) -> None:
    toy.engine().prepare()
    logging.getLogger("durable").error("spoils the screen")
    assert capfd.readouterr() == ("", "")


def _missing() -> Iterator[tuple[types.ModuleType | None, str]]:
    yield None, "the rule engine is not installed"
    wrong = types.ModuleType("durable")

    def fails(_: str) -> Any:
        raise ImportError("durable_rules_engine.so: undefined symbol: PyEval_CallObject")

    wrong.__getattr__ = fails  # type: ignore[method-assign]
    yield wrong, "the rule engine was built without the flag that this Python needs"


@pytest.mark.parametrize(("module", "complaint"), list(_missing()))
def test_a_missing_engine_is_one_line_that_says_what_to_type(
    module: types.ModuleType | None, complaint: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "durable", module)
    with pytest.raises(EngineMissing) as caught:
        Engine(toy.RULES, toy.KINDS).prepare()
    line = str(caught.value)
    assert line.startswith(complaint)
    assert "CPPFLAGS=-DPyEval_CallObject=PyObject_CallObject pip install" in line
    assert "durable-rules==2.0.28" in line
    assert "\n" not in line

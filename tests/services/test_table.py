"""The table of services: what it names is there, its examples work, and command and talk give the same answer."""

from __future__ import annotations

import io
import json
import re
import shlex
from collections.abc import Callable, Iterator, Sequence
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import replace
from datetime import date
from functools import partial
from typing import Any, NoReturn, get_args

import pytest

from advisor.cli import main
from advisor.counsel.consult import shipped_engine
from advisor.errors import HouseholdError
from advisor.household.files import read_household
from advisor.household.shapes import Arrival, Household
from advisor.household.year import arrival_text
from advisor.knowledge.load import shipped
from advisor.places import scenarios_folder
from advisor.services.shapes import Circumstances, Service, known, loaded
from advisor.services.table import COMMANDS, DOORS, SERVICES
from advisor.soil_counsel.ground import CheckTold, Ground, bed_entry, read_ground
from advisor.soil_counsel.shapes import HeatLog
from advisor.talk.intents import Door
from advisor.talk.interview import scripts
from advisor.talk.replies import Reply
from advisor.talk.sheets.form import form
from advisor.talk.sheets.menus import SHEETS
from advisor.talk.sheets.playing import Blank, Say
from advisor.talk.sheets.world import World

KNOWLEDGE = shipped()
FORMS = [service for service in SERVICES if service.answer]
#: Those that the talk asks for by a form. What it plans and diagnoses by itself is held in test_conversation.py.
TALKED = [service for service in FORMS if service.door and isinstance(SHEETS[service.door], partial)]
#: A year takes seconds to plan: tests/cli holds it to the same.
QUICK = [service for service in COMMANDS.values() if service.command != "year"]
HOUSEHOLDS = sorted(path.stem for path in scenarios_folder().glob("*.toml"))
GROUNDS = sorted(path.stem for path in (scenarios_folder() / "soil").glob("*.toml"))


@pytest.fixture(scope="module", autouse=True)
def worked_out_once() -> Iterator[None]:
    """Each answer is worked out once, in however many ways it is shown."""
    kept: dict[str, Any] = {}

    def once(own: Callable[..., Any], command: str, at: Circumstances, told: dict[str, Any]) -> Any:
        key = repr((command, at.household, at.ground, at.units, sorted(told.items())))
        if key not in kept:
            kept[key] = own(at, told)
        return kept[key]

    with pytest.MonkeyPatch.context() as patch:
        for service in FORMS:
            patch.setattr(service.answer.replace(":", "."), partial(once, loaded(service.answer), service.command))
        yield


def run(*words: str) -> tuple[int, str, str]:
    """A command: its exit code, and what it wrote to either output."""
    out, fault = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(fault):
        code = main(words)
    return code, out.getvalue(), fault.getvalue()


#: What is said where a part of a form asks more than one question.
IN_PARTS = {
    "What comes in through the year": "3 buckets grass clippings a week",
    "In which months does it come": "Apr-Oct",
    "Have you read its heat": "yes, I have readings",
    "The days of the readings": "1 2 3",
    "The reading of each": "40 58 61",
    "The days on which it was turned": "2",
    "What it smelt of": "earth",
    "For which beds": "all of these",
    "What do you call this bed": "A",
    "How big is A": "1.2 x 6 m",
    "What is A to get": "a lawn",
    "For how many years in a row": "2",
    "What is to grow on A": "root crops",
    "How is the soil of A now": "a little better: one year of compost and green manure behind it",
    "Which crops come first on A": "peas and beans",
    "Another bed": "no",
    "Shall I keep": "no",
    "Whether it is a closed vessel": "a plain heap or bin",
}


def shipped_for(service: Service) -> list[str]:
    """The files that come with the program and that a command takes, by name; if it takes none, one without."""
    return GROUNDS if service.points else HOUSEHOLDS if service.takes else [""]


def at_hand(service: Service, name: str) -> tuple[Household, Ground]:
    """The household and the beds of a file."""
    if service.points:
        return Household("yours"), read_ground(scenarios_folder() / "soil" / f"{name}.toml", KNOWLEDGE)
    if not name:
        return Household("yours"), Ground("beds")
    return read_household(scenarios_folder() / f"{name}.toml", KNOWLEDGE), Ground("beds")


def talked(service: Service, household: Household, ground: Ground) -> tuple[list[str], tuple[Reply, ...]]:
    """The form of a service, filled with the examples of the table: the options that say the same, and what is said."""
    script = form(
        service,
        World(KNOWLEDGE, shipped_engine(), household, None, "metric", date.today(), ground),
    )
    by_ask = {parameter.ask: parameter for parameter in service.parameters if parameter.ask}
    typed: list[str] = []
    sent: Any = None
    said: Say | None = None
    tests = ["sealed bag: whether it is still at work without air", "no, that will do"]
    while True:
        try:
            step = script.send(sent)
        except StopIteration:
            break
        if isinstance(step, Say):
            said, sent = step, None
            continue
        assert isinstance(step, Blank)
        parameter = by_ask.get(step.ask)
        if step.ask.startswith("Have you made a test"):
            sent = step.read(tests.pop(0))
            continue
        if parameter is None:
            sent = step.read(next(words for ask, words in IN_PARTS.items() if step.ask.startswith(ask)))
            continue
        if parameter.tells:
            typed += [f"--{parameter.name}"] if parameter.flag else [f"--{parameter.name}", parameter.example]
        words = parameter.words(KNOWLEDGE)
        sent = step.read(words.get(parameter.example, parameter.example))
    assert said is not None
    assert isinstance(said.make, partial)
    told: dict[str, Any] = said.make.args[-1]
    for each in service.parameters:
        texts = written(told.get(each.name, ())) if each.part else []
        typed += [word for text in texts for word in (f"--{each.name}", text)]
    return typed, tuple(said.make())


def written(value: Any) -> list[str]:
    """What a part of a form made, as the options of the command are told it."""
    if isinstance(value, tuple) and value and isinstance(value[0], Arrival):
        return [arrival_text(arrival) for arrival in value]
    if isinstance(value, HeatLog):
        return [f"days={_spaced(value.days)} degrees={_spaced(value.celsius)} turned={_spaced(value.turned)}"]
    if isinstance(value, CheckTold):
        told = " ".join(f"{name}={' '.join(map(str, values))}" for name, values in value.values.items())
        return [f"{value.guide} {told}"]
    return [text for each in value for text in written(each)] if isinstance(value, tuple) else [value]


def _spaced(figures: Sequence[float]) -> str:
    return " ".join(f"{each:g}" for each in figures)


def as_command(service: Service, household: Household, file: str, typed: list[str]) -> list[str]:
    """The words of the command that asks what was asked in the talk."""
    if not service.alone:
        return [service.command, *filter(None, [file]), *typed]
    words = list(typed)
    for parameter in service.parameters:  # a file would stand in the place of them, so what is known is typed too
        value = known(parameter, Circumstances(KNOWLEDGE, shipped_engine, household))
        words += [f"--{parameter.name}", value] if value is not None else []
    return [service.command, *words]


@pytest.mark.parametrize("service", TALKED, ids=lambda service: service.command)
def test_command_and_talk_ask_the_same_of_every_household(service: Service, monkeypatch: pytest.MonkeyPatch) -> None:
    """The answer is worked out from the circumstances and from what was told, by one function for both."""
    asked: list[tuple[Household | None, Ground | None, dict[str, Any]]] = []

    def noted(at: Circumstances, told: dict[str, Any]) -> NoReturn:
        household = at.household if service.takes and not service.points and not service.alone else None
        options = {each.name for each in service.parameters if each.tells or each.read}
        shared = {name: value for name, value in told.items() if name in options}
        asked.append((household, at.ground if service.points else None, shared))
        raise HouseholdError("noted")

    monkeypatch.setattr(service.answer.replace(":", "."), noted)
    for name in shipped_for(service):
        household, ground = at_hand(service, name)
        typed, _ = talked(service, household, ground)
        in_talk = asked[-1]
        assert run(*as_command(service, household, name, typed))[2] == "heapwright: noted\n"
        assert asked[-1] == in_talk, name


@pytest.mark.parametrize("service", [each for each in TALKED if each.points], ids=lambda service: service.command)
def test_a_bed_of_the_talk_is_the_bed_of_an_option(service: Service, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[Ground] = []

    def noted(at: Circumstances, _told: dict[str, Any]) -> NoReturn:
        assert at.ground is not None
        asked.append(at.ground)
        raise HouseholdError("noted")

    monkeypatch.setattr(service.answer.replace(":", "."), noted)
    typed, _ = talked(service, Household("yours"), Ground("your beds"))
    (bed,) = asked[-1].beds
    told = {key: " ".join(value) if isinstance(value, list) else value for key, value in bed_entry(bed).items()}
    text = ", ".join([str(told.pop("name")), *(f"{key} {value}" for key, value in told.items())])
    assert len(told) == len(service.points)
    assert run(service.command, "--bed", text, *typed)[2] == "heapwright: noted\n"
    (told_bed,) = asked[-1].beds
    assert sorted(told_bed.facts) == sorted(bed.facts)
    assert replace(told_bed, facts=bed.facts) == bed


@pytest.mark.parametrize(
    "service", [service for service in TALKED if service in QUICK], ids=lambda service: service.command
)
def test_what_the_talk_says_stands_on_the_page_of_the_command(service: Service) -> None:
    name = "six-hens" if "six-hens" in shipped_for(service) else shipped_for(service)[0]
    household, ground = at_hand(service, name)
    typed, replies = talked(service, household, ground)
    code, out, fault = run(*as_command(service, household, name, typed))
    assert code == 0, fault
    page = " ".join(out.split())
    said = [" ".join(line.text.split()) for reply in replies for line in reply.lines]
    assert said
    assert [text for text in said if text not in page] == []


@pytest.mark.parametrize("service", FORMS, ids=lambda service: service.command)
def test_a_parameter_that_is_known_needs_no_word_and_what_is_usual_can_be_read(service: Service) -> None:
    for parameter in service.parameters:
        if parameter.offered and not parameter.read:
            assert parameter.usual in ("", *parameter.offered)
            assert parameter.example in parameter.offered
        assert parameter.example
        assert bool(parameter.ask) == bool(parameter.why)


@pytest.mark.parametrize("service", QUICK, ids=lambda service: service.command)
def test_its_example_works_and_stands_in_its_help(service: Service) -> None:
    code, out, fault = run(service.command, *shlex.split(service.example))
    assert code == 0, fault
    assert out
    code, out, _ = run(service.command, "--help")
    assert code == 0
    assert f"heapwright {service.command} {service.example}" in " ".join(out.split())


@pytest.mark.parametrize("service", QUICK, ids=lambda service: service.command)
def test_lines_have_names_only_where_somebody_asks_why(service: Service) -> None:
    """A name is a word like m1, qr2 or k1f1 in front of a line, which starts at the edge of the page."""
    words = (service.command, *shlex.split(service.example))
    named = re.compile(r"^[A-Za-z]+[0-9]+[a-z0-9]* +\S", re.MULTILINE)
    plain, asked = run(*words)[1], run(*words, "--why")[1]
    assert not named.search(plain)
    assert "--why" in plain
    name = next(iter(named.findall(asked))).split()[0]
    code, out, _ = run(*words, "--why", name)
    assert code == 0
    assert len(out) < len(asked)


@pytest.mark.parametrize("service", QUICK, ids=lambda service: service.command)
@pytest.mark.parametrize("kind", ["markdown", "page"])
def test_its_answer_can_be_handed_over(service: Service, kind: str) -> None:
    code, out, fault = run(service.command, *shlex.split(service.example), f"--{kind}", "-")
    assert (code, fault) == (0, "")
    assert ("\n## " if kind == "markdown" else "<h2>") in out


@pytest.mark.parametrize("service", QUICK, ids=lambda service: service.command)
def test_its_json_holds_to_its_schema(service: Service) -> None:
    code, out, fault = run(service.command, "--schema")
    assert code == 0, fault
    schema = json.loads(out)
    answer = json.loads(run(service.command, *shlex.split(service.example), "--json")[1])
    assert set(schema["required"]) <= set(answer) <= set(schema["properties"])


def test_every_door_of_the_table_is_one_of_the_talk_with_a_sheet_behind_it() -> None:
    assert set(DOORS) <= set(get_args(Door)) & set(scripts())
    for service in SERVICES:
        assert service.command or service.door
        if service.door:
            assert service.opening and service.menu and service.offer and service.label and service.say


def test_what_is_needed_and_what_excludes_itself_is_said_in_one_line() -> None:
    for service in FORMS:
        words = [service.command, *(["--bed", "A, 5 m2"] if service.points else [])]
        for parameter in service.parameters:
            if parameter.needed and parameter.tells:
                code, _, fault = run(*words)
                assert (code, parameter.needed in fault, parameter.example in fault) == (2, True, True)
            words += [f"--{parameter.name}", parameter.example] if parameter.tells and not parameter.flag else []
        if service.apart:
            both = [word for name in service.apart[0] for word in (f"--{name}", _example(service, name))]
            code, _, fault = run(service.command, *shlex.split(service.example), *both)
            assert code == 2
            assert "not both" in fault


def _example(service: Service, name: str) -> str:
    return next(parameter.example for parameter in service.parameters if parameter.name == name)

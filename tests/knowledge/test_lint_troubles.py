"""The checks of signs, causes and remedies, each against a rule base in miniature that is sound but for one fault."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_base import rule, written

from advisor.knowledge.lint import TROUBLES, Report, lint
from advisor.knowledge.load import read

Change = tuple[str, str, str]

#: Figures, weights and words here are made up; nothing in it is advice.
FACTS = """
[sign]
about = "something seen"
[sign.attributes.smell]
about = "its smell"
origin = "answer"
many = true
words = { sharp = "sharp", foul = "foul" }
[sign.attributes.feel]
about = "how it feels"
origin = "answer"
many = true
words = { wet = "wet", dry = "dry" }

[cause]
about = "what may be wrong"
subjects = "notices"
[cause.attributes.favour]
about = "what speaks for it"
origin = "concluded"
many = true
number = [-5, 5]
[cause.attributes.ruled_out]
about = "it cannot be"
origin = "concluded"
words = { yes = "ruled out" }
[cause.attributes.stands]
about = "it is likely"
origin = "computed"
words = { yes = "likely" }

[remedy]
about = "what to do"
subjects = "notices"
[remedy.attributes.stands]
about = "it is worth doing"
origin = "concluded"
words = { yes = "worth doing" }
[remedy.attributes.effect]
about = "what else it does"
origin = "concluded"
many = true
words = { drier = "dries it" }

[proviso]
about = "on what condition"
subjects = "notices"
[proviso.attributes.stands]
about = "it applies"
origin = "concluded"
words = { yes = "applies" }
"""

#: As above, but what feels wet cannot feel dry.
ONE_FEEL = FACTS.replace(
    'about = "how it feels"\norigin = "answer"\nmany = true', 'about = "how it feels"\norigin = "answer"'
)

QUESTIONS = """
[[question]]
attribute = "sign.smell"
ask = "What does it smell of?"
why = "The smell tells a lot."
[[question]]
attribute = "sign.feel"
ask = "How does it feel?"
why = "Wet and dry want opposite cures."
"""


def cause(name: str, beside: str = "") -> str:
    return f"""
[cause.{name}]
name = "{name}"
say = "It is so."
tell = "Look at it."
beside = [{beside}]
source = "book"
"""


RICH = rule("sharp-is-rich", ["sign.smell == 'sharp'"], '{ cause = "too-rich", favour = 3 }')
NOT_RICH = rule("foul-is-not-rich", ["sign.smell == 'foul'"], '{ cause = "too-rich", favour = -1 }')
DRY = rule("dry-is-dry", ["sign.feel == 'dry'"], '{ cause = "too-dry", favour = 3 }')
NOT_DRY = rule("wet-is-not-dry", ["sign.feel == 'wet'"], '{ cause = "too-dry", favour = -3 }')

CAUSES = (
    'group = "causes"\nstratum = "causes"\n'
    + cause("too-rich", '"too-dry"')
    + cause("too-dry")
    + RICH
    + NOT_RICH
    + DRY
    + NOT_DRY
)


def remedy(name: str) -> str:
    return f"""
[remedy.{name}]
say = "Do it with care."
expect = "It is better."
days = 3
otherwise = "Do it again."
source = "book"
"""


WATER = rule("water-for-dry", ["cause['too-dry'].stands == 'yes'"], '{ remedy = "water" }')
BROWNS = rule("browns-for-rich", ["cause['too-rich'].stands == 'yes'"], '{ remedy = "browns" }')
ALSO = rule("browns-dry", ["remedy['browns'].stands == 'yes'"], '{ remedy = "browns", effect = "drier" }')
WARNED = rule(
    "dry-and-drier",
    ["remedy.effect == 'drier'", "cause['too-dry'].stands == 'yes'"],
    '{ proviso = "wet-them-first" }',
)

REMEDIES = (
    'group = "remedies"\nstratum = "remedies"\n'
    + remedy("water")
    + remedy("browns")
    + '\n[proviso.wet-them-first]\nsay = "Wet them first."\nsource = "book"\n'
    + WATER
    + BROWNS
    + ALSO
    + WARNED
)


def report(folder: Path, causes: str = CAUSES, remedies: str = REMEDIES, facts: str = FACTS) -> Report:
    written(
        folder,
        ("facts.toml", "", facts),
        ("sign-questions.toml", "", QUESTIONS),
        ("causes.toml", "", causes),
        ("remedies.toml", "", remedies),
    )
    knowledge, problems = read(folder)
    assert not problems
    return lint(knowledge, folder)


def test_the_miniature_is_sound(tmp_path: Path) -> None:
    assert not report(tmp_path).faults


BAD = {
    "cause-unreached": ({"causes": CAUSES.replace(DRY, "")}, "too-dry", "never found"),
    "cause-without-counter": ({"causes": CAUSES.replace(NOT_DRY, "")}, "too-dry", "speaks against"),
    "cause-without-remedy": (
        {"remedies": REMEDIES.replace(WATER, "").replace(remedy("water"), "")},
        "too-dry",
        "remedy",
    ),
    "causes-alike": (
        {
            "causes": 'group = "causes"\nstratum = "causes"\n'
            + cause("too-rich")
            + cause("too-dry")
            + rule("for-both", ["sign.smell == 'sharp'"], '{ cause = ["too-rich", "too-dry"], favour = 3 }')
            + rule("against-both", ["sign.smell == 'foul'"], '{ cause = ["too-rich", "too-dry"], favour = -3 }')
        },
        "too-rich",
        "tells them apart",
    ),
    "speaks-against-nothing": ({"facts": ONE_FEEL}, "wet-is-not-dry", "'too-dry'"),
    "unknown-neighbour": (
        {"causes": CAUSES.replace('beside = ["too-dry"]', 'beside = ["too-sad"]')},
        "too-rich",
        "too-sad",
    ),
    "sign-without-meaning": (
        {"facts": FACTS.replace('dry = "dry" }', 'dry = "dry", odd = "odd" }')},
        "sign.feel",
        "'odd'",
    ),
    "silent-side-effect": (
        {
            "remedies": REMEDIES.replace(
                WARNED, rule("other", ["cause['too-rich'].stands == 'yes'"], '{ proviso = "wet-them-first" }')
            )
        },
        "browns-dry",
        "'too-dry' stands",
    ),
}


@pytest.mark.parametrize("check", BAD)
def test_each_check_finds_its_fault(check: str, tmp_path: Path) -> None:
    changes, place, words = BAD[check]
    found = [problem for problem in report(tmp_path, **changes).faults if problem.check == check]
    assert found
    assert place in found[0].place
    assert words in found[0].message


def test_another_answer_clears_a_cause_that_waits_for_one(tmp_path: Path) -> None:
    found = report(tmp_path, causes=CAUSES.replace(NOT_DRY, ""), facts=ONE_FEEL).faults
    assert {problem.check for problem in found} == {"sign-without-meaning"}  # of "wet", which no rule reads now


def test_every_check_of_troubles_has_a_bad_example() -> None:
    assert set(BAD) == set(TROUBLES)


def test_a_cause_must_say_how_to_tell_it(tmp_path: Path) -> None:
    text = CAUSES.replace('tell = "Look at it."\n', "", 1)
    written(tmp_path, ("facts.toml", "", FACTS), ("causes.toml", "", text))
    _, problems = read(tmp_path)
    assert any(problem.place == "cause.too-rich.tell" for problem in problems)

"""The checks of grades, each against a rule base in miniature that is sound but for one fault."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import pytest
from small_base import rule, written

from advisor.knowledge.lint import EVIDENCE, lint
from advisor.knowledge.lint.evidence import _PROMISE
from advisor.knowledge.lint.tables import BANS_OF_PLAIN_SENSE
from advisor.knowledge.load import read
from advisor.places import rules_folder

Change = tuple[str, str, str]

#: Sources of every kind; rules, figures and words here are made up, and nothing in it is advice.
SOURCES = """
[habit]
title = "What the trade does"
standing = "practice"
[guess]
title = "Our own guess"
standing = "none"
[trial]
title = "Forty bins, weighed"
publisher = "A station"
standing = "memory"
kind = "trial"
"""
#: So that every source is cited once.
CITED = rule("y", ["place.room > 70"], '{ method = "bin", favour = 1 }', source='["habit", "guess", "trial", "book"]')


def graded(grade: str, source: str, then: str = '{ method = "bin", favour = 1 }', because: str = "") -> str:
    """A rule of such a grade."""
    text = rule("x", ["place.room > 60"], then, source=source, **({"because": because} if because else {}))
    return f'{text}evidence = "{grade}"\n'


class Bad(NamedTuple):
    """A rule that brings in one fault, and what the lint must say of it."""

    check: str
    text: str
    place: str
    words: str


CAUTION = '[caution.dust]\nsay = "{say}"\nsource = "habit"\n'
BAN = '{ method = "heap", ruled_out = "yes" }'

BAD = (
    Bad("measured-unmeasured", graded("measured", '"book"'), "x", "no source that is a trial or a standard"),
    Bad("measured-unmeasured", graded("measured", '["book", "habit"]'), "x", "is graded measured"),
    Bad("graded-too-high", graded("guidance", '"habit"'), "x", "no publication stands behind it"),
    Bad("graded-too-high", graded("guidance", '["habit", "guess"]'), "x", "is graded guidance"),
    Bad("ban-on-tradition", graded("tradition", '"habit"', BAN), "x", "sets method.ruled_out by tradition alone"),
    Bad(
        "promise-on-tradition",
        graded("tradition", '"habit"', because="A pinch of it always makes the heap hot."),
        "x",
        "promises 'always' on tradition alone",
    ),
    Bad(
        "promise-on-tradition",
        CAUTION.format(say="A pinch of it will heat any heap.")
        + graded("tradition", '"habit"', '{ caution = "dust" }'),
        "caution.dust",
        "promises 'will heat'",
    ),
)


def found(folder: Path, text: str) -> list[tuple[str, str, str]]:
    changes: list[Change] = [("sources.toml", "", SOURCES), ("method.toml", "", CITED + text)]
    knowledge, problems = read(written(folder, *changes))
    assert problems == ()
    report = lint(knowledge, folder)
    return [(one.check, one.place, one.message) for one in report.faults + report.remarks]


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: f"{bad.check}-{bad.place}")
def test_each_check_finds_its_fault_and_no_other_check_speaks(bad: Bad, tmp_path: Path) -> None:
    problems = found(tmp_path, bad.text)
    assert [check for check, _, _ in problems] == [bad.check]
    assert problems[0][1] == bad.place
    assert bad.words in problems[0][2]


GOOD = (
    graded("measured", '"trial"'),
    graded("measured", '["book", "trial"]'),
    graded("guidance", '["habit", "book"]'),
    graded("tradition", '"habit"'),
    graded("tradition", '"book"'),
    graded("guidance", '"book"', BAN),
    graded("tradition", '"habit"', because="Never more than a pinch: gardeners hold that it heats a heap."),
    CAUTION.format(say="Its dust is said to harm.") + graded("tradition", '"habit"', f'{BAN}, {{ caution = "dust" }}'),
)


@pytest.mark.parametrize("text", GOOD)
def test_what_is_graded_rightly_is_let_be(text: str, tmp_path: Path) -> None:
    assert found(tmp_path, text) == []


def test_every_check_has_a_bad_example() -> None:
    assert {bad.check for bad in BAD} == set(EVIDENCE)


@pytest.mark.parametrize("words", ["it will rot within weeks", "guaranteed to heat", "a proven cure", "always works"])
def test_what_promises(words: str) -> None:
    assert _PROMISE.search(words)


@pytest.mark.parametrize("words", ["never grass alone", "worms will come if they like", "it may heat", "all ways"])
def test_what_does_not_promise(words: str) -> None:
    assert _PROMISE.search(words) is None


def test_the_shipped_rules_carry_grades_that_their_sources_bear() -> None:
    """Every rule says how good its evidence is, and bans by custom alone are few, and each has its reason."""
    knowledge, _ = read(rules_folder())
    report = lint(knowledge, rules_folder())
    assert [str(one) for one in report.faults if one.check in EVIDENCE] == []
    assert {rule.evidence for rule in knowledge.rules} == {"measured", "guidance", "tradition"}
    assert set(BANS_OF_PLAIN_SENSE) <= {rule.id for rule in knowledge.rules}
    assert len(BANS_OF_PLAIN_SENSE) < 8

"""Reading rules/: what is malformed is a problem with its file and place; all are told and none is raised."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import NamedTuple

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small_base import FILES, rule, written

from advisor.errors import RuleBaseError
from advisor.knowledge import load
from advisor.knowledge.base import Conclusion
from advisor.knowledge.load import read

Change = tuple[str, str, str]


class Bad(NamedTuple):
    """A change to the sound rule base, and the problem it must lead to."""

    change: Change
    check: str
    place: str
    words: str


def then(text: str) -> Change:
    """A rule with this conclusion."""
    return ("method.toml", "", rule("x", ["place.room > 60"], text))


def when(text: str) -> Change:
    """A rule with this condition."""
    return ("method.toml", "", rule("x", [text], '{ method = "bin", favour = 1 }'))


QUESTION = '[[question]]\nattribute = "place.room"\nask = "How much?"\nwhy = "To know."\n'

BAD = (
    # ---------------------------------------------------------------- files
    Bad(("method.toml", "", "\n[[rule]\n"), "unreadable", "line ", "not TOML"),
    Bad(("method.toml", "", '\nid = "again"\n'), "unreadable", "line ", "not TOML"),
    Bad(("methods.toml", "", "[bin]\n"), "unreadable", "line ", "not TOML"),
    Bad(("method.toml", "", "deep = " + "[" * 3000), "unreadable", "", "not TOML"),
    # ---------------------------------------------------------------- tables of data
    Bad(("measures.toml", "", "\nspare = 3\n"), "shape", "bucket.litres.spare", "no such key here"),
    Bad(
        ("sources.toml", "", '[Some_Book]\ntitle = "abc"\nstanding = "read"\n'),
        "shape",
        "Some_Book",
        "joined by hyphens",
    ),
    Bad(("sources.toml", 'standing = "read"', 'standing = "seen"'), "shape", "book.standing", "not 'seen'"),
    Bad(("sources.toml", 'title = "A book"\n', ""), "shape", "book.title", "is missing"),
    Bad(("sources.toml", "", "zzz = 3\n"), "shape", "hearsay.zzz", "no such key here; there is title"),
    Bad(
        ("measures.toml", "[8, 10, 12]", "[8, 14, 12]"),
        "shape",
        "bucket.litres",
        "needs 0 <= low <= typical <= high",
    ),
    Bad(("measures.toml", "[8, 10, 12]", "[8, 12]"), "shape", "bucket.litres", "range is [low, typical, high]"),
    Bad(("measures.toml", "[8, 10, 12]", "[8, 10, inf]"), "shape", "bucket.litres.high", "neither infinite"),
    Bad(("measures.toml", "[8, 10, 12]", "[nan, 10, 12]"), "shape", "bucket.litres.low", "neither infinite"),
    Bad(("measures.toml", '["8-12 book"]', "[]"), "shape", "bucket.litres", "names no source"),
    Bad(
        ("measures.toml", '"8-12 book"', '"about 10, book"'),
        "shape",
        "bucket.litres.published.0",
        "write it as",
    ),
    Bad(("measures.toml", '["pail"]', '"pail"'), "shape", "bucket.aliases", "tuple"),
    Bad(("measures.toml", 'name = "bucket"', "name = 3"), "shape", "bucket.name", "is a text in quotes, not 3"),
    Bad(("figures.toml", "range = [1, 2, 3]\n", ""), "shape", "film.low", "is missing"),
    Bad(("materials/browns.toml", 'keeps = "years"', 'keeps = "ages"'), "shape", "leaves.keeps", "not 'ages'"),
    Bad(
        ("materials/browns.toml", 'name = "leaves"', 'name = "leaves"\nroll = 1'),
        "shape",
        "leaves.roll",
        "did you mean 'role'?",
    ),
    Bad(("materials/more.toml", "", "hay = 3\n"), "shape", "hay", "is a table of keys and values"),
    Bad(("materials/more.toml", "", FILES["materials/browns.toml"]), "duplicate-id", "leaves", "there twice"),
    Bad(
        ("materials/more.toml", "", FILES["materials/browns.toml"].replace("leaves", "same")),
        "shape",
        "same",
        "another name",
    ),
    # ---------------------------------------------------------------- fact kinds
    Bad(("facts.toml", "[target]\n", "[Target]\n"), "shape", "Target", "joined by underscores"),
    Bad(("facts.toml", "", '[class]\nabout = "abc"\n'), "shape", "class", "means something else in a rule"),
    Bad(("facts.toml", "", '[unknown]\nabout = "abc"\n'), "shape", "unknown", "means something else in a rule"),
    Bad(
        ("facts.toml", "number = [0, 10000]", "number = [10000, 0]"),
        "shape",
        "heap.litres",
        "number is [lowest, highest]",
    ),
    Bad(
        ("facts.toml", "number = [0, 10000]", ""),
        "shape",
        "heap.attributes.litres",
        "either words or a number range",
    ),
    Bad(("facts.toml", 'subjects = ["moisture"]', 'subjects = "windows"'), "shape", "target.subjects", ""),
    # ---------------------------------------------------------------- questions
    Bad(("questions.toml", "", "\n[[qestion]]\n"), "shape", "qestion", "did you mean 'question'?"),
    Bad(("questions.toml", "", QUESTION + "ease = 9\n"), "shape", "place.room.ease", "less than or equal to 5"),
    Bad(
        ("questions.toml", "", "[[question]]\nask = 3\n"),
        "shape",
        "question 4.ask",
        "is a text in quotes, not 3",
    ),
    Bad(
        ("questions.toml", "", QUESTION + "when = \"place.space == 'roof'\"\n"),
        "condition",
        "place.room, column 16",
        "never 'roof'",
    ),
    # ---------------------------------------------------------------- rule files
    Bad(
        ("method.toml", 'stratum = "method"', 'stratum = "methods"'),
        "shape",
        "stratum",
        "is one of situation, method",
    ),
    Bad(
        ("method.toml", 'stratum = "method"', "stratum = []"),
        "shape",
        "stratum",
        "is one of situation, method",
    ),
    Bad(("method.toml", 'group = "method"', "group = 3"), "shape", "group", "lower-case words"),
    Bad(("method.toml", 'group = "method"', 'group = "method"\nabout = 3'), "shape", "about", "is a text"),
    Bad(
        ("method.toml", 'group = "method"', 'group = "method"\nrules = 3'),
        "shape",
        "rules",
        "did you mean 'rule'?",
    ),
    Bad(("new.toml", "", 'stratum = "build"\nrule = 3\n'), "shape", "rule", "write each as [[rule]]"),
    Bad(
        ("new.toml", "", 'stratum = "build"\nrule = [3]\n'),
        "shape",
        "rule 1",
        "is a table of keys and values",
    ),
    Bad(
        ("new.toml", "", 'stratum = "build"\ncaution = 3\n'),
        "shape",
        "caution",
        "write each as [caution.its-name]",
    ),
    Bad(
        ("new.toml", "", 'stratum = "build"\ncaution.dust = 3\n'),
        "shape",
        "caution.dust",
        "is a table of keys and values",
    ),
    Bad(
        ("safety.toml", "", '[caution.Dust]\nsay = "Mind the dust."\nsource = "book"\n'),
        "shape",
        "caution.Dust",
        "by hyphens",
    ),
    Bad(
        ("zoo.toml", "", 'stratum = "build"\n[caution.fire]\nsay = "Again."\nsource = "book"\n'),
        "duplicate-id",
        "caution.fire",
        "this name is taken",
    ),
    Bad(
        ("method.toml", 'id = "a-yard-suits-a-bin"', 'id = "A yard"'),
        "shape",
        "A yard.id",
        "joined by hyphens, not 'A yard'",
    ),
    Bad(("method.toml", 'id = "a-yard-suits-a-bin"\n', ""), "shape", "rule 1.id", "is missing"),
    Bad(
        ("method.toml", 'because = "A bin is tidy and small."\n', ""),
        "shape",
        "a-yard-suits-a-bin.because",
        "is missing",
    ),
    Bad(
        ("method.toml", 'evidence = "tradition"', 'evidence = "strong"'),
        "shape",
        "matting-stuff-in-small-parts.evidence",
        "not 'strong'",
    ),
    Bad(
        ("method.toml", "when = [\"place.space == 'yard'\"]", "when = []"),
        "shape",
        "a-yard-suits-a-bin.when",
        "at least 1 item",
    ),
    # ---------------------------------------------------------------- conditions; more in test_conditions.py
    Bad(when("plce.room > 5"), "condition", "x, column 1 of", "no fact kind 'plce'"),
    Bad(when("place.rom > 5"), "condition", "x, column 1 of", "'place' has no 'rom'"),
    Bad(when("place.room > 'big'"), "condition", "x, column 14 of", "holds a number"),
    Bad(when("place.room > 500"), "condition", "x, column 14 of", "lies between 0 and 100; 500 is outside"),
    Bad(when("place.space == 'roof'"), "condition", "x, column 16 of", "place.space is never 'roof'"),
    Bad(when("holding['hay'].share > 5"), "condition", "x, column 1 of", "no holding 'hay'"),
    # ---------------------------------------------------------------- conclusions
    Bad(then("{}"), "conclusion", "x", "concludes nothing"),
    Bad(then('{ methd = "bin", favour = 1 }'), "conclusion", "x", "did you mean 'method'?"),
    Bad(then('{ method = "bn", favour = 1 }'), "conclusion", "x", "no method 'bn'; did you mean 'bin'?"),
    Bad(then('{ method = ["bin", "bin"], favour = 1 }'), "conclusion", "x", "names method 'bin' twice"),
    Bad(then("{ method = [], favour = 1 }"), "conclusion", "x", "names no method"),
    Bad(then("{ method = 3, favour = 1 }"), "conclusion", "x", "a method is a name in quotes, not 3"),
    Bad(then('{ method = "bin" }'), "conclusion", "x", "'method' has no 'stands'"),
    Bad(
        then('{ method = "bin", favor = 1 }'),
        "conclusion",
        "x",
        "'method' has no 'favor'; did you mean 'favour'?",
    ),
    Bad(
        then('{ method = "bin", favour = 9 }'),
        "conclusion",
        "x",
        "method.favour lies between -5 and 5; 9 is outside",
    ),
    Bad(then('{ method = "bin", favour = nan }'), "conclusion", "x", "nan is outside"),
    Bad(then('{ method = "bin", favour = true }'), "conclusion", "x", "method.favour is a number, not True"),
    Bad(
        then('{ method = "bin", favour = "much" }'),
        "conclusion",
        "x",
        "method.favour is a number, not 'much'",
    ),
    Bad(then('{ method = "bin", favour = [1, 1] }'), "conclusion", "x", "the value 1 twice"),
    Bad(then('{ method = "bin", favour = [] }'), "conclusion", "x", "gives method.favour no value"),
    Bad(then('{ method = "bin", ruled_out = "no" }'), "conclusion", "x", "method.ruled_out is never 'no'"),
    Bad(then('{ method = "bin", ruled_out = ["yes"] }'), "conclusion", "x", "holds one value at a time"),
    Bad(
        then('{ method = "bin", ruled_out = { yes = 1 } }'),
        "conclusion",
        "x",
        "method.ruled_out is never {'yes': 1}",
    ),
    Bad(then('{ method = "bin", ruled_out = 2026-01-01 }'), "conclusion", "x", "method.ruled_out is never"),
    Bad(then('{ plan = "hot" }'), "conclusion", "x", "write { plan = { attribute = value } }"),
    Bad(then("{ plan = {} }"), "conclusion", "x", "write { plan = { attribute = value } }"),
    Bad(then('{ plan = { aim = "hot" }, heap = { litres = 3 } }'), "conclusion", "x", "one kind an entry"),
    Bad(then('{ plan = { aim = "warm" } }'), "conclusion", "x", "plan.aim is never 'warm'; there is hot, slow"),
    Bad(
        then('{ plan = { method = "bin" } }'),
        "conclusion",
        "x",
        "plan.method is computed, so no rule may conclude it",
    ),
    Bad(then("{ place = { room = 3 } }"), "conclusion", "x", "place.room is what people answer"),
    Bad(then('{ holding = "same", share_cap = 3 }'), "conclusion", "x", "no condition is about a holding"),
    Bad(then('{ caution = "fyre" }'), "conclusion", "x", "no caution 'fyre'; did you mean 'fire'?"),
)


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: f"{bad.place} {bad.words}"[:60])
def test_a_malformed_file_is_a_problem_with_its_place(bad: Bad, tmp_path: Path) -> None:
    file = bad.change[0]
    _, problems = read(written(tmp_path, bad.change))
    mine = [problem for problem in problems if problem.check == bad.check]
    assert any(
        problem.file == f"rules/{file}" and bad.place in problem.place and bad.words in problem.message
        for problem in mine
    ), [str(problem) for problem in problems]


def test_the_sound_rule_base_is_read_in_full(tmp_path: Path) -> None:
    knowledge, problems = read(written(tmp_path))
    assert problems == ()
    assert [rule.id for rule in knowledge.rules][:2] == ["a-yard-suits-a-bin", "a-garden-suits-a-heap"]
    assert {rule.stratum for rule in knowledge.rules} == {"method", "target", "safety"}
    assert list(knowledge.materials) == ["leaves", "clippings"]  # files in order of their names
    assert knowledge.subjects("method") == {"bin", "heap"}
    assert knowledge.subjects("caution") == {"fire"}
    assert knowledge.subjects("place") == frozenset()


def test_one_entry_may_conclude_several_values_of_several_things(tmp_path: Path) -> None:
    change = then('{ method = ["bin", "heap"], favour = [1, 2] }')
    knowledge, problems = read(written(tmp_path, change))
    assert problems == ()
    assert knowledge.rule("x").then == tuple(
        Conclusion("method", "favour", subject, False, value) for subject in ("bin", "heap") for value in (1.0, 2.0)
    )


@pytest.mark.parametrize(
    "missing", [name for name in FILES if name in {"sources.toml", "facts.toml", "questions.toml"}]
)
def test_a_missing_file_is_named(missing: str, tmp_path: Path) -> None:
    written(tmp_path)
    (tmp_path / missing).unlink()
    _, problems = read(tmp_path)
    assert (problems[0].check, problems[0].file, problems[0].message) == (
        "unreadable",
        f"rules/{missing}",
        "the file is missing",
    )


def test_an_empty_folder_names_every_file_it_lacks(tmp_path: Path) -> None:
    _, problems = read(tmp_path)
    assert {problem.file for problem in problems} == {
        f"rules/{name}.toml" for name in ("sources", "facts", "measures", "methods", "figures", "questions")
    }


def test_a_folder_in_place_of_a_file_and_a_file_that_is_not_text(tmp_path: Path) -> None:
    written(tmp_path)
    (tmp_path / "new.toml").mkdir()
    (tmp_path / "target.toml").write_bytes(b'group = "\xff"')
    _, problems = read(tmp_path)
    assert [(problem.file, problem.place) for problem in problems] == [
        ("rules/new.toml", ""),
        ("rules/target.toml", "byte 10"),
    ]
    assert "cannot be read" in problems[0].message
    assert "not UTF-8" in problems[1].message


def test_all_faults_of_all_files_are_collected_at_once(tmp_path: Path) -> None:
    bad_rule = rule("x", ["place.rom > 5", "place.space == 'roof'"], '{ method = "bn", favour = 9 }, { plan = 3 }')
    _, problems = read(
        written(
            tmp_path,
            ("measures.toml", "[8, 10, 12]", "[8, 14, 12]"),
            ("materials/browns.toml", 'role = "brown"', 'role = "dark"'),
            ("method.toml", "", bad_rule),
            ("safety.toml", 'stratum = "safety"', 'stratum = "last"'),
            ("safety.toml", "", rule("y", ["heap.litres > 5"], '{ caution = "fyre" }')),
        )
    )
    told = [(problem.file, problem.place.split(",")[0], problem.message.split(";")[0]) for problem in problems]
    assert told == [
        ("rules/measures.toml", "bucket.litres", "needs 0 <= low <= typical <= high, got 8.0, 14.0, 12.0"),
        ("rules/materials/browns.toml", "leaves.role", told[1][2]),
        ("rules/method.toml", "x", "'place' has no 'rom'"),
        ("rules/method.toml", "x", "place.space is never 'roof'"),
        ("rules/method.toml", "x", "no method 'bn'"),
        ("rules/method.toml", "x", "method.favour lies between -5 and 5"),
        ("rules/method.toml", "x", "write { plan = { attribute = value } }, one kind an entry"),
        (
            "rules/safety.toml",
            "stratum",
            "is one of situation, method, target, build, signs, causes, remedies, soil, care, safety",
        ),
        ("rules/safety.toml", "y", "no caution 'fyre'"),
    ]


def test_what_is_faulty_is_left_out_and_the_rest_is_kept(tmp_path: Path) -> None:
    knowledge, _ = read(written(tmp_path, then('{ method = "bn", favour = 1 }')))
    assert len(knowledge.rules) == 10
    assert "x" not in {rule.id for rule in knowledge.rules}


def test_the_shipped_rule_base_refuses_to_be_half_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = written(tmp_path, then('{ method = "bn", favour = 1 }'), ("target.toml", 'stratum = "target"', ""))
    monkeypatch.setattr(load, "rules_folder", lambda: folder)
    load.shipped.cache_clear()
    try:
        with pytest.raises(RuleBaseError) as refusal:
            load.shipped()
    finally:
        load.shipped.cache_clear()
    assert len(refusal.value.problems) == 2
    assert str(refusal.value).startswith("rules/method.toml: x: no method 'bn'")
    assert "(and 1 more; `heapwright check` lists them)" in str(refusal.value)


_VALUES = st.recursive(
    st.one_of(
        st.booleans(),
        st.integers(-9, 9),
        st.sampled_from(["bin", "same", "yes", "book", "place.room > 5", ""]),
    ),
    lambda inner: (
        st.lists(inner, max_size=2)
        | st.dictionaries(st.sampled_from(["id", "method", "favour", "a b"]), inner, max_size=2)
    ),
    max_leaves=6,
)


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{" + ", ".join(f'"{key}" = {_toml(inner)}' for key, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    return f'"{value}"' if isinstance(value, str) else str(value)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    file=st.sampled_from(sorted(FILES)),
    key=st.sampled_from(["rule", "question", "caution", "group", "stratum", "place", "bin", "book", "leaves", "x"]),
    value=_VALUES,
)
def test_no_value_under_any_key_ends_in_a_traceback(file: str, key: str, value: object, tmp_path: Path) -> None:
    """Any well-formed TOML in place of one file: `read` gives problems or knowledge, and never raises."""
    written(tmp_path)
    text = f'stratum_ = 1\n"{key}" = {_toml(value)}\n'
    tomllib.loads(text)
    (tmp_path / file).write_text(text, encoding="utf-8")
    _, problems = read(tmp_path)
    assert all(problem.file.startswith("rules/") and problem.message for problem in problems)
    assert problems

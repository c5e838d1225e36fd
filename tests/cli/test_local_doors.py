"""Local rules at every door: commands, the data folder, the talk, its forms, papers, and a fault in a file."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from commanded import heapwright
from local_folders import CAUTION, folder_of, from_readme, rule

from advisor.commands.parsing import _WITHOUT_RULES, parser, summaries
from advisor.counsel.consult import shipped_engine
from advisor.counsel.in_use import in_use
from advisor.knowledge.lint.conditions import impossible_condition
from advisor.places import use_local
from advisor.screens.reasons import as_text, tree
from advisor.talk.session import Talk

IN_USE = "Local rules of Wexcombe Garden Club are in use."
STRAW = ("--have", "2 club barrels hop pulp, 6 sacks wheat tops, 3 buckets cow manure", "--space", "garden")


@pytest.fixture(scope="module", autouse=True)
def wexcombe(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """The folder of README.md; what is found in it is kept in a cache of this module."""
    folder = tmp_path_factory.mktemp("local")
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("advisor.kept_objects.cache_folder", lambda: folder / "cache")
        # one check of the whole rule base stands for all of them, which take their time
        patched.setattr("advisor.knowledge.lint.FAULTS", {"impossible-condition": impossible_condition})
        for others in ("TROUBLES", "EVIDENCE", "REMARKS"):
            patched.setattr(f"advisor.knowledge.lint.{others}", {})
        patched.setattr("advisor.counsel.in_use._muffled", lambda *_: ())  # see test_local_files.py
        patched.setattr("advisor.hearing.lint.words_lint", lambda *_: ((), ()))  # local files hold no words
        yield from_readme(folder / "wexcombe")
    use_local(None)


def plain(text: str) -> str:
    return " ".join(text.split())


def test_a_plan_says_whose_rules_and_marks_its_lines(wexcombe: Path) -> None:
    done = heapwright("plan", *STRAW, "--local", str(wexcombe))
    assert done.returncode == 0, done.stderr
    assert IN_USE in plain(done.stdout)
    assert "Wexcombe asks for 2 m between a heap and a neighbour's fence." in plain(done.stdout)
    assert "hop pulp" in done.stdout
    why = plain(heapwright("plan", *STRAW, "--local", str(wexcombe), "--why").stdout)
    assert "[local rule; town-fence-distance; guidance; place-byelaws]" in why, "a rule"
    assert "what a club barrel holds: 115 (110 to 120) L [local entry; place-club]" in why, "a measure"
    assert "Of the dairy at Mill Lane. [local entry; place-club]" in why, "a figure over a shipped one"
    assert "[local entry; place-club]" in why.split("Ready in about", 1)[1].split("Keep", 1)[0], "a figure of the trade"


def test_without_it_nothing_is_said(wexcombe: Path) -> None:
    heapwright("plan", *STRAW, "--local", str(wexcombe))
    done = heapwright("plan", "six-hens")
    assert "Local rules" not in done.stdout
    assert heapwright("plan", *STRAW).returncode == 2, "nobody else knows a club barrel"


@pytest.mark.parametrize(
    "words",
    [
        ("blend", "--have", "1 club barrel hop pulp, 4 sacks wheat tops"),
        ("diagnose", "--signs", "stinks of ammonia, slimy", "--heap", "1 club barrel hop pulp"),
        ("materials", "hop pulp"),
        ("rules", "town-fence-distance"),
        ("heat", "--have", "1000 L hop pulp, 2000 L wheat tops", "--month", "May"),
        ("substitutes", "--for", "2 barrows horse manure"),
        ("year", "--have", "1 club barrel hop pulp a week"),  # it has a page of its own
        ("spread", "--bed", "A, 1.2 x 6 m, wants new"),
        ("today",),
    ],
)
def test_every_answer_says_so(wexcombe: Path, words: tuple[str, ...]) -> None:
    done = heapwright(*words, "--local", str(wexcombe))
    assert done.returncode == 0, done.stderr
    assert IN_USE in plain(done.stdout)


def test_every_command_that_loads_rules_takes_it() -> None:
    for name in summaries():
        [sub] = [one for one in parser(name)._actions if hasattr(one, "choices") and isinstance(one.choices, dict)]
        options = [option for action in sub.choices[name]._actions for option in action.option_strings]
        assert ("--local" in options) is (name not in _WITHOUT_RULES), name


def test_the_data_folder_is_used_by_itself(tmp_path: Path) -> None:
    from_readme(tmp_path / "local")
    done = heapwright("plan", *STRAW, HEAPWRIGHT_HOME=str(tmp_path))
    assert done.returncode == 0, done.stderr
    assert IN_USE in plain(done.stdout)


def test_papers_say_so(wexcombe: Path, tmp_path: Path) -> None:
    page, notes = tmp_path / "a.html", tmp_path / "a.md"
    done = heapwright("plan", *STRAW, "--local", str(wexcombe), "--page", str(page), "--markdown", str(notes))
    assert done.returncode == 0, done.stderr
    for file in (page, notes):
        assert IN_USE in plain(file.read_text(encoding="utf-8"))
    assert "Wexcombe Town Council" in notes.read_text(encoding="utf-8")
    told = json.loads(heapwright("plan", *STRAW, "--local", str(wexcombe), "--json").stdout)
    assert "place-byelaws" in json.dumps(told["cautions"])


def test_the_talk_and_its_forms_know_it(wexcombe: Path) -> None:
    use_local(wexcombe)
    try:
        talk = Talk(in_use(), shipped_engine())
        opened = " ".join(reply.text for reply in talk.open())
        assert IN_USE in opened
        heard = " ".join(reply.text for reply in talk.hear("2 club barrels of hop pulp and 6 sacks of wheat tops"))
        assert "6 sacks of straw" in heard
        assert talk.plan is not None
        fence = next(line for line in talk.plan.cautions if "Wexcombe" in line.text)
        why = " ".join(reply.text for reply in talk.hear(f"why {fence.id}"))
        assert "local rule; town-fence-distance" in why
        roots = tree([fence], talk.knowledge.sources, opened=fence.id)
        assert "local rule" in as_text(roots)
        replies = [*talk.hear("I have no manure"), *talk.hear("2 barrows of horse manure")]
        for _ in range(6):
            replies += talk.hear("I don't know") if talk.question is not None else ()
        assert IN_USE in " ".join(line.text for reply in replies for line in (reply, *reply.lines))
    finally:
        use_local(None)


def test_a_fault_is_named_left_out_and_the_rest_works(tmp_path: Path) -> None:
    clash = rule("hot-window", "\"plan.aim == 'quick'\"", "{ event = 'no-such' }", stratum="care")
    sound = rule("sound", "\"plan.form == 'stacked'\"", "{ caution = 'testby' }", more=CAUTION)
    never = rule(
        "never", "\"plan.form == 'stacked'\", \"plan.form == 'drum'\"", "{ caution = 'testby' }"
    )  # its form is right, and the checks of the whole rule base find it
    folder = folder_of(tmp_path / "testby", clash=clash, sound=sound, never=never)
    done = heapwright("plan", "six-hens", "--local", str(folder))
    assert done.returncode == 0, done.stderr
    told = plain(done.stdout)
    assert "Local rules of Testby are in use." in told
    assert "The local file testby/clash.toml is left out, for it has a fault." in told
    assert "2 files are left out in all." in told
    checked = heapwright("check", "--quiet", "--local", str(folder))
    assert checked.returncode == 3
    for place in ("testby/clash.toml: hot-window", "testby/never.toml: never"):
        assert place in checked.stdout


def test_what_is_no_folder_is_told(tmp_path: Path) -> None:
    done = heapwright("plan", "six-hens", "--local", str(tmp_path / "nowhere"))
    assert done.returncode == 2
    assert "--local: no folder" in done.stderr
    assert "README.md shows one" in done.stderr

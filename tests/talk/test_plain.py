"""The talk on plain lines: prompts, numbered options, folding, the end of the input, and Ctrl-C."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from conversing import ENGINE, KNOWLEDGE

from advisor.talk.plain import run
from advisor.talk.session import Talk
from advisor.talk.shelf import Shelf

ROOT = Path(__file__).parents[2]


def talked(
    lines: list[str], tmp_path: Path, width: int = 80, *, colour: bool = False, echo: bool = True
) -> tuple[int, str]:
    """A conversation from a list of lines, with its exit code."""
    out = io.StringIO()
    talk = Talk(KNOWLEDGE, ENGINE, shelf=Shelf(tmp_path, KNOWLEDGE))
    code = run(talk, lines, out, width, colour=colour, echo=echo)
    return code, out.getvalue()


def test_it_greets_asks_and_numbers_the_answers(tmp_path: Path) -> None:
    code, text = talked([], tmp_path)
    assert code == 0
    assert text.lstrip().startswith("Good day.")
    assert "  1  Start a heap\n" in text
    assert "  7  I don't know\n" in text
    assert text.rstrip().endswith("Good-bye, and good compost.")


def test_at_the_end_of_the_input_the_plan_is_shown(tmp_path: Path) -> None:
    _, text = talked(["6 sacks of leaves and 4 buckets of grass"], tmp_path)
    assert "The mix" in text
    assert "The calendar" in text
    assert text.index("The mix") > text.index("Heard: 6 sacks")
    assert "--why" not in text  # that is for the command line


def test_leaving_ends_it_without_another_word(tmp_path: Path) -> None:
    code, text = talked(["6 sacks of leaves", "bye", "3 sacks of straw"], tmp_path)
    assert code == 0
    assert "The mix" not in text
    assert "straw" not in text.rpartition("Good-bye")[0].rpartition("> bye")[2]


@pytest.mark.parametrize("width", [20, 40, 57, 80, 120])
def test_no_line_is_wider_than_asked(tmp_path: Path, width: int) -> None:
    lines = ["3 sacks of leaves and 2 buckets of horse manure", "why m1", "can I put in citrus?", "help", "what else"]
    _, text = talked([*lines, "bye"], tmp_path, width)
    said = {f"> {line}" for line in lines}
    assert max(len(line) for line in text.split("\n") if line not in said) <= max(width, 40)


def test_options_are_folded_under_their_words_and_not_under_their_numbers(tmp_path: Path) -> None:
    _, text = talked(["6 sacks of leaves and a bucket of kitchen scraps a week", *["skip"] * 7], tmp_path, 40)
    folded = [line for line in text.split("\n") if line.startswith("     ") and line.strip()]
    assert folded


def test_no_terminal_codes_unless_asked_for(tmp_path: Path) -> None:
    lines = ["2 wheelbarrows of horse manure", "show the plan"]
    _, plain = talked(lines, tmp_path)
    _, inked = talked(lines, tmp_path, colour=True)
    assert "\x1b" not in plain
    assert "\x1b[1m" in inked
    import re

    assert re.sub(r"\x1b\[[0-9;]*m", "", inked) == plain  # no meaning hangs on them


def test_what_was_typed_is_not_written_twice_on_a_terminal(tmp_path: Path) -> None:
    _, echoed = talked(["6 sacks of leaves"], tmp_path)
    _, silent = talked(["6 sacks of leaves"], tmp_path, echo=False)
    assert "> 6 sacks of leaves\n" in echoed
    assert "> 6 sacks of leaves\n" not in silent


def test_interrupting_is_a_farewell(tmp_path: Path) -> None:
    def lines() -> Iterator[str]:
        yield "6 sacks of leaves"
        raise KeyboardInterrupt

    out = io.StringIO()
    code = run(Talk(KNOWLEDGE, ENGINE, shelf=Shelf(tmp_path, KNOWLEDGE)), lines(), out, 80)
    assert code == 130
    assert out.getvalue().rstrip().endswith("Good-bye, and good compost.")


def test_the_same_lines_give_the_same_talk(tmp_path: Path) -> None:
    lines = [
        "6 sacks of leaves and a bucket of kitchen scraps a week",
        "a garden",
        "why",
        "skip",
        "what else could I do",
    ]
    assert talked(lines, tmp_path) == talked(lines, tmp_path)


# ---------------------------------------------------------------- as a command


def command(*arguments: str, said: str = "", home: Path) -> subprocess.CompletedProcess[str]:
    """`heapwright talk`, as it is typed."""
    environment = {**os.environ, "HEAPWRIGHT_HOME": str(home), "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8"}
    return subprocess.run(
        [sys.executable, "-m", "advisor", "talk", *arguments],
        input=said,
        capture_output=True,
        text=True,
        encoding="utf-8",
        env=environment,
        check=False,
        timeout=120,
    )


def test_from_a_script_of_lines_and_kept_where_it_is_told(tmp_path: Path) -> None:
    script = tmp_path / "lines.txt"
    script.write_text("6 sacks of leaves and 4 buckets of grass\na garden\nsave as the orchard\n", encoding="utf-8")
    done = command("--plain", str(script), home=tmp_path / "home")
    assert done.returncode == 0
    assert done.stderr == ""
    assert "Heard: 6 sacks of dry autumn leaves" in done.stdout
    assert (tmp_path / "home" / "the-orchard.toml").is_file()


def test_from_a_pipe_even_without_saying_so(tmp_path: Path) -> None:
    done = command(said="3 sacks of leaves\nshow the plan\n", home=tmp_path)
    assert done.returncode == 0
    assert "Compost for your heap" in done.stdout


def test_a_shipped_household_may_be_carried_on_with(tmp_path: Path) -> None:
    done = command("--plain", "--household", "six-hens", "--units", "us", said="", home=tmp_path)
    assert done.returncode == 0
    assert "Carrying on with Six hens and a vegetable patch." in done.stdout
    assert " gal" in done.stdout


@pytest.mark.parametrize(
    ("arguments", "complaint"),
    [
        (("--plain", "no-such-file.txt"), "there is no such file"),
        (("lines.txt",), "heapwright talk --plain lines.txt"),
        (("--plain", "--household", "six-hen"), "did you mean six-hens"),
    ],
)
def test_what_cannot_be_is_told_in_one_line(tmp_path: Path, arguments: tuple[str, ...], complaint: str) -> None:
    done = command(*arguments, home=tmp_path)
    assert done.returncode == 2
    assert complaint in done.stderr
    assert done.stderr.count("\n") == 1
    assert "Traceback" not in done.stderr

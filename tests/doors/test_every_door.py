"""Signs that drive a terminal, put in at every door, come out at none; writing of every kind does."""

from __future__ import annotations

import io
import json
import sqlite3
from contextlib import redirect_stderr, redirect_stdout
from datetime import date
from pathlib import Path

import pytest
from hostile import BARE_IN_TOML, IN_TOML, SIGNS, WRITING, driving

from advisor.cli import main
from advisor.counsel.consult import consult, shipped_engine
from advisor.diary.store import Diary
from advisor.household.files import read_household, write_household
from advisor.knowledge.load import shipped
from advisor.papers.markdown import markdown
from advisor.papers.paper import paper_of
from advisor.soil_counsel.ground import BedTold, check_told
from advisor.soil_counsel.inputs import read_check_text
from advisor.talk.session import Talk
from advisor.talk.shelf import Shelf

KNOWLEDGE = shipped()

HOUSEHOLD = f"""name = "A{IN_TOML} {WRITING}"
about = "B{IN_TOML}"
have = [
    "3 sacks{BARE_IN_TOML} dry leaves",
    "2 buckets grass clippings",
    "1 kitchen caddy{BARE_IN_TOML} kitchen scraps a week",
    {{ material = "straw", count = 1, measure = "sack", said = "C{IN_TOML}" }},
]
[place]
space = "garden"
container = "closed-bin"
holds = "300 L"
[year]
arrives = ["Oct-Nov: 4 sacks{BARE_IN_TOML} dry leaves a week"]
"""
GROUND = f"""name = "A{IN_TOML} {WRITING}"
about = "B{IN_TOML}"
last_frost = "04-20"
first_frost = "10-10"
starts = 2026-01-01
[[bed]]
name = "C{IN_TOML}"
area = "3 m2"
step = 1
[[bed]]
name = "D{IN_TOML} {WRITING}"
area = "3 m2"
[[check]]
bed = "C{IN_TOML}"
kind = "hole"
hours = 5
on = 2025-05-01
"""


class Terminal(io.StringIO):
    """A terminal of the command line, for which colours are on."""

    def isatty(self) -> bool:
        return True


def run(*words: str, terminal: bool = False) -> str:
    """Everything that a command prints, but for the codes that set words off."""
    from advisor.safe_text import _OWN_CODES

    out, fault = Terminal() if terminal else io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(fault):
        code = main(words)
    assert code in (0, 2), fault.getvalue()
    if code:
        assert len(fault.getvalue().splitlines()) == 1
    return _OWN_CODES.sub("", out.getvalue()) + fault.getvalue()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / f"home{SIGNS.replace('/', '')}.toml").write_text(HOUSEHOLD, encoding="utf-8")
    (tmp_path / f"plot{SIGNS}.toml").write_text(GROUND, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize("terminal", [False, True], ids=["pipe", "terminal"])
@pytest.mark.parametrize("shown", [(), ("--json",), ("--why",)], ids=["page", "json", "why"])
@pytest.mark.parametrize(
    "words",
    [
        ("plan",), ("year",), ("paces",), ("heat",), ("kitchen",), ("additions",),
        ("diagnose", "--signs", f"slimy{SIGNS}"),
        ("bedding", "--animals", "6 hens"), ("substitutes", "--for", "2 barrows horse manure"),
    ],
    ids=lambda words: words[0],
)  # fmt: skip
def test_a_household_of_somebody_else(
    words: tuple[str, ...], shown: tuple[str, ...], terminal: bool, folder: Path
) -> None:
    (path,) = folder.glob("home*")
    printed = run(words[0], str(path), *words[1:], *shown, terminal=terminal)
    assert not driving(printed)
    assert not printed.startswith("heapwright:")
    if shown == ("--json",):
        assert not [text for text in _texts(json.loads(printed)) if driving(text)]


@pytest.mark.parametrize("terminal", [False, True], ids=["pipe", "terminal"])
@pytest.mark.parametrize("shown", [(), ("--json",), ("--why",)], ids=["page", "json", "why"])
@pytest.mark.parametrize("command", ["soil", "spread", "seasons"])
def test_a_ground_of_somebody_else(command: str, shown: tuple[str, ...], terminal: bool, folder: Path) -> None:
    (path,) = folder.glob("plot*")
    printed = run(command, str(path), *shown, terminal=terminal)
    assert not driving(printed)
    assert "C [2J" in printed
    if shown == ("--json",):
        assert not [text for text in _texts(json.loads(printed)) if driving(text)]


def _texts(value: object) -> list[str]:
    if isinstance(value, dict):
        return [*value, *(text for held in value.values() for text in _texts(held))]
    if isinstance(value, list):
        return [text for held in value for text in _texts(held)]
    return [value] if isinstance(value, str) else []


@pytest.mark.parametrize(
    "words",
    [
        ("plan", f"nowhere{SIGNS}"), ("plan", f"nowhere{SIGNS}.toml"), ("soil", f"nowhere{SIGNS}"), (f"pl{SIGNS}an",),
        ("plan", "six-hens", "--why", f"m1{SIGNS}"), ("plan", "--have", f"3 sacks{SIGNS} xyzzy{SIGNS}"),
        ("plan", "--have", "1 sack leaves", "--space", f"a{SIGNS}"), ("plan", "--have", "1 sack leaves", f"--x{SIGNS}"),
        ("plan", "--have", "1 sack leaves", "--start", SIGNS), ("plan", "--have", "1 sack leaves", "--measure", SIGNS),
        ("soil", "--bed", f"A{SIGNS}, 3 m2", "--check", "hole hours=5"), ("soil", "--check", f"hole hours={SIGNS}"),
        ("soil", "--guide", SIGNS), ("ready", "--smell", f"a{SIGNS}"), ("ready", "--manure", SIGNS),
        ("spread", "--bed", f"A{SIGNS}, 3 m2"), ("spread", "--bed", "A, 3 m2", "--method", SIGNS),
        ("seasons", "--bed", f"A{SIGNS}, 3 m2", "--last-frost", SIGNS), ("bedding", "--animals", f"6 h{SIGNS}"),
        ("substitutes", "--for", SIGNS), ("additions", "--litres", SIGNS), ("kitchen", "--people", SIGNS),
        ("materials", f"str{SIGNS}aw"), ("rules", SIGNS), ("rules", "--group", SIGNS), ("households", SIGNS),
        ("check", SIGNS), ("talk", "--plain", SIGNS), ("talk", "--plain", "--household", SIGNS),
        ("log", f"north heap{SIGNS} turned{SIGNS}", "--dry-run"), ("log", "turned", "--on", SIGNS), ("diary", SIGNS),
        ("log", "turned", "--vessel", f"a{SIGNS}b", "--dry-run"), ("today", "--weather", SIGNS), ("import", SIGNS),
        ("diary", "--correct", SIGNS, SIGNS), ("today", "--away", SIGNS), ("export", SIGNS),
        ("diagnose", "--signs", f"slimy {SIGNS}, gr{SIGNS}een", "--heap", f"3 sacks{SIGNS} leaves"),
        ("serve", "--port", SIGNS), ("serve", "--household", SIGNS), ("plan", "six-hens", "--paper", SIGNS),
        ("plan", "--have", "1 sack leaves", "--name", f"A{SIGNS}"),
        ("plan", "six-hens", "--page", "-", "--calendar", "-"),
    ],
    ids=lambda words: f"{words[0]}-{len(words)}".replace(SIGNS, ""),
)  # fmt: skip
def test_words_of_the_command_line(words: tuple[str, ...]) -> None:
    assert not driving(run(*words))


@pytest.mark.parametrize(
    "text",
    [
        f'"na{IN_TOML}me" = 3', f'have = ["3 s{IN_TOML}cks leaves"]', f'[place]\n"sp{IN_TOML}ace" = "x"',
        f'[place]\nspace = "g{IN_TOML}"', f'[measures]\n"b{IN_TOML}" = "3 L"', f'[measures]\nbucket = "{IN_TOML}"',
        f'have = [{{ material = "{IN_TOML}" }}]', f'[year]\narrives = ["{IN_TOML}: 3 sacks leaves"]', "x = \x1b[2J",
        "# \x9b2J \u202e\nhave = [", f'start = "{IN_TOML}"', "have = '''\n\x1b[2J'''",
    ],
)  # fmt: skip
@pytest.mark.parametrize("command", ["plan", "soil"])
def test_files_that_cannot_be(command: str, text: str, tmp_path: Path) -> None:
    (tmp_path / "home.toml").write_text(text, encoding="utf-8")
    printed = run(command, str(tmp_path / "home.toml"))
    assert printed.startswith("heapwright: ")
    assert not driving(printed)


def test_what_is_kept_and_what_is_written_as_markdown(folder: Path) -> None:
    (path,) = folder.glob("home*")
    household = read_household(path, KNOWLEDGE)
    assert WRITING in household.name
    assert not driving(write_household(household, KNOWLEDGE))
    kept = Shelf(folder / "heaps", KNOWLEDGE).keep(household, f"X{SIGNS}")
    assert not driving(kept.read_text(encoding="utf-8"))
    page = markdown(paper_of(consult(household, KNOWLEDGE, shipped_engine()), KNOWLEDGE.sources))
    assert not driving(page)
    assert "👩‍🌾" in page and "גינה" in page


def talk_of(folder: Path) -> Talk:
    return Talk(
        KNOWLEDGE,
        shipped_engine(),
        shelf=Shelf(folder / f"heaps{SIGNS}", KNOWLEDGE),
        diary=Diary(KNOWLEDGE, folder / "diary.sqlite3"),
        today=date(2026, 4, 1),
    )


def test_the_talk_answers_safely_whatever_it_hears(tmp_path: Path) -> None:
    talk = talk_of(tmp_path)
    lines = [
        f"I have 3 sacks{SIGNS} of leaves, 2 buckets of gr{SIGNS}ass and a xy{SIGNS}zzy", f"why m1{SIGNS}",
        f"what if 3 buckets of str{SIGNS}aw?", f"save as X{SIGNS}", "new heap", "carry on with a heap", "1",
        "check my soil", "hole", f"C{SIGNS} bed", "5", "today", "yes", "my diary", SIGNS,
    ]  # fmt: skip
    for line in lines:
        for reply in talk.hear(line):
            assert not driving(reply.text), reply
            assert not [one for one in reply.lines if driving(one.text)]
            if reply.question is not None:
                assert not driving(reply.question.ask + reply.question.why)
                assert not [one for one in reply.question.options if driving(one.label + one.say)]
    assert not driving("".join(path.read_text() for path in tmp_path.glob("heaps*/*.toml")))
    assert not [bed for bed in talk.beds if driving(bed.name)]


def test_plain_lines_echo_nothing_that_drives(tmp_path: Path) -> None:
    script = tmp_path / "lines.txt"
    script.write_text(f"3 sacks of leaves{SIGNS}\n{WRITING}\nxy{SIGNS}zzy\nbye\n", encoding="utf-8")
    printed = run("talk", "--plain", str(script))
    assert not driving(printed)
    assert "> 3 sacks of leaves" in printed and "👩‍🌾" in printed


def test_a_diary_of_somebody_else(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HEAPWRIGHT_HOME", str(tmp_path))
    diary = Diary(KNOWLEDGE)
    _, told = read_check_text("hole hours=5", KNOWLEDGE.guides, "test")
    diary.keep_check(check_told("hole hours=5", KNOWLEDGE, "test", "A", date(2026, 4, 1)), told)
    with sqlite3.connect(diary.path) as found:
        found.execute("pragma foreign_keys = on")
        name = json.dumps(f"A{SIGNS}")
        found.execute("update bed set name = ?, told = ?", (f"A{SIGNS}", f'{{"name": {name}}}'))
        found.execute(
            "insert into soil_check (bed, made_on, guide, told) values (?, '2026-04-02', ?, '[]')",
            (f"A{SIGNS}", f"g{SIGNS}"),
        )
    found.close()
    read = diary.read()
    assert [bed.name for bed in read.ground.beds] == [check.bed for check in read.ground.checks]
    assert not driving("".join(read.amiss))
    printed = run("soil", "--diary")
    assert "A [2J" in printed
    assert not driving(printed)
    diary.keep_bed(BedTold("B"))

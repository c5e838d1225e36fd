"""Shipped files and lines of talk, changed at random: an answer, or one line and exit code 2; never anything else.

Seeds are fixed, so that a failure can be seen again. `python tests/doors/test_mutations.py 500 7` tries 500 of each
kind from another seed.
"""

from __future__ import annotations

import io
import random
import re
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

import pytest
from hostile import driving

from advisor.cli import main
from advisor.places import scenarios_folder

VALUES = [
    "nan", "inf", "-inf", "9" * 30, "-1", "0", "1e308", "1e-9", "0001-01-01", "9999-12-31", "2024-02-29T10:00:00",
    "[]", "10:00:00", "[[]]", "[[[]]]", "{}", "{a={}}", '""', '" "', '"\\u001b[2J"', '"\\u202e"',
    '"' + "x" * 5000 + '"', "true", '["",""]', '[1,"a"]', '["none","none"]', '"1e999 L"', '"0 L"', '"-3 L"',
    '"1/0 m2"', '"0 x 0 m"', '"½"', '"²"', '"02-29"', '"٣ sacks leaves"', '"00-00"',
    '["3 sacks leaves","3 sacks leaves"]', "0x7fffffffffffffff", '"nan"', "-0.0", "1e7",
]  # fmt: skip
FIGURES = ["0", "1", "0.001", "0.0001", "1000", "100000", "7.5", "2", "3"]
SIGNS = ["\x1b[31m", "\x00", "\u202e", "'", '"', "[", "]", "=", ".", "😀", "9" * 20, "\x9b", "\\", "½"]
FILES = {
    "household": [("plan",), ("plan", "--json", "--units", "us"), ("paces",), ("heat",), ("additions",), ("kitchen",),
                  ("diagnose", "--signs", "slimy, flies"), ("bedding", "--animals", "6 hens"),
                  ("substitutes", "--for", "2 barrows horse manure")],
    "ground": [("soil",), ("spread", "--why"), ("seasons",), ("soil", "--json"), ("seasons", "--units", "us")],
}  # fmt: skip
LINES = [
    "3 sacks leaves", "2 buckets grass", "my diary", "check my soil", "is my compost ready?", "spread compost",
    "go back", "why m1", "what if 3 buckets grass", "save as X", "help", "the heap smells of ammonia", "no straw",
    "I don't know", "1", "yes", "1.2 x 1.2 m", "quick", "9999-12-31", "2 barrows of horse manure instead", "hole",
    "0", "-1", "1e9", "9" * 400, "1/0 sacks leaves", "½", "0.0001 kg eggshells", "6 hens on straw", "a" * 5000,
    "\x1b[2J\x9b31m\x08\u202e", "new heap",
]  # fmt: skip


def changed(text: str, chance: random.Random) -> str:
    """A file with a few of its values, figures, lines or signs changed."""
    lines = text.split("\n")
    for _ in range(chance.choice([1, 1, 2, 3])):
        place, way = chance.randrange(len(lines)), chance.random()
        line = lines[place]
        if way < 0.25 and "=" in line:
            lines[place] = f"{line.split('=')[0]}= {chance.choice(VALUES)}"
        elif way < 0.8:
            lines[place] = re.sub(r"(?<![-\d])\d+(\.\d+)?(?!\d*-)", lambda _: chance.choice(FIGURES), line)
        elif way < 0.9 and len(lines) > 1:
            del lines[place]
        else:
            at = chance.randrange(len(line) + 1)
            lines[place] = line[:at] + chance.choice(SIGNS) + line[at + chance.choice([0, 1, 3]) :]
    return "\n".join(lines)


def told(chance: random.Random) -> str:
    """A line of talk: one of those above, two of them, or words of several in any order."""
    if chance.random() < 0.6:
        return chance.choice(LINES)
    if chance.random() < 0.5:
        return f"{chance.choice(LINES)}{chance.choice([', ', '; ', ' and ', ', but no '])}{chance.choice(LINES)}"
    words = " ".join(LINES).split()
    return " ".join(chance.choice(words)[:40] for _ in range(chance.randrange(1, 9)))


def tried(*words: str) -> int:
    """Run a command; the exit code."""
    out, fault = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(fault):
        code = main(words)
    assert code in (0, 2), fault.getvalue()
    assert len(fault.getvalue().splitlines()) == (1 if code else 0), fault.getvalue()
    assert not driving(out.getvalue() + fault.getvalue())
    return code


def files_tried(kind: str, number: int, seed: int, folder: Path) -> list[int]:
    """The exit codes of so many commands with changed files."""
    chance = random.Random(f"{kind} {seed}")
    within = scenarios_folder() if kind == "household" else scenarios_folder() / "soil"
    shipped = [path.read_text(encoding="utf-8") for path in sorted(within.glob("*.toml"))]
    codes = []
    for _ in range(number):
        (folder / "changed.toml").write_text(changed(chance.choice(shipped), chance), encoding="utf-8")
        command, *options = chance.choice(FILES[kind])
        codes.append(tried(command, str(folder / "changed.toml"), *options))
    return codes


def lines_tried(number: int, seed: int, folder: Path) -> None:
    """Talks of ten lines each."""
    chance = random.Random(seed)
    for _ in range(number // 10):
        (folder / "lines.txt").write_text("\n".join(told(chance) for _ in range(10)), encoding="utf-8")
        assert tried("talk", "--plain", str(folder / "lines.txt")) == 0


@pytest.mark.parametrize("kind", FILES)
@pytest.mark.parametrize("seed", [1, 2])
def test_changed_files(kind: str, seed: int, tmp_path: Path) -> None:
    codes = files_tried(kind, 60, seed, tmp_path)
    assert set(codes) == {0, 2}  # some of them are still households, and some are not


@pytest.mark.parametrize("seed", [1, 2])
def test_any_lines(seed: int, tmp_path: Path) -> None:
    lines_tried(100, seed, tmp_path)


if __name__ == "__main__":
    import tempfile

    with tempfile.TemporaryDirectory() as name:
        for each in FILES:
            found = files_tried(each, int(sys.argv[1]), int(sys.argv[2]), Path(name))
            print(each, {code: found.count(code) for code in sorted(set(found))})
        lines_tried(int(sys.argv[1]), int(sys.argv[2]), Path(name))

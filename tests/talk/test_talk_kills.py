"""Talks and crashes: a program killed at any instant has kept every line that it answered, and the talk goes on."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

from conversing import ENGINE, KNOWLEDGE

from advisor.diary.store import Diary
from advisor.diary.talks import TalkBook
from advisor.talk.session import Talk
from advisor.talk.shelf import Shelf

#: Lines that mean the same wherever the talk stands, so that a talk cut short can be compared with one that was not.
LINES = (
    "3 sacks of dry leaves",
    "2 buckets of grass clippings",
    "1 bale of straw",
    "a garden",
    "5 sacks of dry leaves",
    "a bucket of coffee grounds a week",
    "my bucket is 12 litres",
)

#: Programs one after another, each a process of its own that is killed; what all of them need is loaded once before.
_KILLED = """
import itertools, json, os, random, signal, sys, time
from pathlib import Path
from advisor.counsel.consult import shipped_engine
from advisor.diary.store import Diary
from advisor.diary.talks import TalkBook
from advisor.hearing.hear import hear
from advisor.knowledge.load import shipped
from advisor.talk.session import Talk
from advisor.talk.shelf import Shelf
folder, lines, chance = Path(sys.argv[1]), json.loads(sys.argv[2]), random.Random(int(sys.argv[3]))
knowledge, engine, path = shipped(), shipped_engine(), folder / "diary.sqlite3"
engine.prepare()
hear("hello", knowledge)

def talks(out):
    shelf, diary = Shelf(folder / "heaps", knowledge), Diary(knowledge, path)
    talk = Talk(knowledge, engine, shelf=shelf, diary=diary, book=TalkBook(path))
    talk.open()
    carry_on = [one.label for one in talk.question.options if one.label.startswith("Carry on with ")]
    if carry_on:
        talk.hear(carry_on[0])
    for number in itertools.count(1):
        # what is taken back is never all of it
        line = "go back" if number % 3 == 0 and len(talk.changes) > 1 else chance.choice(lines)
        assert talk.hear(line)
        os.write(out, (line + chr(10)).encode())  # answered

for _ in range(int(sys.argv[4])):
    chance.seed(chance.random())
    wanted, more = chance.randint(1, 3), chance.uniform(0.0, 0.03)
    read, write = os.pipe()
    program = os.fork()
    if program == 0:
        os.close(read)
        talks(write)
    os.close(write)
    answered = b""
    while answered.count(b"\\n") < wanted:
        answered += os.read(read, 1 << 16) or sys.exit("it ended by itself")
    time.sleep(more)
    os.kill(program, signal.SIGKILL)
    assert os.waitpid(program, 0)[1] == signal.SIGKILL
    while more := os.read(read, 1 << 16):
        answered += more
    os.close(read)
    there = TalkBook(path)
    kept = [turn.said for talk in there.talks() for turn in there.turns(talk.number)[1]]
    print(json.dumps([answered.decode().splitlines(), kept]), flush=True)
"""


def opened(folder: Path) -> Talk:
    path = folder / "diary.sqlite3"
    shelf, diary = Shelf(folder / "heaps", KNOWLEDGE), Diary(KNOWLEDGE, path)
    talk = Talk(KNOWLEDGE, ENGINE, shelf=shelf, diary=diary, book=TalkBook(path))
    talk.open()
    return talk


def kept(folder: Path) -> list[str]:
    """The lines of the one talk that is in the book; the file is sound."""
    book = TalkBook(folder / "diary.sqlite3")
    (talk,) = book.talks()
    return [turn.said for turn in book.turns(talk.number)[1]]


def killed(folder: Path, seed: int, times: int) -> list[tuple[list[str], list[str]]]:
    """The lines that each program answered until it was killed, and those that the book held then."""
    command = [sys.executable, "-c", _KILLED, str(folder), json.dumps(LINES), str(seed), str(times)]
    found = subprocess.run(command, capture_output=True, text=True, timeout=60)
    assert found.returncode == 0, found.stderr
    return [(answered, kept) for answered, kept in map(json.loads, found.stdout.splitlines())]


def test_a_talk_that_is_killed_has_kept_every_answered_line_and_goes_on(tmp_path: Path) -> None:
    before: list[str] = []
    for answered, then in killed(tmp_path, seed=7, times=3):
        told = [*before, *answered]
        assert then[: len(told)] == told
        assert len(then) <= len(told) + 1, "no more than the line that was being answered"
        before = then
    assert before == kept(tmp_path)
    assert "go back" in before, "a program that answered three lines took one of them back"
    goes_on, never_stopped = opened(tmp_path), opened(tmp_path / "another")
    assert goes_on.question is not None
    goes_on.hear(next(one.label for one in goes_on.question.options if one.label.startswith("Carry on with ")))
    for line in before:
        never_stopped.hear(line)
    assert goes_on.changes == never_stopped.changes
    assert goes_on.household == never_stopped.household
    after = ("go back", "2 sacks of sawdust", "go back", "3 sacks of sawdust")
    for line in after:
        goes_on.hear(line)
        never_stopped.hear(line)
        assert goes_on.household == never_stopped.household
        assert goes_on.changes == never_stopped.changes
    assert kept(tmp_path) == [*before, *after]

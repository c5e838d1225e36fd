"""Entries and crashes: a program killed at any instant has kept every line that it acknowledged, and no half of one."""

from __future__ import annotations

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from advisor.diary.vessels import read_record

_WRITER = """
import sys
from datetime import date
from pathlib import Path
from advisor.diary.entries import ToKeep
from advisor.diary.vessels import keep
path, name = Path(sys.argv[1]), sys.argv[2]
for number in range(int(sys.argv[3])):
    said = f"{name} {number}"
    pair = [ToKeep(vessel=name, day=date(2026, 11, 30), kind=kind, said=said) for kind in ("turned", "watered")]
    keep(pair, path)
    print(said, flush=True)  # acknowledged
"""


def begin(path: Path, name: str, lines: int) -> subprocess.Popen[str]:
    command = [sys.executable, "-c", _WRITER, str(path), name, str(lines)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def whole(path: Path) -> dict[str, int]:
    """How many entries there are of each line; the file is sound."""
    counts: dict[str, int] = {}
    record = read_record(path)
    assert record.amiss == ()
    for one in record.entries:
        counts[one.said] = counts.get(one.said, 0) + 1
    return counts


@pytest.mark.parametrize("seed", range(2))
def test_a_writer_that_is_killed_has_kept_every_acknowledged_line(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    path = tmp_path / "diary.sqlite3"
    acknowledged: list[str] = []
    for turn in range(2):
        with begin(path, f"heap {turn}", 400) as writer:
            assert writer.stdout is not None
            acknowledged.append(writer.stdout.readline().strip())  # it has begun
            time.sleep(chance.uniform(0.0, 0.15))
            writer.send_signal(signal.SIGKILL)
            acknowledged += [line.strip() for line in writer.stdout if line.endswith("\n")]
        counts = whole(path)
        assert set(acknowledged) <= set(counts)
        assert set(counts.values()) == {2}, "a line is there whole or not at all"


def test_two_writers_at_once_lose_nothing(tmp_path: Path) -> None:
    path = tmp_path / "diary.sqlite3"
    writers = [begin(path, name, 25) for name in ("north heap", "worm bin")]
    said = [line.strip() for writer in writers for line in writer.communicate(timeout=60)[0].splitlines()]
    assert [writer.returncode for writer in writers] == [0, 0]
    assert len(said) == 50
    assert whole(path) == dict.fromkeys(said, 2)
    assert {one.name for one in read_record(path).vessels} == {"north heap", "worm bin"}

"""Output that is lost is never passed over: a plain line where there is somewhere to put it, and no exit code 0."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

COMMANDS = [
    "--help", "--version", "plan --help", "plan six-hens", "plan six-hens --json", "plan --schema", "paces six-hens",
    "heat six-hens",
    "bedding --animals '6 hens'", "kitchen --people 3", "substitutes --for '2 barrows horse manure'", "additions",
    "diagnose --signs slimy", "ready --smell earthy", "spread dead-clay", "seasons dead-clay", "soil dead-clay",
    "soil --guide", "households", "households six-hens", "materials", "materials straw", "rules", "check",
    "talk --plain", "log --dry-run 'north heap turned'", "diary", "today", "export",
]  # fmt: skip


def shell(words: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        ["bash", "-c", f"{sys.executable} -m advisor {words}"],
        capture_output=True,
        text=True,
        check=False,
        stdin=subprocess.DEVNULL,
        env={**os.environ, **environment},
        timeout=60,
    )


def one_line(done: subprocess.CompletedProcess[str]) -> str:
    (line,) = done.stderr.splitlines()
    assert line.startswith("heapwright: ")
    return line


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
@pytest.mark.parametrize("words", COMMANDS)
def test_a_full_disk(words: str) -> None:
    done = shell(f"{words} > /dev/full")
    assert done.returncode == 1
    assert "the output is not whole" in one_line(done)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
@pytest.mark.parametrize("words", ["--help", "plan six-hens", "rules"])
def test_a_full_disk_without_a_buffer_and_without_anywhere_to_tell_it(words: str) -> None:
    assert "not whole" in one_line(shell(f"{words} > /dev/full", PYTHONUNBUFFERED="1"))
    done = shell(f"{words} > /dev/full 2> /dev/full")
    assert (done.returncode, done.stderr) == (1, "")


@pytest.mark.parametrize("words", ["--version", "plan six-hens", "soil dead-clay --json", "talk --plain"])
def test_a_closed_output(words: str) -> None:
    done = shell(f"{words} >&-")
    assert done.returncode == 1
    assert "there is no standard output to write to" in one_line(done)
    done = shell(f"{words} >&- 2>&-")
    assert (done.returncode, done.stdout, done.stderr) == (1, "", "")


def test_a_closed_error_output_loses_no_exit_code() -> None:
    done = shell("plan nowhere 2>&-")
    assert (done.returncode, done.stdout) == (2, "")


def test_a_closed_input() -> None:
    assert shell("plan six-hens <&-").returncode == 0
    done = shell("talk --plain <&-")
    assert done.returncode == 2
    assert "no standard input" in one_line(done)


def test_a_reader_that_went_away_is_seen_in_the_exit_code() -> None:
    """128 and the number of SIGPIPE, as POSIX shells count it (IEEE 1003.1, 2.8.2; from memory)."""
    done = shell("rules | head -n 1; exit ${PIPESTATUS[0]}")
    assert (done.returncode, done.stderr) == (141, "")
    assert len(done.stdout.splitlines()) == 1


def said(lines: bytes, **environment: str) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-m", "advisor", "talk", "--plain"],
        input=lines,
        capture_output=True,
        check=False,
        env={**os.environ, **environment},
        timeout=60,
    )


def test_a_half_is_heard_where_the_system_says_ascii() -> None:
    done = said("½ a bucket of grass\nbye\n".encode(), LC_ALL="C", PYTHONIOENCODING="ascii")
    assert done.returncode == 0, done.stderr
    assert done.stdout.isascii()
    assert b"half a bucket" in done.stdout or b"a bucket of grass" in done.stdout


@pytest.mark.parametrize("environment", [{}, {"LC_ALL": "C", "PYTHONIOENCODING": "ascii"}, {"LC_ALL": "C"}])
def test_a_half_in_an_encoding_nobody_named_is_refused_and_not_read_as_a_whole(environment: dict[str, str]) -> None:
    done = said("½ bucket of grass\n".encode("latin-1"), **environment)
    assert done.returncode == 2
    (line,) = done.stderr.decode("ascii", "replace").splitlines()
    assert "standard input: not UTF-8 text" in line

"""Files that commands write: where they may be written, what they write over, and what they say."""

from __future__ import annotations

import io
import os
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

import pytest
from hostile import SIGNS, driving
from icalendar import Calendar

from advisor.cli import main

OPTIONS = {"--page": "a.html", "--markdown": "a.md", "--calendar": "a.ics"}
#: The cheapest plan that has dates.
PLAN = ("plan", "balcony-scraps")


def run(*words: str) -> tuple[int, str, str]:
    """The exit code of a command, and what it prints and complains of."""
    out, fault = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(fault):
        code = main(words)
    return code, out.getvalue(), fault.getvalue()


@pytest.mark.parametrize(
    "words",
    [
        ("paces", "balcony-scraps"), ("kitchen", "--people", "2"),
        ("blend", "--have", "3 buckets grass, 1 bucket straw"),
        ("additions", "--litres", "500 L"), ("bedding", "--animals", "6 hens"), ("soil", "dead-clay"),
        ("substitutes", "--for", "2 barrows horse manure"), ("spread", "dead-clay"), ("ready", "--smell", "earthy"),
        ("diagnose", "--signs", "slimy"), ("seasons", "dead-clay", "--years", "1"),
        PLAN,
    ],
    ids=lambda words: words[0],
)  # fmt: skip
def test_every_answer_can_be_had_on_paper(words: tuple[str, ...], tmp_path: Path) -> None:
    code, out, fault = run(*words, "--page", str(tmp_path / "a.html"), "--markdown", str(tmp_path / "a.md"))
    assert (code, out) == (0, ""), fault
    assert [line.split(": ")[0] for line in fault.splitlines()] == [
        "Wrote the page to print",
        "Wrote the page of Markdown",
    ]
    page = (tmp_path / "a.html").read_text(encoding="utf-8")
    assert page.startswith("<!DOCTYPE html>") and (tmp_path / "a.md").read_text(encoding="utf-8").startswith("# ")


@pytest.mark.parametrize("option", OPTIONS)
def test_a_file_of_ours_is_written_anew_and_no_other(option: str, tmp_path: Path) -> None:
    path = tmp_path / OPTIONS[option]
    command = (*PLAN, option, str(path))
    assert run(*command)[0] == 0
    first = path.read_bytes()
    assert run(*command)[0] == 0 and path.read_bytes() == first

    path.write_text("the only list of my seeds\n", encoding="utf-8")
    code, out, fault = run(*command)
    assert (code, out) == (1, "") and "did not write" in fault and "--overwrite" in fault
    assert len(fault.splitlines()) == 1
    assert path.read_text(encoding="utf-8") == "the only list of my seeds\n"
    assert run(*command, "--overwrite")[0] == 0
    if option == "--calendar":
        assert len(Calendar.from_ical(path.read_bytes()).walk("VEVENT")) == len(
            Calendar.from_ical(first).walk("VEVENT")
        )
    else:
        assert path.read_bytes() == first


@pytest.mark.parametrize("option", ["--page", "--markdown"])
def test_a_page_of_ours_with_notes_of_somebodys_own_is_theirs(option: str, tmp_path: Path) -> None:
    path = tmp_path / OPTIONS[option]
    run(*PLAN, option, str(path))
    noted = path.read_text(encoding="utf-8").replace("Compost for", "My notes. Compost for", 1)
    path.write_text(noted, encoding="utf-8")
    assert run(*PLAN, option, str(path))[0] == 1
    assert path.read_text(encoding="utf-8") == noted


def test_the_calendar_of_one_heap_is_not_lost_to_that_of_another(tmp_path: Path) -> None:
    path = tmp_path / "a.ics"
    run(*PLAN, "--calendar", str(path))
    first = path.read_bytes()
    code, _, fault = run("plan", "tumbler-owner", "--calendar", str(path))
    assert code == 1 and "holds the calendar" in fault and "--overwrite" in fault
    assert path.read_bytes() == first


@pytest.mark.parametrize("option", OPTIONS)
def test_places_where_nothing_can_be_written_are_told_in_one_line(option: str, tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "ring").symlink_to(tmp_path / "ring")
    places = {
        str(tmp_path): "folder", str(tmp_path / "no" / "x"): "no such folder", "/dev/full": "device", "": "folder",
        str(tmp_path / "pipe"): "pipe", str(tmp_path / ("x" * 300)): "too long", str(tmp_path / "ring"): "",
        "/proc/nothing": "cannot be written",
    }  # fmt: skip
    for place, told in places.items():
        code, out, fault = run(*PLAN, option, place)
        assert code == 1 and out == "", place
        assert told in fault and len(fault.splitlines()) == 1, fault
    assert sorted(each.name for each in tmp_path.iterdir()) == ["pipe", "ring"]


def test_a_full_disk_leaves_what_was_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.html"
    run(*PLAN, "--page", str(path))
    first = path.read_bytes()

    def full(*_: object, **__: object) -> None:
        raise OSError(28, os.strerror(28))

    monkeypatch.setattr("tempfile.mkstemp", full)
    code, _, fault = run(*PLAN, "--page", str(path))
    assert code == 1 and "No space left" in fault and len(fault.splitlines()) == 1
    monkeypatch.undo()
    assert path.read_bytes() == first and [each.name for each in tmp_path.iterdir()] == ["a.html"]


def test_a_link_to_a_file_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "link.html").symlink_to(tmp_path / "real.html")
    assert run(*PLAN, "--page", str(tmp_path / "link.html"))[0] == 0
    assert (tmp_path / "link.html").is_symlink() and (tmp_path / "real.html").is_file()


def test_the_standard_output_takes_one_of_them_whole() -> None:
    code, page, _ = run(*PLAN, "--page", "-")
    assert code == 0 and page.startswith("<!DOCTYPE html>") and "<!-- heapwright" in page.splitlines()[-1]
    code, calendar, _ = run(*PLAN, "--calendar", "-")
    assert code == 0 and calendar.count("\r\n") == calendar.count("\n") and Calendar.from_ical(calendar)
    for more in (("--json",), ("--markdown", "-"), ("--why",)):
        code, out, fault = run(*PLAN, "--page", "-", *more)
        assert (code, out) == (2, "") and len(fault.splitlines()) == 1


def test_json_and_a_file_go_together(tmp_path: Path) -> None:
    import json

    code, out, _ = run(*PLAN, "--json", "--calendar", str(tmp_path / "a.ics"))
    assert code == 0 and json.loads(out)["household"]
    assert (tmp_path / "a.ics").is_file()


def test_what_is_written_and_what_is_said_of_it_is_safe(tmp_path: Path) -> None:
    home = tmp_path / "home.toml"
    home.write_text(
        'name = "A\\u001b[31m\\u202ex"\nhave = ["3 sacks dry leaves"]\nstart = 2026-03-01\n', encoding="utf-8"
    )
    paths = {option: tmp_path / f"x{SIGNS}{name}" for option, name in OPTIONS.items()}
    code, _, fault = run("plan", str(home), *(word for option, path in paths.items() for word in (option, str(path))))
    assert code == 0 and not driving(fault) and len(fault.splitlines()) == 3
    for path in paths.values():
        assert not driving(path.read_bytes().decode().replace("\r\n", "\n"))


def test_two_heaps_told_in_options_have_calendars_of_their_own(tmp_path: Path) -> None:
    heap = ("plan", "--have", "3 sacks dry leaves, 1 bucket grass", "--start", "2026-04-01")
    named = {}
    for name in ("North heap", "South heap"):
        path = tmp_path / f"{name}.ics"
        assert run(*heap, "--name", name, "--calendar", str(path))[0] == 0
        named[name] = {str(event["UID"]) for event in Calendar.from_ical(path.read_bytes()).walk("VEVENT")}
    assert named["North heap"] and not named["North heap"] & named["South heap"]
    assert run(*PLAN, "--name", "Another")[0] == 2


def test_no_dates_no_calendar_and_no_file(tmp_path: Path) -> None:
    code, _, fault = run("plan", "--have", "3 sacks dry leaves", "--calendar", str(tmp_path / "a.ics"))
    assert code == 1 and "no dates" in fault and "--start" in fault
    assert not list(tmp_path.iterdir())

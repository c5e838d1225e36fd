"""Plays a household through a year of lines; tests/diary/years/terrace.toml says how its story is written."""

from __future__ import annotations

import re
import tempfile
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from in_short import short

from advisor.counsel.consult import shipped_engine
from advisor.diary.due import due_list, hemisphere_entry, is_south, shipped_care_engine, week_list
from advisor.diary.entries import ToKeep
from advisor.diary.keep_lines import keep_lines, read_lines
from advisor.diary.standing import Now
from advisor.diary.store import Diary
from advisor.diary.talks import TalkBook
from advisor.diary.vessels import keep, read_record
from advisor.knowledge.load import shipped
from advisor.soil_counsel.ground import bed_told
from advisor.talk.session import Talk

KNOWLEDGE = shipped()


@dataclass(frozen=True)
class Played:
    """What came of a line: what was kept, what was answered, and which deeds were due."""

    kept: list[str] = field(default_factory=list)
    answer: str = ""
    due: list[str] = field(default_factory=list)


def lines(name: str) -> Iterator[Any]:
    """The lines of a household, each as a case for pytest."""
    for number, (day, line) in enumerate(_story(name)):
        said = line.get("log") or line.get("say") or line["ask"]
        marks = [pytest.mark.xfail(strict=True, reason=line["fails"])] if "fails" in line else []
        yield pytest.param(name, number, id=f"{day}: {said}", marks=marks)


@cache
def _whole(name: str) -> dict[str, Any]:
    return tomllib.loads((Path(__file__).parent / "years" / f"{name}.toml").read_text("utf-8"))


def _story(name: str) -> list[tuple[date, dict[str, Any]]]:
    return [(day["on"], line) for day in _whole(name)["day"] for line in day["line"]]


def check(name: str, number: int) -> None:
    """Hold what came of a line against what a practitioner expects of it."""
    line = _story(name)[number][1]
    played = _played(name)[number]
    assert line["by"]
    if "kept" in line:
        assert sorted(played.kept) == sorted(line["kept"])
    for must in line.get("says", ()):
        assert re.search(must, played.answer, re.IGNORECASE), played.answer
    for never in line.get("never", ()):
        assert not re.search(never, played.answer, re.IGNORECASE), played.answer
    assert set(line.get("due", ())) <= set(played.due), played.due
    assert not set(line.get("not_due", ())) & set(played.due), played.due


@cache
def _played(name: str) -> list[Played]:
    """The whole year, each line on its day, with one diary; each day is a talk of its own."""
    story, whole = _story(name), _whole(name)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "diary.sqlite3"
        diary = Diary(KNOWLEDGE, path)
        for told in whole.get("beds", ()):
            diary.keep_bed(bed_told(told, KNOWLEDGE, "bed"))
        if whole.get("south"):
            keep([hemisphere_entry(south=True, today=story[0][0])], path)
        found: list[Played] = []
        talk, today = None, None
        for day, line in story:
            if day != today:
                today, talk = day, None
            if "say" in line and talk is None:
                talk = Talk(KNOWLEDGE, shipped_engine(), book=TalkBook(path), diary=diary, today=day)
                talk.open()
            found.append(_play(line, day, path, talk))
    return found


def _play(line: dict[str, Any], day: date, path: Path, talk: Talk | None) -> Played:
    before = {one.number for one in read_record(path).entries}
    if "ask" in line:
        return Played(due=_due(line["ask"], day, path))
    if "log" in line:
        read = read_lines([line["log"]], KNOWLEDGE, day, read_record(path))
        answer = " ".join(one.noted.asks for one in read)
        if not answer:
            keep_lines(read, path)
    else:
        assert talk is not None
        replies = talk.hear(line["say"])
        answer = "\n".join("\n".join((one.text, *(each.text for each in one.lines))) for one in replies)
    entries = [one for one in read_record(path).entries if one.number not in before]
    kept = [
        short(ToKeep(vessel=one.vessel, day=one.day, kind=one.kind, told=one.told, into=one.into), day)
        for one in entries
    ]
    return Played(kept, answer)


def _due(asked: str, day: date, path: Path) -> list[str]:
    record = read_record(path)
    away = int(asked.split()[1]) if asked.startswith("away") else 0
    now = Now(day, is_south(record), away)
    work = week_list if asked == "week" else due_list
    return [one.deed for one in work(record, now, KNOWLEDGE, shipped_care_engine()).deeds]

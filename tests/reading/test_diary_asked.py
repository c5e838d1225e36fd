"""What is asked of the diary, and what became of a deed of its list, in a line. The lines are invented."""

from __future__ import annotations

from datetime import date

import pytest

from advisor.hearing.diary_asked import diary_asked
from advisor.hearing.settling import settling
from advisor.knowledge.load import shipped

TODAY = date(2026, 11, 30)
KNOWN = [("north heap", "heap"), ("worm bin", "worm bin"), ("front bed", "bed")]


@pytest.mark.parametrize(
    ("line", "what", "vessel"),
    [
        ("show my diary", "show", ""), ("Open the diary, please", "show", ""), ("diary", "show", ""),
        ("what's in my diary?", "show", ""), ("can I see my diary", "show", ""), ("correct an entry", "show", ""),
        ("show my diary of the north heap", "show", "north heap"), ("what did I do on Sunday?", "done", ""),
        ("what have I done to the north heap", "done", "north heap"), ("take back the last entry", "last", ""),
        ("what happened last week in the worm bin?", "done", "worm bin"), ("undo the last entry", "last", ""),
        ("delete the last diary entry", "last", ""), ("please take the last entry back", "last", ""),
    ],
)  # fmt: skip
def test_what_is_asked_of_the_diary(line: str, what: str, vessel: str) -> None:
    found = diary_asked(line, shipped(), TODAY, lambda: KNOWN)
    assert found is not None and (found.what, found.vessel) == (what, vessel)


@pytest.mark.parametrize(
    ("line", "first", "last"),
    [
        ("what did I do last week", date(2026, 11, 23), date(2026, 11, 29)),
        ("what did I do in the last 10 days?", date(2026, 11, 20), TODAY),
        ("what have I done this month", date(2026, 11, 1), TODAY),
        ("what have I done lately?", date(2026, 11, 16), TODAY),
        ("what did I do yesterday?", date(2026, 11, 29), date(2026, 11, 29)),
    ],
)
def test_the_days_that_are_asked_for(line: str, first: date, last: date) -> None:
    found = diary_asked(line, shipped(), TODAY, lambda: KNOWN)
    assert found is not None and (found.first, found.last) == (first, last)
    assert line.rstrip("?").endswith(found.said)


@pytest.mark.parametrize(
    "line",
    [
        "what have I done wrong?", "how do I keep a diary?", "what should I do?", "show my soil diary",
        "what did you do last week?", "what have I done", "put it in my diary", "I lost my diary in the heap",
        "what did I do wrong last week", "3 sacks of leaves", "turned the heap last week",
    ],
)  # fmt: skip
def test_what_asks_nothing_of_the_diary(line: str) -> None:
    assert diary_asked(line, shipped(), TODAY, lambda: KNOWN) is None


@pytest.mark.parametrize(
    ("line", "number", "how", "days"),
    [
        ("done 1", 1, "done", 2), ("I've done number 2", 2, "done", 2), ("1 is done", 1, "done", 2),
        ("skip number 2 please", 2, "skipped", 2), ("put off 1 for 3 days", 1, "put off", 3),
        ("put 3 off until Monday", 3, "put off", 7), ("remind me of 2 tomorrow", 2, "put off", 1),
        ("why 1", 1, "why", 2),
    ],
)  # fmt: skip
def test_what_became_of_a_deed(line: str, number: int, how: str, days: int) -> None:
    found = settling(line, shipped(), TODAY)
    assert found is not None and (found.number, found.how, found.days) == (number, how, days)


@pytest.mark.parametrize(
    "line",
    [
        "forgot 2 bags of leaves",
        "I finished 2 sacks of leaves",
        "did 3 turns",
        "skip 2 weeks",
        "why does 1 bucket smell",
    ],
)
def test_a_number_of_something_else_settles_nothing(line: str) -> None:
    assert settling(line, shipped(), TODAY) is None

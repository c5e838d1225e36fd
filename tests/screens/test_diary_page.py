"""The page of the diary: entries by day, of all heaps or of one; put right, taken back, undone. Lines are invented."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from driving import NARROW, WIDE, Driver, driven

from advisor.diary.entries import ToKeep, Told
from advisor.diary.vessels import keep, read_record
from advisor.screens.correcting import Correct
from advisor.screens.diary_page import DiaryPage
from advisor.screens.widgets.choices import Choices
from advisor.screens.widgets.diary_rows import DiaryRows

pytestmark = pytest.mark.asyncio
TODAY = date.today()


def told(vessel: str, kind: str, ago: int, said: str, **more: object) -> ToKeep:
    data = {"vessel": vessel, "vessel_kind": "worm bin" if "worm" in vessel else "heap", "kind": kind, "said": said}
    return ToKeep.model_validate({**data, "day": TODAY - timedelta(ago), **more})


@pytest.fixture
def kept() -> Callable[[], list[tuple[str, str, int]]]:
    """What the diary holds, as it is on the disk."""
    keep(
        [
            told("north heap", "turned", 3, "turned it, 58 C"),
            told("north heap", "reading", 3, "turned it, 58 C", told=Told(degrees=58, scale="C")),
        ]
    )
    keep([told("worm bin", "fed", 1, "fed the worms")])
    return lambda: [(one.vessel, one.kind, (TODAY - one.day).days) for one in read_record().entries]


async def opened(driver: Driver) -> DiaryPage:
    await driver.press("f8")
    await shown(driver)
    page = driver.app.screen
    assert isinstance(page, DiaryPage)
    return page


async def shown(driver: Driver) -> None:
    """Until what was asked of the diary is on the screen."""
    await driver.drawn()
    reading = [one for one in driver.app.workers if one.group == "diary"]
    if reading:
        await driver.app.workers.wait_for_complete(reading)
    await driver.drawn()


@pytest.mark.usefixtures("kept")
async def test_entries_stand_under_their_days_of_all_heaps_or_of_one() -> None:
    async with driven(NARROW) as driver:
        page = await opened(driver)
        for size in (WIDE, NARROW):
            text = driver.shown()
            assert "Diary: 2 entries, the newest first" in text
            assert text.index("Yesterday, ") < text.index("worm bin    fed") < text.index("north heap  turned; 58 °C")
            assert "You said: “fed the worms”" in text
            await driver.resize(*size)
            assert page.query_one(DiaryRows).pointed is not None
        await driver.press("right")
        await shown(driver)
        assert "Diary of north heap: 1 entry" in driver.shown() and "fed" not in driver.shown("#rows")
        await driver.press("left", "left")
        await shown(driver)
        assert "Diary of worm bin: 1 entry" in driver.shown()
        await driver.say("show my diary of the north heap")
        await shown(driver)
        assert isinstance(driver.app.screen, DiaryPage) and "Diary of north heap: 1 entry" in driver.shown()


async def test_an_empty_diary_says_how_it_is_begun() -> None:
    async with driven(NARROW) as driver:
        await opened(driver)
        assert "Nothing is kept yet" in driver.shown()
        await driver.press("enter", "delete", "left", "ctrl+z")
        await shown(driver)
        assert "Nothing was changed" in driver.shown()


async def test_entries_are_taken_back_and_put_right_and_that_is_undone(
    kept: Callable[[], list[tuple[str, str, int]]],
) -> None:
    async with driven(NARROW) as driver:
        await opened(driver)
        before = kept()
        await driver.press("delete")
        await shown(driver)
        assert "Taken back: Worm bin: fed (yesterday)." in driver.shown()
        assert [one[0] for one in kept()] == ["north heap", "north heap"]
        await driver.press("ctrl+z")
        await shown(driver)
        assert kept() == before and "Diary: 2 entries" in driver.shown()

        await driver.press("end", "enter")
        assert isinstance(driver.app.screen, Correct)
        for words, day, says in (
            ("should I turn it?", "", "That is a question"),
            ("turned it", "soonish", "is no day"),
            ("it is at 580 C", "", "580 C?"),
        ):
            await _correct(driver, words, day)
            assert isinstance(driver.app.screen, Correct) and says in driver.shown()
            assert kept() == before
        await _correct(driver, "turned it, 52 C in the middle", "yesterday")
        await shown(driver)
        assert sorted(kept()) == [("north heap", "reading", 1), ("north heap", "turned", 1), ("worm bin", "fed", 1)]
        assert "turned; 52 °C in the middle" in driver.shown()
        await driver.press("ctrl+z")
        await shown(driver)
        assert kept() == before


async def _correct(driver: Driver, words: str, day: str) -> None:
    """Fill in the two lines, the cursor ending in the first, and press Enter."""
    for text in (words, day):
        await driver.press("ctrl+a", "ctrl+k")
        await driver.type(text)
        await driver.press("tab")
    await driver.press("enter")
    await driver.talk.desk.ask(lambda talk: talk.question)  # until the thread of the talk is free
    await driver.drawn()


async def test_the_first_screen_begins_with_what_is_due_and_follows_the_diary() -> None:
    keep([told("worm bin", "fed", 10, "fed the worms")])
    async with driven(NARROW) as driver:
        choices = driver.talk.query_one(Choices)
        assert choices.offered[0].label == "Worm bin: feed the worms (3 days late)"
        assert "One thing to do today. Pick it to see how and why." in driver.shown()
        await driver.press("1", "enter")
        assert "Why: It was last fed 10 days ago." in driver.shown()
        await driver.say("done")
        assert choices.offered[0].label != "Worm bin: feed the worms (3 days late)"
        await opened(driver)
        await driver.press("delete")
        await shown(driver)
        await driver.press("escape")
        await driver.settled()
        assert choices.offered[0].label == "Worm bin: feed the worms (3 days late)", "it is not done any more"


async def test_a_hundred_heaps_and_long_words_leave_the_page_in_its_bounds(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("advisor.screens.widgets.diary_rows._AT_ONCE", 30)
    long = "the heap behind the long shed by the lane to the church"
    keep([told(f"{long} {at}", "note", at % 9, "a word " * 40) for at in range(100)])
    async with driven((40, 12)) as driver:
        await opened(driver)
        await driver.press("end", "enter", "end")
        assert "older" not in driver.shown(), "30 at first, and all of them once more are asked for"
        for size in ((40, 12), NARROW, WIDE):
            await driver.resize(*size)
            await driver.press("right", "end")
            assert max(len(row) for row in driver.shown().splitlines()) <= size[0]
            assert "Esc" in driver.shown() or size[0] < 80

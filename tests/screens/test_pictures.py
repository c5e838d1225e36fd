"""Pictures of the main screens, compared with ones that were looked at. Few, and of a talk that never changes.

After a change of the screens that is meant: pytest tests/screens/test_pictures.py --snapshot-update, and look at them.
"""

from __future__ import annotations

import sys

import pytest
from frozen import FrozenTalk, frozen_doubts
from textual.pilot import Pilot

from advisor.screens.app import HeapwrightApp
from advisor.screens.talk_screen import TalkScreen
from advisor.screens.themes import DAYLIGHT, DUSK

pytestmark = pytest.mark.skipif(
    sys.version_info[:2] != (3, 11), reason="pictures differ in their last digits from one Python to the next"
)

HAVE = "6 sacks of leaves, 4 buckets of coffee grounds a week"


@pytest.fixture(autouse=True)
def frozen_talk(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("advisor.talk.session.Talk", FrozenTalk)
    monkeypatch.setattr("advisor.counsel.doubts.doubts", frozen_doubts)


def steps(*keys: str, theme: str = DUSK, say: str = ""):
    """What is done before the picture is taken."""

    async def run(pilot: Pilot[None]) -> None:
        app = pilot.app
        app.theme = theme
        talk = app.screen_stack[0]
        assert isinstance(talk, TalkScreen)
        await talk.opened.wait()
        if say:
            await talk.hear(say)
            await talk.jobs.join()
            await pilot.pause()
        for key in keys:
            await pilot.press(key)
            await pilot.pause()
        await pilot.pause()

    return run


def test_first_screen(snap_compare) -> None:
    assert snap_compare(HeapwrightApp(), terminal_size=(80, 24), run_before=steps())


def test_talk_and_heap_in_the_dark(snap_compare) -> None:
    assert snap_compare(HeapwrightApp(), terminal_size=(120, 40), run_before=steps(say=HAVE))


def test_talk_and_heap_by_daylight(snap_compare) -> None:
    run = steps("down", "down", "space", theme=DAYLIGHT, say=HAVE)
    assert snap_compare(HeapwrightApp(), terminal_size=(120, 40), run_before=run)


def test_talk_on_a_small_screen(snap_compare) -> None:
    assert snap_compare(HeapwrightApp(), terminal_size=(80, 24), run_before=steps(say=HAVE))


def test_heap_on_a_small_screen(snap_compare) -> None:
    assert snap_compare(HeapwrightApp(), terminal_size=(80, 24), run_before=steps("f2", say=HAVE))


def test_plan_page(snap_compare) -> None:
    assert snap_compare(HeapwrightApp(), terminal_size=(80, 24), run_before=steps("f4", say=HAVE))


def test_reasons_by_daylight(snap_compare) -> None:
    run = steps("f4", "down", "down", "down", "down", "enter", theme=DAYLIGHT, say=HAVE)
    assert snap_compare(HeapwrightApp(), terminal_size=(80, 24), run_before=run)


def test_diary_page(snap_compare) -> None:
    assert snap_compare(HeapwrightApp(), terminal_size=(80, 24), run_before=steps("f8", "down"))


def test_help(snap_compare) -> None:
    assert snap_compare(HeapwrightApp(), terminal_size=(80, 24), run_before=steps("f1"))


def test_without_colour(snap_compare, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    assert snap_compare(HeapwrightApp(), terminal_size=(120, 40), run_before=steps(say=HAVE))

"""Charts in the talk: below the words they belong to, as wide as there is room, in the colours of the theme."""

from __future__ import annotations

import sys

import pytest
from chart_talk import CHARTS, TREND, ChartTalk
from driving import NARROW, WIDE, Driver, driven, text_of
from test_pictures import steps

from advisor.papers.charts import chart_grid
from advisor.screens.app import HeapwrightApp
from advisor.screens.themes import DAYLIGHT, DUSK
from advisor.screens.widgets.chart_view import ChartView
from advisor.screens.widgets.transcript import Transcript


@pytest.fixture(autouse=True)
def chart_talk(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("advisor.talk.session.Talk", ChartTalk)


def views(driver: Driver) -> list[ChartView]:
    return list(driver.talk.query(ChartView))


@pytest.mark.asyncio
async def test_charts_stand_below_the_words_they_belong_to() -> None:
    async with driven(WIDE) as driver:
        await driver.say("trend and heat")
        below = list(driver.talk.query_one(Transcript).children)[-3:]
        assert [type(widget).__name__ for widget in below] == ["Turn", "ChartView", "ChartView"]
        assert below[0].said == "Here is how it went."
        assert [view.chart.title for view in below[1:]] == [TREND.title, CHARTS["heat"].title]


@pytest.mark.asyncio
@pytest.mark.parametrize("size", [(40, 12), (60, 20), NARROW, WIDE, (200, 60)])
@pytest.mark.parametrize("name", CHARTS)
async def test_a_chart_is_as_high_as_what_it_shows_and_no_wider_than_its_place(
    name: str, size: tuple[int, int]
) -> None:
    async with driven(size) as driver:
        await driver.say(name)
        (view,) = views(driver)
        lines = view.render().plain.splitlines()
        assert view.content_size.height == len(lines)
        assert max(map(len, lines)) <= view.content_size.width
        assert lines[0] == view.chart.title[: len(lines[0])]
        assert view.chart.words in " ".join(lines)


@pytest.mark.asyncio
async def test_what_is_on_the_screen_is_the_chart() -> None:
    async with driven(WIDE) as driver:
        await driver.say("trend")
        (view,) = views(driver)
        drawn = chart_grid(TREND, view.content_size.width).text().splitlines()
        shown = [line.strip() for line in text_of(driver.app, view).splitlines()]
        assert [line.strip() for line in drawn] == shown[1 : 1 + len(drawn)]


@pytest.mark.asyncio
async def test_a_chart_is_drawn_anew_when_the_window_changes() -> None:
    async with driven(WIDE) as driver:
        await driver.say("trend")
        (view,) = views(driver)
        before = max(map(len, view.render().plain.splitlines()))
        await driver.pilot.resize_terminal(80, 24)
        await driver.settled()
        after = max(map(len, view.render().plain.splitlines()))
        assert after > before, "there is no heap beside it now"
        await driver.pilot.resize_terminal(50, 20)
        await driver.settled()
        assert max(map(len, view.render().plain.splitlines())) <= 47


@pytest.mark.asyncio
async def test_a_chart_takes_the_colours_of_the_theme() -> None:
    async with driven(WIDE) as driver:
        await driver.say("trend")
        (view,) = views(driver)
        colours = {}
        for theme in (DUSK, DAYLIGHT):
            driver.app.theme = theme
            await driver.settled()
            region = view.region
            strip = driver.app.screen._compositor.render_strips()[region.y + 3].crop(region.x, region.right)
            colours[theme] = {
                segment.style.color.name for segment in strip if "o" in segment.text and segment.style.color is not None
            }
        assert colours[DUSK] and colours[DAYLIGHT] and colours[DUSK] != colours[DAYLIGHT]


@pytest.mark.asyncio
async def test_a_long_chart_is_read_by_keys() -> None:
    async with driven(NARROW) as driver:
        await driver.say("texture")
        transcript = driver.talk.query_one(Transcript)
        assert "Here is how it went." in driver.shown("#transcript"), "it begins at its start"
        for _ in range(3):
            await driver.press("pagedown")
        assert "The soil lies in the field of clay loam" in driver.shown("#transcript")
        assert transcript.scroll_offset.y == transcript.max_scroll_y


pictures = pytest.mark.skipif(
    sys.version_info[:2] != (3, 11), reason="pictures differ in their last digits from one Python to the next"
)


@pictures
def test_trend_on_a_small_screen(snap_compare) -> None:
    assert snap_compare(HeapwrightApp(), terminal_size=(80, 24), run_before=steps(say="trend"))


@pictures
def test_triangle_by_daylight(snap_compare) -> None:
    assert snap_compare(HeapwrightApp(), terminal_size=(120, 40), run_before=steps(say="texture", theme=DAYLIGHT))


@pictures
def test_heat_and_calendar_in_the_dark(snap_compare) -> None:
    assert snap_compare(HeapwrightApp(), terminal_size=(120, 40), run_before=steps(say="heat, calendar"))


@pictures
def test_year_on_a_small_screen(snap_compare) -> None:
    assert snap_compare(HeapwrightApp(), terminal_size=(80, 24), run_before=steps(say="year"))

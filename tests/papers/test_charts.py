"""Charts, read as a person reads them: by the figures on their axes, their signs and their words."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta
from functools import cache
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from advisor.counsel.consult import shipped_engine
from advisor.counsel.heat import HeatAsked, heat_answer
from advisor.counsel.heat_shapes import HeatAnswer
from advisor.counsel.year import year_plan
from advisor.household.files import household_from_options, read_household
from advisor.knowledge.load import shipped
from advisor.papers.charts import Chart, chart_grid, chart_text, charts_of
from advisor.papers.charts.axes import figures, ticks
from advisor.papers.charts.calendar import DOINGS
from advisor.papers.charts.shapes import (
    BedSeason,
    HeatChart,
    HeatLimit,
    HeatReading,
    Mark,
    SeasonsChart,
    Soil,
    Stretch,
    TextureChart,
    TrendChart,
    YearChart,
    YearWeek,
)
from advisor.papers.charts.texture import SHORT
from advisor.papers.page import page
from advisor.places import scenarios_folder
from advisor.soil.sanitising import Reading
from advisor.soil.texture import texture
from advisor.soil_counsel.ground import check_told, read_ground
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.ready import Finished, ready_answer
from advisor.soil_counsel.seasons import seasons_answer
from advisor.soil_counsel.shapes import ReadyAnswer, SeasonsAnswer, SoilAnswer
from advisor.soil_counsel.soil import soil_answer

WIDTHS = (40, 41, 57, 64, 80, 100, 133, 200)
CODES = re.compile(r"\x1b\[[\d;]*m")
SOILS = sorted((scenarios_folder() / "soil").glob("*.toml"))
NEAR = 0.5 + 1e-6  # of a cell: where a value is drawn in the cell that it falls into


@cache
def soil(name: str, units: str = "metric") -> SoilAnswer:
    ground = read_ground(scenarios_folder() / "soil" / f"{name}.toml", shipped())
    return soil_answer(ground, shipped(), shipped_soil_engine(), units=units)


@cache
def seasons(name: str) -> SeasonsAnswer:
    ground = read_ground(scenarios_folder() / "soil" / f"{name}.toml", shipped())
    return seasons_answer(ground, shipped(), shipped_soil_engine(), number=2)


@cache
def ready(units: str = "metric") -> ReadyAnswer:
    log = "heat days=1 2 3 4 5 7 9 11 13 degrees=35 48 58 60 66 73 68 60 52 turned=3 8"
    told = Finished(checks=(check_told(log, shipped(), "", "", None),))
    return ready_answer(told, shipped(), shipped_soil_engine(), units=units)


@cache
def forecast(units: str = "metric") -> HeatAnswer:
    mix = household_from_options("10 sacks shredded leaves, 20 buckets grass clippings", shipped())
    asked = HeatAsked(month=6.5, turned=(4.0,), readings=(Reading(2.0, 52.0), Reading(5.0, 30.0)))
    return heat_answer(mix, shipped(), asked, units=units, draws=24)


@cache
def all_charts() -> tuple[Chart, ...]:
    household = read_household(scenarios_folder() / "terrace-through-the-year.toml", shipped())
    answers = [
        *(soil(path.stem, units) for path in SOILS for units in ("metric", "us")),
        *(seasons(path.stem) for path in SOILS),
        *(ready(units) for units in ("metric", "us")),
        year_plan(household, shipped(), shipped_engine()),
        *(forecast(units) for units in ("metric", "us")),
    ]
    return tuple(chart for answer in answers for chart in charts_of(answer))


# ---------------------------------------------------------------- any chart


def test_every_kind_of_chart_is_among_them() -> None:
    kinds = {type(chart) for chart in all_charts()}
    assert kinds == {TrendChart, TextureChart, SeasonsChart, HeatChart, YearChart}


@pytest.mark.parametrize("width", WIDTHS)
def test_no_line_is_wider_than_asked_and_none_holds_a_code(width: int) -> None:
    for chart in all_charts():
        text = chart_text(chart, width=width)
        assert max(map(len, text.splitlines())) <= width
        assert "\x1b" not in text


@pytest.mark.parametrize("width", (40, 80, 200))
def test_colour_changes_nothing_but_the_colour(width: int) -> None:
    for chart in all_charts():
        coloured = chart_text(chart, width=width, colour=True)
        assert "\x1b[" in coloured
        plain = [line.rstrip() for line in CODES.sub("", coloured).splitlines()]
        assert plain == [line.rstrip() for line in chart_text(chart, width=width).splitlines()]


def test_every_chart_has_its_title_above_and_its_words_below() -> None:
    for chart in all_charts():
        text = chart_text(chart, width=200)
        assert text.splitlines()[0] == chart.title
        assert " ".join(text.split()).endswith(chart.words)


@pytest.mark.parametrize("height", (1, 8, 12, 16, 24, 60))
def test_a_lower_chart_is_no_higher_and_keeps_its_width(height: int) -> None:
    for chart in all_charts():
        full, low = chart_grid(chart, 80), chart_grid(chart, 80, height)
        assert low.height <= full.height
        if height >= full.height:
            assert low.text() == full.text()


# ---------------------------------------------------------------- axes


@given(st.floats(-1e4, 1e4), st.floats(0.001, 1e4), st.integers(2, 12), st.booleans())
def test_ticks_hold_what_they_are_for(low: float, span: float, most: int, whole: bool) -> None:
    found = ticks(low, low + span, most, whole=whole)
    assert 2 <= len(found) <= max(most, 3 if low < 0 < low + span else 2)
    assert found[0] <= low + 1e-6 and found[-1] >= low + span - 1e-6
    steps = {round(later - sooner, 6) for sooner, later in pairwise(found)}
    assert len(steps) == 1
    assert not whole or all(tick == round(tick) for tick in found)


@given(st.floats(-1e3, 1e3), st.floats(0.01, 1e4), st.integers(2, 12))
def test_figures_say_what_the_ticks_are(low: float, span: float, most: int) -> None:
    found = ticks(low, low + span, most)
    assert [float(text) for text in figures(found)] == pytest.approx(found, rel=1e-9, abs=1e-6)
    assert len({len(text) for text in figures(found)}) == 1


class Plot:
    """A plot, read by its axes."""

    def __init__(self, rows: list[str]) -> None:
        foot = next(place for place, row in enumerate(rows) if row.lstrip().startswith("└"))
        self.left = rows[foot].index("└") + 1
        top = next(place for place in range(foot) if rows[place][self.left - 1 : self.left] in ("┤", "├", "│"))
        self.rows = [row.ljust(self.left + 300) for row in rows[top:foot]]
        self.foot = rows[foot]
        self.columns = len(self.foot) - self.left
        self.labels = rows[foot + 1] if len(rows) > foot + 1 else ""
        figures = {place: row[: self.left - 1].strip() for place, row in enumerate(self.rows)}
        self.figures = {place: float(text) for place, text in figures.items() if text}

    def row_of(self, value: float) -> float:
        """Where a value lies by the highest and the lowest figure of the axis."""
        (high, top), (low, bottom) = min(self.figures.items()), max(self.figures.items())
        return high + (top - value) / (top - bottom) * (low - high)

    def cells(self, sign: str) -> Iterator[tuple[int, int]]:
        for down, row in enumerate(self.rows):
            for across in range(self.columns):
                if row[self.left + across] == sign:
                    yield across, down

    @property
    def ticks(self) -> list[int]:
        return [place - self.left for place, sign in enumerate(self.foot) if sign == "┬"]


# ---------------------------------------------------------------- trends

values = st.floats(0, 500).map(lambda value: round(value, 2))
days = st.integers(0, 4000).map(lambda number: date(2024, 1, 1) + timedelta(days=number))
tables = st.dictionaries(days, values, min_size=2, max_size=9).map(lambda table: sorted(table.items()))


def trend_of(table: list[tuple[date, float]]) -> TrendChart:
    on = [day.toordinal() for day, _ in table]
    slope = stats.theilslopes([value for _, value in table], on).slope
    marks = tuple(Mark(day, value) for day, value in table)
    return TrendChart("earthworms", "so it goes", "per m2", marks, slope * 365.25, "steady")


@settings(max_examples=60, deadline=None)
@given(tables, st.sampled_from(WIDTHS))
def test_a_mark_lies_where_its_day_and_its_value_put_it(table: list[tuple[date, float]], width: int) -> None:
    plot = Plot(chart_grid(trend_of(table), width).text().splitlines())
    found = list(plot.cells("o"))
    first, last = table[0][0], table[-1][0]

    def place(day: date, value: float) -> tuple[float, float]:
        left, right = plot.ticks[0], plot.ticks[-1]
        return left + (day - first).days / (last - first).days * (right - left), plot.row_of(value)

    wanted = [place(day, value) for day, value in table]

    def near(cell: tuple[int, int], point: tuple[float, float]) -> bool:
        return abs(cell[0] - point[0]) <= NEAR and abs(cell[1] - point[1]) <= NEAR

    assert all(any(near(cell, point) for cell in found) for point in wanted)
    assert all(any(near(cell, point) for point in wanted) for cell in found)


@settings(max_examples=60, deadline=None)
@given(tables)
def test_the_line_is_that_of_the_median_slope(table: list[tuple[date, float]]) -> None:
    """The median slope and its intercept by scipy.stats.theilslopes, method "joint"."""
    plot = Plot(chart_grid(trend_of(table), 80).text().splitlines())
    on = [day.toordinal() for day, _ in table]
    line = stats.theilslopes([value for _, value in table], on, method="joint")
    for across, down in plot.cells("·"):
        day = on[0] + (across - plot.ticks[0]) / (plot.ticks[-1] - plot.ticks[0]) * (on[-1] - on[0])
        assert abs(down - plot.row_of(line.intercept + line.slope * day)) <= NEAR


def test_days_are_written_under_their_marks() -> None:
    chart = next(chart for chart in charts_of(soil("dead-clay")) if chart.title.startswith("Structure"))
    plot = Plot(chart_grid(chart, 80).text().splitlines())
    for tick, mark in zip(plot.ticks, chart.marks, strict=True):
        start = plot.labels.index(mark.on.isoformat())
        assert start <= plot.left + tick < start + len("2026-03-02")


@pytest.mark.parametrize("units", ("metric", "us"))
@pytest.mark.parametrize("name", [path.stem for path in SOILS])
def test_classes_are_those_of_the_answer(name: str, units: str) -> None:
    """The latest result lies in the band of the very class that the answer gave it, in either system of units."""
    answer = soil(name, units)
    for found in answer.trends:
        if not found.bands:
            continue
        (latest,) = (one for one in answer.results if (one.check, one.bed) == (found.tracked, found.bed))
        value = found.marks[-1].value
        band = next(band for band in found.bands if band.until is None or value < band.until)
        assert band.word == latest.word


def test_the_words_of_a_trend_say_what_the_answer_judged() -> None:
    answer = soil("dead-clay")
    trends = [chart for chart in charts_of(answer) if isinstance(chart, TrendChart)]
    says = {"better": "getting better", "worse": "getting worse", "steady": "about the same"}
    for chart, found in zip(trends, answer.trends, strict=True):
        assert chart.direction == found.direction
        assert says[found.direction] in chart.words and says[found.direction] in chart_grid(chart, 80).text()


# ---------------------------------------------------------------- the triangle


def triangle(*soils: tuple[float, float, float], width: int = 80) -> list[str]:
    chart = TextureChart("t", "w", tuple(Soil(*one, texture(*one).name) for one in soils))
    return chart_grid(chart, width).text().splitlines()


class Corners:
    """The triangle in cells, found by its lowest row and its tip."""

    def __init__(self, rows: list[str]) -> None:
        foot = next(place for place, row in enumerate(rows) if "100" in row)
        self.rows = [row.ljust(200) for row in rows[:foot]]
        self.left = len(rows[foot - 1]) - len(rows[foot - 1].lstrip())
        self.across = len(rows[foot - 1].rstrip()) - self.left

    def cell(self, sand: float, silt: float, clay: float) -> tuple[float, float]:
        """The middle of a soil's cell by its shares of the three corners: sand left, silt right, clay at the tip."""
        corners = ((sand, 0.0, 1.0), (silt, 1.0, 1.0), (clay, 0.5, 0.0))
        x = sum(share * x for share, x, _ in corners) / 100
        y = sum(share * y for share, _, y in corners) / 100
        return self.left + x * self.across - 0.5, y * len(self.rows) - 0.5

    def shares(self, column: float, row: float) -> tuple[float, float, float]:
        """The shares at a point, from the left and the top of the drawing, in cells."""
        clay = 100 * (1 - row / len(self.rows))
        silt = 100 * (column - self.left) / self.across - clay / 2
        return 100 - silt - clay, silt, clay


shares = st.tuples(st.floats(0, 1), st.floats(0, 1)).map(sorted)


@settings(max_examples=60, deadline=None)
@given(shares, st.sampled_from((40, 60, 80)))
def test_any_soil_is_one_star_where_its_shares_put_it(cuts: list[float], width: int) -> None:
    sand, silt, clay = 100 * cuts[0], 100 * (cuts[1] - cuts[0]), 100 * (1 - cuts[1])
    corners = Corners(triangle((sand, silt, clay), width=width))
    ((column, row),) = [(row.index("*"), down) for down, row in enumerate(corners.rows) if "*" in row]
    x, y = corners.cell(sand, silt, clay)
    assert abs(column - x) <= 0.5 + 1e-6 or column in (corners.left, corners.left + corners.across - 1)
    assert abs(row - y) <= 0.5 + 1e-6


@pytest.mark.parametrize("width", (40, 48, 60, 80))
def test_every_name_lies_in_its_class(width: int) -> None:
    """Read off the drawing, and set beside the definitions of soil/texture.py."""
    corners = Corners(triangle((40, 40, 20), width=width))
    names = {short: name for name, short in SHORT.items()} | {name.replace("-", " "): name for name in SHORT}
    found = set()
    for down, row in enumerate(corners.rows):
        for word in re.finditer(r"[A-Za-z]+(?: [a-z]+)*", row):
            if word[0] in ("clay", "silt") and row[word.end() + 1] == "%":
                continue
            found.add(names[word[0]])
            for column in range(*word.span()):
                if row[column] != " ":
                    assert texture(*corners.shares(column + 0.5, down + 0.5)).name == names[word[0]]
    assert found == set(SHORT)


@pytest.mark.parametrize("width", (40, 60, 80))
def test_what_no_line_divides_is_of_one_class(width: int) -> None:
    """Dots without ink that lie together are of one class: the lines are where soil/texture.py draws its limits."""
    corners = Corners(triangle((40, 40, 20), width=width))
    bits = ((0, 0, 0x01), (0, 1, 0x02), (0, 2, 0x04), (1, 0, 0x08), (1, 1, 0x10), (1, 2, 0x20), (0, 3, 0x40),
            (1, 3, 0x80))  # fmt: skip
    free: dict[tuple[int, int], str] = {}
    for down, row in enumerate(corners.rows):
        for across, sign in enumerate(row):
            if sign == " " or "\u2800" <= sign <= "\u28ff":
                inked = ord(sign) - 0x2800 if sign != " " else 0
                for over, under, bit in bits:
                    x, y = 2 * across + over, 4 * down + under
                    at = corners.shares((x + 0.5) / 2, (y + 0.5) / 4)
                    if not inked & bit and min(at) >= 0:
                        free[x, y] = texture(*at).name
    assert set(free.values()) == set(SHORT)
    for (x, y), name in free.items():
        for beside in ((x + 1, y), (x, y + 1)):
            assert free.get(beside, name) == name


def test_several_soils_are_numbered_and_explained() -> None:
    rows = triangle((17, 33, 50), (28, 36, 36), (90, 6, 4))
    drawn = "\n".join(rows)
    assert "1 clay: 17 % sand, 33 % silt, 50 % clay" in drawn
    corners = Corners(rows)
    for sign, at in (("1", (17, 33, 50)), ("2", (28, 36, 36)), ("3", (90, 6, 4))):
        x, y = corners.cell(*at)
        assert corners.rows[round(y)][round(x)] == sign


# ---------------------------------------------------------------- the year

MONTHS = ("Sep", "Oct", "Nov", "Dec", "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug")
litres = st.lists(st.floats(0, 1), min_size=52, max_size=52)


@settings(max_examples=25, deadline=None)
@given(litres, litres)
def test_a_week_is_as_high_as_what_lies_there(store: list[float], heap: list[float]) -> None:
    weeks = tuple(
        YearWeek(MONTHS[week * 12 // 52], 1 + week // 20, 900 * store[week], 700 * heap[week], 30) for week in range(52)
    )
    rows = chart_grid(YearChart("y", "w", weeks, 900, 700, "metric"), 80).text().splitlines()
    starts = [place + 1 for place, row in enumerate(rows) if row.startswith(("In store", "In the heap"))]
    for start, sign, filled in ((starts[0], "▒", store), (starts[1], "█", heap)):
        foot = next(place for place in range(start, len(rows)) if rows[place].lstrip().startswith("└"))
        left, high = rows[foot].index("└") + 1, foot - start
        columns = list(zip(*(row.ljust(80)[left : left + 52] for row in rows[start:foot]), strict=True))
        for column, share in zip(columns, filled, strict=True):
            # the lowest row is nought, the highest all the room; nothing at all is left blank
            top = column.index(sign) if sign in column else high
            assert set(column[top:]) <= {sign} and set(column[:top]) <= {" "}
            if top == high:
                assert share * 900 < 1
            else:
                assert abs((high - 1 - top) - share * (high - 1)) <= NEAR


def test_months_and_batches_stand_under_their_first_weeks() -> None:
    chart = next(chart for chart in all_charts() if isinstance(chart, YearChart))
    rows = chart_grid(chart, 80).text().splitlines()
    left = next(row for row in rows if row.lstrip().startswith("└")).index("└") + 1
    months, batches = rows[-2:]
    first = {week.month: place for place, week in reversed(list(enumerate(chart.weeks)))}
    for month, place in first.items():
        assert months[left + place : left + place + 3] == month
    for place, (week, before) in enumerate(zip(chart.weeks[1:], chart.weeks, strict=False), 1):
        if week.batch != before.batch:
            assert batches[left + place] == str(week.batch)


# ---------------------------------------------------------------- the seasons


@pytest.mark.parametrize("width", (80, 120, 200))
@pytest.mark.parametrize("name", [path.stem for path in SOILS])
def test_every_window_is_a_bar_between_its_days(name: str, width: int) -> None:
    for chart in charts_of(seasons(name)):
        stretches = [stretch for one in chart.beds for stretch in one.stretches]
        opens = min([chart.last_frost, *(one.opens for one in stretches)]).replace(day=1)
        closes = max([chart.first_frost, *(one.closes for one in stretches)])
        total = ((closes.replace(day=1) + timedelta(days=32)).replace(day=1) - opens).days
        rows = chart_grid(chart, width).text().splitlines()
        left = max(min(max(len(one.bed) for one in chart.beds), 12), 0) + 1
        starts = [place for one in chart.beds for place, row in enumerate(rows) if row.startswith(one.bed[:11])]
        for one, start, end in zip(chart.beds, starts, [*starts[1:], len(rows)], strict=True):
            for stretch in one.stretches:
                sign, word, _ = DOINGS[stretch.what]
                first, last = ((day - opens).days * (width - left) // total for day in (stretch.opens, stretch.closes))
                bars = [row.ljust(width)[left + first : left + last + 1] for row in rows[start:end]]
                assert any(set(bar) <= {sign, *word, " "} and bar[0] == bar[-1] == sign for bar in bars), stretch


def test_windows_that_touch_never_hide_each_other() -> None:
    day = date(2026, 4, 1)
    touching = tuple(
        Stretch(what, day + timedelta(days=number), day + timedelta(days=number + 2))
        for number, what in enumerate(("check", "spread", "sow", "cut", "wait", "plant", "cover"))
    )
    chart = SeasonsChart("c", "w", 1, date(2026, 4, 20), date(2026, 10, 10), (BedSeason("A", touching),))
    drawn = "\n".join(chart_grid(chart, 40).text().splitlines()[2:9])
    assert all(DOINGS[stretch.what][0] in drawn for stretch in touching)


def test_a_year_without_frost_has_a_calendar_without_one() -> None:
    beds = (BedSeason("A", (Stretch("sow", date(2026, 4, 1), date(2026, 5, 1)),)),)
    drawn = chart_grid(SeasonsChart("c", "w", 1, None, None, beds), 80).text()
    assert "frost" not in drawn and "sow" in drawn


# ---------------------------------------------------------------- the heat


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(20, 80), min_size=2, max_size=20), st.sampled_from(("metric", "us")))
def test_a_reading_lies_where_its_day_and_its_heat_put_it(celsius: list[float], units: str) -> None:
    readings = tuple(HeatReading(day, heat) for day, heat in enumerate(celsius, 1))
    chart = HeatChart("h", "w", readings, (2.0,), (HeatLimit(55, "sanitising heat"),), units)
    rows = chart_grid(chart, 80).text().splitlines()
    plot = Plot(rows)
    found = list(plot.cells("o"))
    for day, heat in enumerate(celsius, 1):
        shown = heat if units == "metric" else heat * 1.8 + 32
        x = day / len(celsius) * (plot.columns - 1 if len(celsius) >= 1 else 1)
        assert any(abs(column - x) <= 0.51 and abs(row - plot.row_of(shown)) <= NEAR for column, row in found)
    limit = next(down for down, row in enumerate(plot.rows) if row.rstrip().endswith("sanitising heat"))
    assert abs(limit - plot.row_of(55 if units == "metric" else 131)) <= NEAR
    turned = next(row for row in rows if row.strip() == "T").index("T")
    assert abs(turned - plot.left - 2 / len(celsius) * (plot.columns - 1)) <= 0.51


def test_the_heat_is_that_of_the_readings_told() -> None:
    (chart,) = charts_of(ready())
    assert [(one.day, one.celsius) for one in chart.readings][5] == (7, 73)
    assert chart.turnings == (3, 8)
    assert [limit.celsius for limit in chart.limits] == [55, 77], "it came near the ceiling of the organic rule"
    assert "Hottest on day 7, with 73 °C; 6 of 9 readings at 55 °C or more" in chart.words


# ---------------------------------------------------------------- pages


def test_charts_stand_below_the_part_they_belong_to() -> None:
    shown = page(soil("dead-clay"))
    order = ("What was measured", "Texture of the soil", "Over the years", "Structure by the spade", "Earthworms",
             "What the soil is like")  # fmt: skip
    places = [shown.index(f"\n{head}") for head in order]
    assert places == sorted(places)
    calendar = page(seasons("dead-clay"))
    assert calendar.index("\nYear 1:") < calendar.index("\nCalendar of year 1") < calendar.index("\nYear 2:")
    assert page(ready()).index("Its heat, as recorded") < page(ready()).index("Heat of the heap")


@pytest.mark.parametrize("units", ["metric", "us"])
def test_a_forecast_shows_its_band_with_the_readings_over_it(units: str) -> None:
    (chart,) = charts_of(forecast(units))
    assert isinstance(chart, HeatChart)
    assert all(one.low <= one.typical <= one.high for one in chart.band)
    rows = chart_grid(chart, 80).text().splitlines()
    plot = Plot(rows)
    assert len(list(plot.cells("o"))) == 2
    assert list(plot.cells("•"))
    assert list(plot.cells(":"))
    assert "foreseen" in chart_text(chart, width=80)
    assert "T turned" in chart_text(chart, width=80)

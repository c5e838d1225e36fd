"""Charts in the talk on plain lines: below the lines of a reply, no wider than the talk, with their words."""

from __future__ import annotations

import io
from datetime import date

import pytest

from advisor.counsel.plan import Line
from advisor.papers.charts.shapes import Mark, TrendChart
from advisor.talk.plain import run
from advisor.talk.replies import Reply

CHART = TrendChart(
    "Earthworms",
    "From 20 per m2 on 2026-03-02 to 280 per m2 on 2029-03-03: getting better.",
    "per m2",
    (Mark(date(2026, 3, 2), 20), Mark(date(2029, 3, 3), 280)),
    87,
    "better",
)


class OneReply:
    """A talk that answers everything with a chart."""

    plan = None

    def open(self) -> tuple[Reply, ...]:
        return ()

    def hear(self, text: str) -> tuple[Reply, ...]:
        del text
        return (Reply("answer", "How it went:", (Line(id="t1", text="earthworms rose", why=()),), charts=(CHART,)),)


@pytest.mark.parametrize("width", (40, 80))
def test_a_chart_stands_below_the_lines_and_says_in_words_what_it_shows(width: int) -> None:
    out = io.StringIO()
    run(OneReply(), ["worms"], out, width)
    text = out.getvalue()
    assert max(map(len, text.splitlines())) <= width
    assert "\x1b" not in text
    places = [text.index(words) for words in ("How it went:", "earthworms rose", "Earthworms\n", "per m2\n", "From 20")]
    assert places == sorted(places)
    assert CHART.words in " ".join(text.split())


def test_colour_is_given_to_charts_as_to_words() -> None:
    out = io.StringIO()
    run(OneReply(), ["worms"], out, 80, colour=True)
    assert "\x1b[1mEarthworms\x1b[0m" in out.getvalue()

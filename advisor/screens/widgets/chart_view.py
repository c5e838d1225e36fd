"""A chart of an answer: its title, the drawing, and in words what is to be seen."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from advisor.papers.charts import chart_grid
from advisor.papers.grid import cut
from advisor.screens.painting import painted

if TYPE_CHECKING:
    from textual.geometry import Size

    from advisor.papers.charts import Chart

_BESIDES = 12  # rows of the screen that are not for drawings: what frames the talk, and the words of the chart
_LOWEST = 8


class ChartView(Widget):
    """Draws a chart as wide as it is given, and no higher than the screen can show, as far as it can be drawn so low.

    Its colours are those of the theme. Nothing in it can be picked, and its words say what the drawing shows.
    """

    ALLOW_SELECT = True
    DEFAULT_CSS = """
    ChartView {
        height: auto;
        width: 1fr;
        padding: 0 1;
        margin: 0 0 1 0;
        color: $foreground;
    }
    """

    chart: reactive[Chart | None] = reactive(None, layout=True)
    """What is drawn; nothing if None."""

    def __init__(self, chart: Chart | None = None, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._drawn: tuple[int, int, Content] | None = None
        self.set_reactive(ChartView.chart, chart)

    def watch_chart(self) -> None:
        """Another chart is drawn anew."""
        self._drawn = None

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:  # noqa: ARG002
        """As high as its title, its drawing and its words."""
        return self._content(width).plain.count("\n") + 1 if self.chart is not None else 0

    def render(self) -> Content:
        """The title over the drawing over the words."""
        return self._content(self.content_size.width)

    def _content(self, width: int) -> Content:
        rows = max(self.app.size.height - _BESIDES, _LOWEST)
        if self._drawn is None or self._drawn[:2] != (width, rows):
            self._drawn = (width, rows, self._draw(width, rows))
        return self._drawn[2]

    def _draw(self, width: int, rows: int) -> Content:
        if self.chart is None or width <= 0:
            return Content("")
        title = Content.styled(cut(self.chart.title, width), "bold")
        words = Content(textwrap.fill(self.chart.words, width, break_on_hyphens=False))
        return Content("\n").join([title, painted(chart_grid(self.chart, width, rows)), words])

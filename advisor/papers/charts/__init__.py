"""Charts: values taken from answers, and their drawing in signs. No Textual here; plotext is loaded when it draws."""

from advisor.papers.charts.shapes import Chart
from advisor.papers.charts.take import charts_of
from advisor.papers.charts.text import chart_grid, chart_text

__all__ = ["Chart", "chart_grid", "chart_text", "charts_of"]

"""Charts: values taken from answers, and their drawing in signs. No Textual here; plotext is loaded when it draws."""

from advisor.papers.charts.shapes import Chart

__all__ = ["Chart"]

"""A paper as one HTML page, to be printed on A4 or Letter in black and white. It holds all that it shows."""

from __future__ import annotations

from typing import Final, Literal

from advisor.papers.charts import chart_grid
from advisor.papers.charts.shapes import Chart, SeasonsChart, YearChart
from advisor.papers.paper import Drawing, Paper, Part, Table
from advisor.papers.print.calendar_drawing import season_drawing
from advisor.papers.print.elements import Element, add, add_drawn, element, written
from advisor.papers.print.heap_drawing import heap_drawing
from advisor.papers.print.style import STYLE
from advisor.papers.print.year_drawing import year_drawing
from advisor.papers.sections import Section

#: Sizes of paper by the names that CSS has for them (CSS Paged Media Module Level 3, section 7.1, W3C; from memory).
Size = Literal["a4", "letter"]
SIZES: Final[tuple[Size, ...]] = ("a4", "letter")
_CSS_SIZE: Final[dict[Size, str]] = {"a4": "A4", "letter": "letter"}

#: Nothing may be fetched: no script, no font, no picture (Content Security Policy Level 3, W3C; from memory).
_POLICY: Final = "default-src 'none'; style-src 'unsafe-inline'"

_CHART_COLUMNS: Final = 84
_WIDE_TABLE: Final = 20  # rows; a longer table may break across pages


def printed_page(paper: Paper, size: Size = "a4") -> str:
    """The paper as HTML.

    Args:
        size: the paper that it is to be printed on.
    """
    body = element("body")
    head = add(body, "header")
    add(head, "h1", paper.title)
    if paper.whose:
        add(head, "p", paper.whose, class_="whose")
    for part in paper.parts:
        body.append(_part(part, paper))
    if paper.sources:
        body.append(_sources(paper.sources))
    add(body, "footer", "It advises; it certifies nothing. Local rules come before anything it says.")
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"{written(element('title', paper.title))}\n"
        f"<style>\n@page {{ size: {_CSS_SIZE[size]} portrait; }}\n{STYLE}</style>\n</head>\n{written(body)}\n</html>\n"
    )


def _part(part: Part, paper: Paper) -> Element:
    if isinstance(part, Section):
        return _section(part, paper)
    if isinstance(part, Table):
        return _table(part)
    if isinstance(part, Drawing):
        figure = element("figure")
        add_drawn(figure, part.text)
        return figure
    return _chart(part)


def _section(section: Section, paper: Paper) -> Element:
    found = element("section", class_="grave" if section.grave else "care" if section.care else "plain")
    add(found, "h2", section.title)
    if section.drawn and paper.heap is not None:
        figure = add(found, "figure")
        figure.append(heap_drawing(paper.heap))
    lines = add(found, "ul")
    for line in section.lines:
        ticked = line.id in section.ticked
        item = add(lines, "li", class_="to-do" if ticked else "line" if line.id else "below")
        if ticked:
            add(item, "span", class_="box", aria_hidden="true")
        add(item, "span", line.text)
    return found


def _table(table: Table) -> Element:
    found = element("section", class_="long" if len(table.rows) > _WIDE_TABLE else "plain")
    add(found, "h2", table.title)
    grid = add(found, "table")
    head = add(add(grid, "thead"), "tr")
    for cell in table.head:
        add(head, "th", cell, scope="col")
    body = add(grid, "tbody")
    for first, *rest in table.rows:
        row = add(body, "tr")
        add(row, "th", first, scope="row")
        for cell in rest:
            add(row, "td", cell)
    return found


def _chart(chart: Chart) -> Element:
    figure = element("figure")
    add(figure, "figcaption", chart.title)
    if isinstance(chart, SeasonsChart):
        figure.append(season_drawing(chart))
    elif isinstance(chart, YearChart):
        figure.append(year_drawing(chart))
    else:
        add_drawn(figure, chart_grid(chart, _CHART_COLUMNS).text())
    add(figure, "p", chart.words, class_="words")
    return figure


def _sources(sources: tuple[str, ...]) -> Element:
    found = element("section", class_="sources")
    add(found, "h2", "Sources")
    listed = add(found, "ol")
    for source in sources:
        add(listed, "li", source)
    return found

"""The heat of a heap foreseen, as a page of plain text with its chart."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from advisor.counsel.heat_shapes import HeatAnswer
from advisor.papers.answer import answer_page
from advisor.papers.charts import chart_text, charts_of
from advisor.papers.sections import Section


def heat_page(answer: HeatAnswer, *, width: int = 80, colour: bool = False, why: Collection[str] | None = None) -> str:
    """The forecast as text; see answer_page for the arguments."""
    parts: list[Section | str] = list(sections(answer))
    # the chart stands after what is read first
    parts[1:1] = [chart_text(chart, width=width, colour=colour) for chart in charts_of(answer)]
    return answer_page("How hot the heap may get", parts, width=width, colour=colour, why=why)


def sections(answer: HeatAnswer) -> Iterator[Section]:
    """The parts of the answer that have something to say, in the order they are read."""
    found = [
        Section("In short", (answer.verdict,)),
        Section("Your readings", answer.read),
        Section("Its course", answer.course),
        Section("When to turn", answer.turning),
        Section("What if", tuple(change.line for change in answer.changes)),
        Section("How sure this is", answer.doubts),
        Section("Take care", answer.cautions),
    ]
    yield from (section for section in found if section.lines)

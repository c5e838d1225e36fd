"""Answers about soil and compost as papers, each part with its charts below it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from advisor.knowledge.soil_shapes import Guide
from advisor.papers.charts import Chart
from advisor.papers.charts.take import heat_charts, seasons_charts, texture_charts, trend_charts
from advisor.papers.paper import Paper, Part
from advisor.papers.sections import Section
from advisor.soil_counsel.inputs import bare_unit
from advisor.soil_counsel.shapes import Answer, ReadyAnswer, SeasonsAnswer, SoilAnswer, SpreadAnswer
from advisor.units import Units, fill


def paper(answer: Answer) -> Paper:
    """An answer as a paper: a box to tick for all that is to be done on a bed."""
    to_do: frozenset[str] = frozenset()
    if isinstance(answer, SeasonsAnswer):
        to_do = frozenset(task.line.id for year in answer.years for task in year.tasks)
    elif isinstance(answer, SpreadAnswer):
        to_do = frozenset(bed.line.id for bed in answer.beds)
    parts: list[Part] = []
    for part in answer.parts:
        ticked = to_do & {line.id for line in part.lines}
        parts.append(Section(part.title, part.lines, grave=part.grave, care=part.care, ticked=ticked))
        parts += _below(part.title, answer)
    return Paper(answer.name, tuple(parts))


def _below(title: str, answer: Answer) -> Sequence[Chart]:
    """The charts that belong below a part of an answer."""
    if isinstance(answer, SoilAnswer):
        if title == "What was measured":
            return texture_charts(answer)
        return trend_charts(answer) if title == "Over the years" else ()
    if isinstance(answer, ReadyAnswer) and title == "Its heat, as recorded":
        return heat_charts(answer)
    if isinstance(answer, SeasonsAnswer):
        return [chart for chart in seasons_charts(answer) if title.startswith(f"Year {chart.year}:")]
    return ()


def guide_page(guide: Guide, *, units: Units = "metric", width: int = 80) -> str:
    """A guided check as text: what it takes, what to do, what to write down."""
    import textwrap

    room = max(width, 40)

    def shown(text: str, lead: str = "") -> Iterable[str]:
        return textwrap.wrap(fill(text, {}, units), room, initial_indent=lead, subsequent_indent=" " * len(lead))

    lines = [guide.name[:1].upper() + guide.name[1:], "", *shown(guide.about)]
    if guide.when:
        lines += ["", *shown(guide.when)]
    if guide.needs:
        lines += ["", "Needs"]
        for need in guide.needs:
            lines += shown(need, "    - ")
    lines += ["", "Steps"]
    for number, step in enumerate(guide.steps, 1):
        lines += shown(step, f"{number:>4}. ")
    lines += ["", "Write down"]
    for name, asked in guide.inputs.items():
        unit = bare_unit(asked, units)
        words = f" ({', '.join(asked.words)})" if asked.words else f" ({unit})" if unit else ""
        lines += shown(f"{asked.ask}{words}", f"    {name}= ")
    lines += ["", f"[{', '.join(guide.source)}]"]
    return "\n".join(lines) + "\n"

"""Any answer as a paper: its parts in the order they are read, ready for plain text, Markdown and the printed page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from importlib import import_module
from typing import TYPE_CHECKING, Protocol

from advisor.papers.charts.shapes import Chart
from advisor.papers.sections import Section
from advisor.papers.sources import all_cited
from advisor.records import dataclass
from advisor.units import Units

if TYPE_CHECKING:
    from advisor.counsel.plan import Body, Layer, Line
    from advisor.knowledge.shapes import Source


class Answer(Protocol):
    """What every answer offers: the lines that can be asked why."""

    def lines(self) -> Sequence[Line]: ...


@dataclass(frozen=True, slots=True)
class Table:
    """Figures in rows; the first cell of each names its row."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Heap:
    """What the drawing of a heap shows: its body, its layers from the ground up, and what went in, in litres."""

    body: Body
    layers: tuple[Layer, ...]
    parts: tuple[tuple[str, float], ...]
    units: Units


@dataclass(frozen=True, slots=True)
class Drawing:
    """Rows of signs that keep their columns."""

    text: str


#: A heading with lines, a table, a chart or a drawing.
Part = Section | Table | Chart | Drawing


@dataclass(frozen=True, slots=True)
class Paper:
    """An answer to be written down.

    `whose` says whose heap or beds it is about where the title does not; `sources` are one text each.
    """

    title: str
    parts: tuple[Part, ...]
    whose: str = ""
    heap: Heap | None = None
    sources: tuple[str, ...] = ()


#: The module that has the `paper` of each kind of answer, by the name of its class.
_PAPERS = {
    "Plan": "plan_paper",
    "Diagnosis": "trouble",
    "Almanac": "almanac",
    "Paces": "paces",
    "HeatAnswer": "heat",
    "Kitchen": "kitchen",
    "Substitutes": "stead",
    "Additions": "additions",
    "DeepBed": "deep_bed",
    "OwnMix": "blend",
    "SampleSum": "blend",
    "SoilAnswer": "ground",
    "ReadyAnswer": "ground",
    "SpreadAnswer": "ground",
    "SeasonsAnswer": "ground",
}


def paper_of(answer: Answer, sources: Mapping[str, Source] | None = None, local: Sequence[str] = ()) -> Paper:
    """The paper of an answer, without its empty parts.

    Args:
        sources: the bibliography, by id, from which the sources of its lines are listed; nothing is listed without it.
        local: what is said of local rules, which comes last.
    """
    module = import_module(f"advisor.papers.{_PAPERS[type(answer).__name__]}")
    paper: Paper = module.paper(answer)
    parts = tuple(part for part in paper.parts if not isinstance(part, Section) or part.lines)
    parts += local_part(local)
    if sources is None:
        return replace(paper, parts=parts)
    lines = [line for part in parts if isinstance(part, Section) for line in part.lines]
    return replace(paper, parts=parts, sources=all_cited(lines, sources))


def local_part(said: Sequence[str]) -> tuple[Section, ...]:
    """The part that says which local rules are in use, if any are."""
    from advisor.counsel.plan import Line

    return (Section("Local rules", tuple(Line(id="", text=text) for text in said)),) if said else ()

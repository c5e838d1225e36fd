"""The quick heap beside the slow one, as a page of plain text."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from advisor.counsel.pace import Pace, Paces
from advisor.counsel.plan import Spread
from advisor.papers.answer import answer_page
from advisor.papers.paper import Paper
from advisor.papers.sections import FETCH, Section

_NAMES = {"quick": "The quick heap", "slow": "The slow heap"}
_LABEL, _COLUMN = 20, 18


def paces_page(answer: Paces, *, width: int = 80, colour: bool = False, why: Collection[str] | None = None) -> str:
    """Both heaps as text; see answer_page for the arguments."""
    made = paper(answer)
    return answer_page(made.title, made.parts, width=width, colour=colour, why=why)


def paper(answer: Paces) -> Paper:
    """The same as a paper."""
    return Paper(f"Quick or slow, for {answer.household}", tuple(sections(answer)))


def sections(answer: Paces) -> Iterator[Section | str]:
    """The parts of the answer, in the order they are read; a text is a table of both."""
    yield Section("Which of the two", (answer.verdict,))
    if answer.quick.possible and answer.slow.possible:
        yield _side_by_side(answer)
    yield Section("First of all", tuple(line for line in answer.cautions if line.id.startswith("g")), grave=True)
    for each in (answer.quick, answer.slow):
        yield Section(_NAMES[each.pace], (each.line,))
        yield Section("What goes in", each.mix())
        yield Section("What is short" if each.misses else FETCH[True], each.short())
        yield Section("Size, work and wait", each.course())
        yield Section("What it is for", each.suits)
        yield Section("What it does not do", each.limits)
    yield Section("Take care", tuple(line for line in answer.cautions if not line.id.startswith("g")), care=True)


def _side_by_side(answer: Paces) -> str:
    """A small table: what the two come to."""
    rows = [("", "quick", "slow"), *zip(_ROWS, _cells(answer.quick), _cells(answer.slow), strict=True)]
    return "\n".join(f"{label:<{_LABEL}}{quick:<{_COLUMN}}{slow}".rstrip() for label, quick, slow in rows)


_ROWS = ("carbon to nitrogen", "turnings", "hours of forking", "weeks to finished")


def _cells(one: Pace) -> tuple[str, ...]:
    ratio = one.carbon_nitrogen
    return (
        _range(ratio.spread) if ratio else "-",
        f"{one.turnings:g}",
        _range(one.hours) if one.hours else "-",
        _range(one.weeks) if one.weeks else "-",
    )


def _range(spread: Spread) -> str:
    places = 0 if spread.typical >= 10 else 1
    return f"{spread.typical:.{places}f} ({spread.low:.{places}f}–{spread.high:.{places}f})"

"""The quick heap beside the slow one, as a paper."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.counsel.pace import Pace, Paces
from advisor.counsel.plan import Spread
from advisor.papers.paper import Paper, Table
from advisor.papers.sections import FETCH, Section, first_of_all, take_care

_NAMES = {"quick": "The quick heap", "slow": "The slow heap"}


def paper(answer: Paces) -> Paper:
    """The answer as a paper."""
    return Paper(f"Quick or slow, for {answer.household}", tuple(_parts(answer)))


def _parts(answer: Paces) -> Iterator[Section | Table]:
    """The parts of the answer, in the order they are read."""
    yield Section("Which of the two", (answer.verdict,))
    if answer.quick.possible and answer.slow.possible:
        yield _side_by_side(answer)
    yield first_of_all(answer.cautions)
    for each in (answer.quick, answer.slow):
        yield Section(_NAMES[each.pace], (each.line,))
        yield Section("What goes in", each.mix())
        yield Section("What is short" if each.misses else FETCH[True], each.short())
        yield Section("Size, work and wait", each.course())
        yield Section("What it is for", each.suits)
        yield Section("What it does not do", each.limits)
    yield take_care(answer.cautions)


def _side_by_side(answer: Paces) -> Table:
    """What the two come to."""
    rows = zip(_ROWS, _cells(answer.quick), _cells(answer.slow), strict=True)
    return Table("Side by side", ("", "quick", "slow"), tuple((label, quick, slow) for label, quick, slow in rows))


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

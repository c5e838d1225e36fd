"""Which checks to do, and in what order: what a talk or a page asks for next.

The order and how often a check is worth repeating are data (rules/guides.toml); that advice hangs on a check is
concluded by rules (`soil.next_check` in rules/soil.toml); this adds the calendar.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Final, Literal

from advisor.counsel.wording import joined
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.soil.trend import MONTHS_APART
from advisor.soil_counsel.ground import MONTHS, Ground
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.soil import Bed, read_beds

#: Checks that find the same thing: where one was done, the other is not asked for as new.
_AS_GOOD: Final = {"jar": "texture", "texture": "jar"}

#: What is asked for first: what advice hangs on, what is due, what was never done, what is due in another season.
_HANGS, _DUE, _NEVER, _WAITS = range(4)


def check_order(knowledge: Knowledge, of: Literal["soil", "compost"]) -> tuple[str, ...]:
    """The guides of one kind, in the order in which a beginner does them: the order of rules/guides.toml."""
    return tuple(name for name, guide in knowledge.guides.items() if guide.of == of)


def which_checks(
    ground: Ground, knowledge: Knowledge, today: date, *, bed: str = "", engine: Engine | None = None
) -> tuple[tuple[str, str], ...]:
    """Checks worth doing next and why, the most useful first; empty if all is known and fresh.

    Args:
        ground: beds with their checks. Without a bed, it is asked of soil that nobody has checked.
        today: decides what is a year old, and whether the month compares with that of the last time.
        bed: the one that is asked about; all of them if empty, and then a reason that is not of all names its beds.
        engine: with the rules of `knowledge`; that of the shipped rules if left out.

    Returns:
        Pairs of a guide's id and a clause that starts small and ends without a stop. With several beds a guide may
        come more than once, each time for another reason.

    Raises:
        KeyError: no such bed.
        HouseholdError: a check whose figures cannot be.
    """
    if not ground.beds:
        return tuple(
            (name, _never(name, knowledge)) for name in check_order(knowledge, "soil") if _basic(name, knowledge)
        )
    beds = [
        one
        for one in read_beds(ground, knowledge, engine or shipped_soil_engine(), "metric")
        if bed in ("", one.bed.name)
    ]
    if not beds:
        raise KeyError(bed)
    order = check_order(knowledge, "soil")
    found: dict[tuple[int, int, str], list[str]] = {}
    for one in beds:
        for rank, name, why in _of_bed(one, knowledge, today):
            found.setdefault((rank, order.index(name), why), []).append(one.bed.name)
    return tuple(
        (order[place], why if len(names) == len(beds) else f"{joined(names)}: {why}")
        for (_, place, why), names in sorted(found.items(), key=lambda pair: pair[0][:2])
    )


def _of_bed(bed: Bed, knowledge: Knowledge, today: date) -> Iterable[tuple[int, str, str]]:
    """Rank, guide and reason; no guide twice."""
    done: dict[str, list[date | None]] = {}
    for check, _ in bed.checks:
        done.setdefault(check.guide, []).append(check.on)
    for name in check_order(knowledge, "soil"):
        if name in bed.judged.next_check:
            yield _HANGS, name, _clause(bed.judged.next_check[name][0].because)
        elif name not in done:
            if _basic(name, knowledge) and _AS_GOOD.get(name) not in done:
                yield _NEVER, name, _never(name, knowledge)
        else:
            dated = [on for on in done[name] if on is not None]
            if dated and (again := _again(name, max(dated), knowledge, today)):
                yield (_DUE if _in_season(max(dated), today) else _WAITS), name, again


def _again(name: str, last: date, knowledge: Knowledge, today: date) -> str:
    """Why it is worth doing again; empty if it is not yet."""
    every = knowledge.guides[name].again_months
    if every is None:
        return ""
    months = (today.year - last.year) * 12 + today.month - last.month
    if months < every - (1 if every >= 12 else 0):
        return ""
    ago = f"last done {last.isoformat()}, {_ago(months)}"
    month = MONTHS[last.month - 1]
    if every < 12:
        return ago
    return (
        f"{ago}; now, as in {month} then, the two compare"
        if _in_season(last, today)
        else (f"{ago}; best done again in {month}, so that the two compare")
    )


def _ago(months: int) -> str:
    if months < 11:
        return f"{months} months ago"
    years = round(months / 12)
    return "a year ago" if years == 1 else f"{years} years ago"


def _in_season(last: date, today: date) -> bool:
    """Whether a day falls into about the same weeks of the year."""
    apart = abs(last.month - today.month)
    return min(apart, 12 - apart) <= MONTHS_APART


def _never(name: str, knowledge: Knowledge) -> str:
    return f"never done here, and it shows {_clause(knowledge.guides[name].about)}"


def _basic(name: str, knowledge: Knowledge) -> bool:
    return knowledge.guides[name].every_bed


def _clause(sentence: str) -> str:
    """A sentence as part of another: without its stop, and starting small."""
    return sentence[:1].lower() + sentence[1:].rstrip(".")

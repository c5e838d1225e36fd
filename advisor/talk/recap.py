"""What a talk is about and what was said in it, in a few words, for whoever comes back to it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from advisor.counsel.wording import joined
from advisor.knowledge.base import Knowledge
from advisor.talk.memory import State

_NAMED = 3  # materials that are named one by one
_TOLD = 5  # things told that are said again

# in English whatever the machine speaks
_FIRST_HALF = ("January", "February", "March", "April", "May", "June")
_MONTHS = (*_FIRST_HALF, "July", "August", "September", "October", "November", "December")

#: What a sheet is about, by its door; the menus are about nothing yet.
_SHEETS = {
    "no-manure": "what to use instead of manure",
    "instead": "what to use instead of manure",
    "animals": "bedding for animals",
    "handfuls": "herbs, starters and minerals",
    "year": "a plan for the year",
    "blend": "the figures of a mix",
    "paces": "a quick or a slow heap",
    "heat": "how hot a heap may get",
    "kitchen": "the scraps of a kitchen",
    "ready": "whether compost is ready",
    "spread": "spreading compost",
    "check": "a check of the soil",
    "trends": "the soil diary",
    "seasons": "rebuilding a soil",
}


def day_text(day: date, today: date) -> str:
    """A day as people say it: "today", "yesterday", "30 November"; with its year if that is another one."""
    days = (today - day).days
    if days in (0, 1):
        return "yesterday" if days else "today"
    year = f" {day.year}" if day.year != today.year else ""
    return f"{day.day} {_MONTHS[day.month - 1]}{year}"


#: The signs by which one knows a heap in trouble again, the most telling first.
_OF_TROUBLE = ("smell", "moisture", "texture", "warmth", "animals", "effects", "progress", "plants", "liquid", "looks")


def about_what(state: State, sheet: State | None, knowledge: Knowledge) -> str:
    """What a talk is about: "your heap of straw and coffee grounds"; empty if nothing was told in it.

    Args:
        sheet: where the sheet that was filled in last stood.
    """
    names = list(dict.fromkeys(knowledge.materials[held.material].name for held in state.household.holdings))
    if state.signs:
        seen = [
            knowledge.kinds["sign"].attributes[name].words.get(str(value), "")
            for name in _OF_TROUBLE
            for value in state.signs.get(name, ())
            if value != "none"
        ]
        shown = ", ".join(words.split(":")[0] for words in seen[:2] if words)
        return f"your heap in trouble ({shown})" if shown else "your heap in trouble"
    if names:
        more = len(names) - _NAMED
        shown = joined(names) if more <= 0 else f"{', '.join(names[:_NAMED])} and {more} more"
        return f"your heap of {shown}"
    if sheet is not None and sheet.door in _SHEETS:
        return _SHEETS[sheet.door]
    household = state.household
    return "a heap to plan" if household.answers or household.room or household.measures else ""


def told_before(changes: Sequence[str]) -> str:
    """A sentence with what was told, the latest last; empty if nothing was."""
    shown = list(changes[-_TOLD:])
    if not shown:
        return ""
    more = len(changes) - len(shown)
    before = f" “What have I told you so far” lists all {len(changes)}." if more else ""
    return f"You told me: {'; '.join(shown)}.{before}"

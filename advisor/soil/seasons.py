"""Rebuilding a spent soil in steps, season after season, from the frosts.

What a season holds is laid out by season_layout.py. The steps answer to the checks: `next_step` moves on sooner where
the structure is good, and stays where it is poor.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Final, Literal

from advisor.heap.ranges import Figures
from advisor.knowledge.soil_shapes import CropFamily, GreenManure, LivingMulch
from advisor.records import dataclass
from advisor.soil.green_manures import Season
from advisor.soil.season_layout import LAST_STEP, Between, Layout, Plot, Seed, Step, Tables, Task, What

__all__ = [
    "LAST_STEP",
    "ROTATION",
    "Move",
    "Plot",
    "Seed",
    "Step",
    "Structure",
    "Task",
    "What",
    "Year",
    "next_step",
    "years",
]

Structure = Literal["good", "fair", "poor"]

#: The family of crops for each year of a bed's turn, as families are known in rules/crop-families.toml. Common
#: practice: hungry crops after legumes, roots last, never a family on its own heels.
ROTATION: Final = ("legumes", "cabbages", "nightshades", "roots")


@dataclass(frozen=True, slots=True)
class Move:
    """The step of the year after, and the reason in a word."""

    step: Step
    reason: Literal["by-calendar", "sooner", "stays", "upkeep"]


@dataclass(frozen=True, slots=True)
class Year:
    """One season of one bed."""

    plot: Plot
    step: Step
    season: Season
    tasks: tuple[Task, ...]
    move: Move | None  # how this step was come to; None in the first year


def next_step(step: Step, structure: Structure | None) -> Move:
    """From this year's step to the next, by the structure that the spade shows at the end of it.

    Good structure skips the second year of green manure; poor structure repeats a year of building, and sends a bed of
    vegetables back to green manures; with fair structure, or none checked, the calendar decides.
    """
    if structure == "poor":
        return Move(1 if step == 1 else 2, "stays")
    if structure == "good" and step == 1:
        return Move(3, "sooner")
    if step == LAST_STEP:
        return Move(5, "upkeep")
    return Move(step + 1, "by-calendar")  # type: ignore[arg-type]  # below the last step


def years(
    plot: Plot,
    seasons: Sequence[Season],
    crops: Mapping[str, GreenManure],
    families: Mapping[str, CropFamily],
    figures: Figures,
    *,
    starts: date | None = None,
    structures: Mapping[int, Structure] | None = None,
    mulches: Mapping[str, LivingMulch] | None = None,
    between: Between | None = None,
) -> tuple[Year, ...]:
    """The seasons of one bed, in order.

    Args:
        seasons: one after another; the spring after the last is taken to come a year after its own.
        starts: no task before this day; what its window leaves is used, or the next crop that fits.
        structures: what the spade showed at the end of season 0, 1, 2 ...; a season not named was not checked.
        mulches, between: what may live between the rows, and what chooses among them; left out, straw lies there.

    Raises:
        ValueError: a bed without area, or no season.
        KeyError: a crop or family that the rule base has not.
    """
    if not plot.area_m2 > 0:
        raise ValueError("a bed has some area")
    if not seasons:
        raise ValueError("there is no season to plan")
    small = frozenset(name for name, family in families.items() if family.small_seed)
    tables = Tables(crops, mulches or {}, figures, between or (lambda _step, _family: ()), small)
    step, move = plot.step, None
    found: list[Year] = []
    grown = 0  # years of vegetables so far: the rotation goes on from there
    for number, season in enumerate(seasons):
        spring = (
            seasons[number + 1].last_frost if number + 1 < len(seasons) else season.last_frost + timedelta(days=365)
        )
        if number == 1:
            plot = replace(plot, dressing_cm=None, worked_in_cm=None)
        settled = {task.between for year in found for task in year.tasks if task.plants is not None}
        layout = Layout(plot, season, spring, tables, starts if number == 0 else None, frozenset(settled))
        previous = found[-1].step if found else None
        rotation = plot.rotation or ROTATION
        family = rotation[(plot.turn + grown) % len(rotation)]
        grown += step >= 3
        families[family]  # a family that is not in the rule base is a fault here, not on the page
        found.append(Year(plot, step, season, layout.tasks(step, family, previous), move))
        stands = plot.stands_cm is not None
        move = Move(LAST_STEP, "upkeep") if stands else next_step(step, (structures or {}).get(number))
        step = move.step
    return tuple(found)

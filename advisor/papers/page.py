"""The plan as a page of plain text."""

from __future__ import annotations

import textwrap
from collections.abc import Collection, Iterator

from advisor.counsel.plan import Plan
from advisor.papers.pen import MARGIN, Pen
from advisor.papers.sections import sections, thickness

#: Columns that the name of a layer gets, however narrow the page.
_NAME_AT_LEAST = 10


def page(plan: Plan, *, width: int = 80, colour: bool = False, why: Collection[str] | None = None) -> str:
    """The plan as text.

    Args:
        width: columns; narrower than 40 is treated as 40.
        colour: whether to set words off with terminal codes. No meaning hangs on them.
        why: None for the plain page; otherwise names of lines whose reasons are shown below them, all lines if empty.
    """
    pen = Pen(width, colour=colour, why=why)
    return "\n".join(_page(plan, pen)).rstrip() + "\n"


def _page(plan: Plan, pen: Pen) -> Iterator[str]:
    yield pen.ink.heading(f"Compost for {plan.household}")
    for part in sections(plan):
        yield from pen.section(part.title, part.lines, grave=part.grave)
        if part.drawn:
            yield from _layers(plan, pen.width)
    if pen.why is None:
        yield ""
        yield from pen.wrapped(
            "Every line can say why: ask for it by its name, such as --why m1, or --why for all.", "", 0
        )


def _layers(plan: Plan, width: int) -> Iterator[str]:
    """The section of the heap, top first, as it would be seen."""
    if not plan.layers:
        return
    yield ""
    thickest = max(layer.thickness_cm for layer in plan.layers)
    for layer in reversed(plan.layers):
        bar = "=" * max(1, round(18 * layer.thickness_cm / thickest))
        place = {"base": " (base)", "cover": " (cover)", "body": ""}[layer.place]
        lead = f"{' ' * MARGIN}{bar:<18}  {thickness(layer.thickness_cm, plan.units):>6}  "
        room = max(width - len(lead) - len(place), _NAME_AT_LEAST)
        yield f"{lead}{textwrap.shorten(layer.name, room, placeholder=' …')}{place}"
    yield f"{' ' * MARGIN}{'-' * 18}  ground"

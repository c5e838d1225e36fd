"""The heap cut through, with a legend of what lies in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from advisor.papers.grid import cut
from advisor.screens.drawing.section import rows_wanted, section
from advisor.screens.drawing.swatches import swatches
from advisor.screens.painting import painted, style_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from textual.geometry import Size

    from advisor.counsel.plan import Plan
    from advisor.knowledge.base import Knowledge
    from advisor.screens.drawing.swatches import Swatch

_LARGE = 14  # rows for a drawing where the screen is high


class SectionView(Widget):
    """Draws the plan's heap as wide as it is given, and its recipe below as the legend of the drawing."""

    DEFAULT_CSS = """
    SectionView { height: auto; width: 1fr; }
    """

    plan: reactive[Plan | None] = reactive(None, layout=True)
    """What is drawn; nothing if None."""

    large: reactive[bool] = reactive(False, layout=True)
    """Whether there is height to spare."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self.knowledge: Knowledge | None = None
        self._drawn: tuple[int, bool, Content] | None = None

    def watch_plan(self) -> None:
        """Another plan is drawn anew."""
        self._drawn = None

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:  # noqa: ARG002
        """As high as the drawing and its legend."""
        return self._content(width).plain.count("\n") + 1 if self.plan is not None else 0

    def render(self) -> Content:
        """The drawing over its legend."""
        return self._content(self.content_size.width)

    def _content(self, width: int) -> Content:
        if self._drawn is None or self._drawn[:2] != (width, self.large):
            self._drawn = (width, self.large, self._draw(width))
        return self._drawn[2]

    def _draw(self, width: int) -> Content:
        plan = self.plan
        if plan is None:
            return Content("")
        materials = self.knowledge.materials if self.knowledge is not None else {}
        told = swatches(plan, {name: material.role for name, material in materials.items()})
        wanted = rows_wanted(plan)
        rows = max(wanted, _LARGE) if self.large else wanted
        grid = section(plan, told, width, rows) if wanted else None
        parts = [painted(grid)] if grid is not None else []
        return Content("\n").join([*parts, *_legend(plan, told, width)])


def _legend(plan: Plan, told: Mapping[str, Swatch], width: int) -> list[Content]:
    """A line for each material of the recipe, from the top down: its patch, and how much goes in."""
    room = width - 5
    lines = []
    order = {material: place for place, material in enumerate(told)}
    for line in sorted(plan.recipe.lines, key=lambda line: -order[line.material]):
        swatch = told[line.material]
        lines.append(
            Content.assemble((swatch.patch, style_of(swatch.ink)), "  ", _shortened(line.line.text, " (", room))
        )
    if plan.recipe.water is not None and plan.recipe.water_litres >= 1:
        text = _shortened(plan.recipe.water.text, ",", room)
        lines.append(Content.assemble(("≈≈≈", style_of("other-3")), "  ", text))
    return lines


def _shortened(text: str, at: str, width: int) -> str:
    """The text if it fits, otherwise without what comes after a sign, which the plan has in full."""
    return text if len(text) <= width else cut(text.split(at, 1)[0], width)

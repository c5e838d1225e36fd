"""The heap as it now stands."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import Container, Vertical, VerticalScroll
from textual.widgets import Static

from advisor.screens.drawing.scale import SCALE_LEGEND
from advisor.screens.on_hand_rows import stocks
from advisor.screens.widgets.gauge_view import GaugeView
from advisor.screens.widgets.missing_view import MissingView
from advisor.screens.widgets.on_hand import OnHand
from advisor.screens.widgets.section_view import SectionView
from advisor.screens.widgets.standing_view import StandingView

if TYPE_CHECKING:
    from textual.app import ComposeResult
    from textual.events import Resize

    from advisor.counsel.plan import Gauge
    from advisor.screens.desk import State

#: From so many columns the drawing stands beside the figures.
BROAD = 72
#: From so many rows the drawing is larger.
HIGH = 38

#: The order of the figures: what decides most comes first.
_ORDER = ("carbon-nitrogen", "moisture", "volume", "air-space")


class HeapPane(VerticalScroll):
    """The method, the drawing, the figures, what is on hand and what is missing."""

    DEFAULT_CSS = """
    HeapPane {
        width: 1fr;
        padding: 0 1;
        scrollbar-size-vertical: 1;
        & > * { margin-bottom: 1; }
        & > MissingView { margin-bottom: 0; }
        & #both { height: auto; layout: vertical; }
        & #figures { height: auto; width: 1fr; }
        & SectionView { margin-bottom: 1; }
        & #scale-legend { color: $quiet; height: auto; }
        &.-broad #both { layout: horizontal; }
        &.-broad SectionView { width: 1fr; margin: 0 2 0 0; }
    }
    """

    def compose(self) -> ComposeResult:
        """Every part, empty."""
        yield StandingView(id="standing")
        with Container(id="both"):
            yield SectionView(id="section")
            with Vertical(id="figures"):
                for what in _ORDER:
                    yield GaugeView(id=f"gauge-{what}")
                yield Static(SCALE_LEGEND, id="scale-legend", markup=False)
        yield OnHand(id="on-hand")
        yield MissingView(id="missing")

    def on_mount(self) -> None:
        """Nothing is known yet."""
        self.query_one("#both").display = False

    async def show(self, state: State) -> None:
        """Follow what stands now. Parts that stay the same are left alone."""
        plan = state.plan
        standing = self.query_one(StandingView)
        standing.household, standing.plan = state.household, plan
        self.query_one("#both").display = plan is not None
        section = self.query_one(SectionView)
        section.knowledge, section.plan = state.knowledge, plan
        gauges: dict[str, Gauge] = {gauge.what: gauge for gauge in plan.recipe.gauges} if plan is not None else {}
        for what in _ORDER:
            view = self.query_one(f"#gauge-{what}", GaugeView)
            gauge = gauges.get(what)
            view.display = gauge is not None
            view.units, view.gauge = state.units, gauge
        self.query_one("#figures").display = bool(gauges)
        rows = stocks(plan, state.household, state.knowledge) if plan and state.household and state.knowledge else ()
        await self.query_one(OnHand).show(rows)
        self.query_one(MissingView).plan = plan

    def on_resize(self, event: Resize) -> None:
        """Side by side where there is width, a larger drawing where there is height."""
        self.set_class(event.size.width >= BROAD, "-broad")
        self.query_one(SectionView).large = event.size.height >= HIGH - 3

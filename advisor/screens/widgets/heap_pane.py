"""The heap as it now stands."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import Container, Vertical, VerticalScroll
from textual.widgets import Static

from advisor.screens.widgets.standing_view import StandingView

if TYPE_CHECKING:
    from textual.app import ComposeResult
    from textual.events import Resize
    from textual.geometry import Size

    from advisor.counsel.plan import Gauge
    from advisor.screens.desk import State

#: From so many columns the drawing stands beside the figures, unless there is height for both below each other.
BROAD = 72
TALL = 44
#: From so many rows of its own the drawing is larger.
HIGH = 35

#: The order of the figures: what decides most comes first.
_ORDER = ("carbon-nitrogen", "moisture", "volume", "air-space")


class HeapPane(VerticalScroll):
    """The method, the drawing, the figures, what is on hand and what is missing."""

    DEFAULT_CSS = """
    HeapPane {
        width: 1fr;
        padding: 0 1;
        scrollbar-size-vertical: 1;
        scrollbar-gutter: stable;
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

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._furnished = False

    def compose(self) -> ComposeResult:
        """An invitation; the rest comes when there is something to show, so that the first frame need not wait."""
        yield StandingView(id="standing")

    async def furnish(self) -> None:
        """Put in all the parts, out of sight until there is something to show."""
        if self._furnished:
            return
        from advisor.screens.drawing.scale import SCALE_LEGEND
        from advisor.screens.widgets.gauge_view import GaugeView
        from advisor.screens.widgets.missing_view import MissingView
        from advisor.screens.widgets.on_hand import OnHand
        from advisor.screens.widgets.section_view import SectionView

        gauges = [GaugeView(id=f"gauge-{what}") for what in _ORDER]
        legend = Static(SCALE_LEGEND, id="scale-legend", markup=False)
        both = Container(SectionView(id="section"), Vertical(*gauges, legend, id="figures"), id="both")
        both.display = False
        await self.mount(both, OnHand(id="on-hand"), MissingView(id="missing"))
        self._furnished = True
        self._fit(self.size)

    async def show(self, state: State) -> None:
        """Follow what stands now. Parts that stay the same are left alone."""
        self.query_one(StandingView).cure = state.cure
        if not self._furnished and (state.plan is None or state.cure is not None):
            return
        await self.furnish()
        from advisor.screens.on_hand_rows import stocks
        from advisor.screens.widgets.gauge_view import GaugeView
        from advisor.screens.widgets.on_hand import OnHand
        from advisor.screens.widgets.section_view import SectionView

        plan = state.plan if state.cure is None else None  # no recipe for a new heap while this one is ill
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
        self.show_missing(state)

    def show_missing(self, state: State) -> None:
        """Follow what is still missing; until that is worked out anew, what was missing before stays."""
        from advisor.screens.widgets.missing_view import MissingView

        plan = state.plan if state.cure is None else None
        for missing in self.query(MissingView):
            missing.plan = plan
            if state.whole and plan is not None:
                missing.doubts = plan.doubts

    def on_resize(self, event: Resize) -> None:
        """Side by side where there is width, a larger drawing where there is height."""
        self._fit(event.size)

    def _fit(self, size: Size) -> None:
        self.set_class(size.width >= BROAD and size.height < TALL, "-broad")
        if self._furnished:
            from advisor.screens.widgets.section_view import SectionView

            self.query_one(SectionView).large = size.height >= HIGH

"""A figure of the blend in words, over its scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from advisor.screens.drawing.scale import scale
from advisor.screens.painting import painted
from advisor.screens.wording import NAMES, SHORT_NAMES, figures, verdict

if TYPE_CHECKING:
    from textual.geometry import Size

    from advisor.counsel.plan import Gauge
    from advisor.units import Units

_NARROWEST = 8


class GaugeView(Widget):
    """Says a figure with its honest stretch and the window it should lie in, and draws the same below."""

    DEFAULT_CSS = """
    GaugeView { height: auto; width: 1fr; }
    """

    gauge: reactive[Gauge | None] = reactive(None, layout=True)
    """The figure; nothing is shown if None."""

    units: reactive[Units] = reactive("metric", layout=True)
    """Whose units a volume is written in."""

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:  # noqa: ARG002
        """The words, folded to the width, and the scale."""
        return self._content(width).get_height({}, width) if self.gauge is not None else 0

    def render(self) -> Content:
        """The words over the scale."""
        return self._content(self.content_size.width)

    def _content(self, width: int) -> Content:
        gauge = self.gauge
        if gauge is None or width < _NARROWEST:
            return Content("")
        said, shown = verdict(gauge), figures(gauge, self.units)
        style = "bold $success" if gauge.inside else "bold $grave"
        name = NAMES[gauge.what]
        if len(name) + len(shown) + len(said) + 3 > width:
            short = SHORT_NAMES[gauge.what]
            name = short[:1].upper() + short[1:]
        if len(name) + len(shown) + len(said) + 3 <= width:
            words = Content.assemble((name, "bold"), f" {shown}", (f": {said}" if said else "", style))
        else:
            words = Content.assemble((NAMES[gauge.what], "bold"), (f": {said}" if said else "", style), f"\n{shown}")
        return Content("\n").join([words, painted(scale(gauge, width))])

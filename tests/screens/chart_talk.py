"""A talk that answers everything with charts: of a made-up plot, heap and year, never changing."""

from __future__ import annotations

import math
from datetime import date

from frozen import FrozenTalk

from advisor.papers.charts import Chart
from advisor.papers.charts.shapes import (
    Band,
    BedSeason,
    HeatChart,
    HeatLimit,
    HeatReading,
    Mark,
    SeasonsChart,
    Soil,
    Stretch,
    TextureChart,
    TrendChart,
    YearChart,
    YearWeek,
)
from advisor.talk.replies import Reply

TREND = TrendChart(
    "Structure by the spade, 1 to 5",
    "From 4.6 on 2026-03-02 to 2.4 on 2029-03-03, -0.76 a year: getting better.",
    "",
    (
        Mark(date(2026, 3, 2), 4.6),
        Mark(date(2027, 3, 5), 4.2),
        Mark(date(2028, 3, 4), 3.0),
        Mark(date(2029, 3, 3), 2.4),
    ),
    -0.76,
    "better",
    (Band("good", 3), Band("fair", 4), Band("poor", None)),
)
TEXTURE = TextureChart(
    "Texture of the soil",
    "The soil lies in the field of clay loam, and lay in that of clay before.",
    (
        Soil(17, 33, 50, "clay", "2026-03-02", earlier=True),
        Soil(28, 36, 36, "clay-loam", "2029-03-03"),
    ),
)
CALENDAR = SeasonsChart(
    "Calendar of year 1",
    "Free of frost from 2026-04-20 to 2026-10-15. the plot: check, compost, sow, cut, cover.",
    1,
    date(2026, 4, 20),
    date(2026, 10, 15),
    (
        BedSeason(
            "the plot",
            (
                Stretch("check", date(2026, 3, 2), date(2026, 3, 9)),
                Stretch("spread", date(2026, 3, 2), date(2026, 3, 9)),
                Stretch("sow", date(2026, 3, 9), date(2026, 5, 18)),
                Stretch("cut", date(2026, 4, 23), date(2026, 5, 8)),
                Stretch("cover", date(2026, 10, 15), date(2027, 4, 20)),
            ),
        ),
    ),
)
HEAT = HeatChart(
    "Heat of the heap, as recorded",
    "Hottest on day 6, with 66 °C; 6 of 9 readings at 55 °C or more.",
    tuple(HeatReading(day, 66 - (day - 6) ** 2) for day in (1, 2, 3, 4, 5, 6, 7, 8, 9)),
    (3, 7),
    (HeatLimit(55, "sanitising heat"),),
    "metric",
)
_MONTHS = ("Sep", "Oct", "Nov", "Dec", "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug")
YEAR = YearChart(
    "The year by the week",
    "Most in store: 1.6 m³, in Dec. Most in the heap: 650 L, in Nov.",
    tuple(
        YearWeek(_MONTHS[week * 12 // 52], 1 + week // 14, max(0.0, 1600 * math.sin(week / 17)), week % 14 * 50, 60)
        for week in range(52)
    ),
    1800,
    700,
    "metric",
)
CHARTS: dict[str, Chart] = {"trend": TREND, "texture": TEXTURE, "calendar": CALENDAR, "heat": HEAT, "year": YEAR}


class ChartTalk(FrozenTalk):
    """Named a chart, it shows it; named several, it shows them one below the other."""

    def hear(self, text: str) -> tuple[Reply, ...]:
        """The charts that are named."""
        named = tuple(chart for name, chart in CHARTS.items() if name in text)
        return (Reply("answer", "Here is how it went.", charts=named),)

"""Services about a heap: its plan, its mix, its year, its heat and its troubles."""

from __future__ import annotations

from advisor.services.shapes import Parameter, Service

PLAN = Service(
    "plan",
    "a method, a recipe and a plan for a household",
    "six-hens",
    takes="all",
    dated=True,
    answered="advisor.counsel.plan:Plan",
)

BLEND = Service(
    "blend",
    "the C:N, moisture, air and weight of exactly this mix, and what to add to it",
    "--have '3 buckets grass clippings, 1 bucket sawdust'",
)

_YEAR = (
    Parameter(
        "comes",
        form="LIST",
        tells="what comes in from month to month: 'Apr-Oct: 3 buckets grass clippings a week'; as often as it changes",
        read="arrivals",
        many="times",
        known="arrivals_known",
        part="arrivals",
        example="Apr-Oct: 3 buckets grass clippings a week",
    ),
    Parameter(
        "storage",
        form="VOLUME",
        tells="dry room for what keeps: '10 sacks', '1200 L'",
        read="room",
        ask="How much dry room is there for what keeps, such as leaves in sacks? As in 10 sacks or 1200 L.",
        why="What is put by in autumn feeds the heap through the summer.",
        known="storage_known",
        heard="volume_heard",
        example="10 sacks",
    ),
    Parameter(
        "bays",
        form="NUMBER",
        tells="how many bins, bays or heaps can be filled in turn",
        read="bays",
        ask="How many bins, bays or heaps can be filled in turn?",
        why="While one ripens, another is fed.",
        known="storage_known",
        loose=True,
        example="2",
    ),
    Parameter(
        "use-all",
        tells="use up all that spoils, even if a batch goes wrong by it",
        flag=True,
        ask="If not all of it can go in and stay right, what gives way?",
        why="Too much grass at once makes a stinking heap; what is left out can dry, or lie as a mulch.",
        offered={"no": "what is too much: leave it out", "yes": "the balance: use it all up"},
        example="yes",
    ),
    Parameter("weeks", tells="a table of all its weeks as well", flag=True, page=True, example="yes"),
)

YEAR = Service(
    "year",
    "plan a year: what to put by, what to add each week, which batch starts when",
    "terrace-through-the-year",
    takes="all",
    for_instance="3 buckets grass clippings a week",
    parameters=_YEAR,
    dated=True,
    answered="advisor.counsel.almanac:Almanac",
    page="advisor.papers.almanac:almanac_page",
    door="year",
    opening="A year, then. Store what keeps, and mix it with what comes in each week.",
    menu="more",
    offer="plan a year of it, week by week",
    label="Plan a year",
    tells="what to put by, and what goes in when",
    say="plan a year",
)

_PACES = (
    Parameter(
        "stock",
        "",
        "",
        read="stock",
        ask="What is there for a heap? As in 8 sacks of leaves, 10 buckets of grass.",
        why="Both heaps are mixed from it.",
        known="stock_known",
        needed="what there is",
        example="8 sacks leaves, 10 buckets grass",
    ),
)

PACES = Service(
    "paces",
    "the quick heap beside the slow one: mix, work, wait, and which suits",
    "goats-and-a-pony",
    takes="all",
    parameters=_PACES,
    answered="advisor.counsel.pace:Paces",
    door="paces",
    opening="A quick heap beside a slow one, then.",
    menu="more",
    offer="a quick heap beside a slow one: which suits me?",
    label="Quick or slow",
    tells="a quick heap beside a slow one",
    say="compare quick and slow",
)

HEAT = Service(
    "heat",
    "how hot a heap can get, when and for how long, and what its readings mean",
    "six-hens",
    door="heat",
    opening="How hot it can get, then.",
    menu="more",
    offer="how hot my heap can get, and when",
    label="Heat",
    tells="how hot the heap can get, and when",
    say="forecast",
)

DIAGNOSE = Service(
    "diagnose",
    "what is wrong with a heap, a worm bin or a bucket, and the cure",
    "--signs 'stinks of ammonia, slimy, flies'",
)

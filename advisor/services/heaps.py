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

_SAMPLE = "one sample, instead of a mix"

_BLEND = (
    Parameter(
        "parts",
        form="LIST",
        tells="the mix in parts: '3 parts grass, 1 part sawdust'",
        read="parts",
        ask="What is in the mix? As in 3 parts grass, 1 part sawdust.",
        why="Its figures are worked out from exactly that.",
        known="stock_known",
        example="3 parts grass, 1 part sawdust",
    ),
    Parameter(
        "by",
        tells="what the parts are",
        usual="volume",
        ask="What are the parts?",
        why="A bucket of fresh grass weighs several times as much as a bucket of dry leaves.",
        offered={"volume": "by volume", "weight": "by weight"},
        known="parts_by",
        example="weight",
    ),
    Parameter("cn", form="RATIO", tells="a C:N to come to (30 where it matters)", read="ratio", example="28"),
    Parameter("moisture", form="PERCENT", tells="a moisture to come to (60)", read="moisture_goal", example="55"),
    Parameter(
        "add",
        form="NAMES",
        tells="what to add for that: 'sawdust' or 'straw, dry leaves'",
        read="materials",
        ask="What could be added to bring it right? As in sawdust, or straw and dry leaves.",
        why="How much of each is worked out for C:N and moisture.",
        offered={"sawdust": "sawdust", "straw": "straw", "dry-leaves": "dry leaves"},
        nothing="nothing: its figures as it is",
        example="straw, dry leaves",
    ),
    Parameter(
        "fill",
        form="SIZE",
        tells="a container to fill with the mix: '300 L'",
        read="container",
        ask="What room is to be filled with it? As in 300 L, or 1 m3.",
        why="So much of each goes in.",
        heard="volume_heard",
        loose=True,
        example="300 L",
    ),
    Parameter(
        "dried",
        form="WET,DRY,DISH",
        tells="grams before and after drying, and of the dish",
        group=_SAMPLE,
        read="grams",
        example="14,6.3,4",
    ),
    Parameter(
        "weighed",
        form="FULL,EMPTY,LITRES",
        tells="kg of a bucket full and empty, and its litres",
        group=_SAMPLE,
        read="bucket",
        example="10,1,20",
    ),
)

BLEND = Service(
    "blend",
    "the C:N, moisture, air and weight of exactly this mix, and what to add to it",
    "--have '3 buckets grass clippings, 1 bucket sawdust'",
    takes="mix",
    about_file="a household whose whole stock is taken as the mix",
    for_instance="3 buckets grass clippings, 1 sack straw",
    parameters=_BLEND,
    answered="advisor.counsel.own_mix_shapes:OwnMix",
    door="blend",
    opening="A mix of your own, then: its C:N, moisture, air and weight.",
    menu="more",
    offer="the C:N, moisture, air and weight of exactly my mix",
    label="Figures of a mix",
    tells="the C:N and moisture of exactly what you mix",
    say="work out the figures of my mix",
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
        read="storage",
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
    diary="stores",
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

#: What there is for a heap, where the household has told nothing of it.
_STOCK = Parameter(
    "stock",
    read="stock",
    ask="What is there for a heap? As in 8 sacks of leaves, 10 buckets of grass.",
    why="All of it is worked out from what goes in, and how much.",
    known="stock_known",
    needed="what there is",
    example="8 sacks leaves, 10 buckets grass",
)

PACES = Service(
    "paces",
    "the quick heap beside the slow one: mix, work, wait, and which suits",
    "goats-and-a-pony",
    takes="all",
    parameters=(_STOCK,),
    answered="advisor.counsel.pace:Paces",
    door="paces",
    opening="A quick heap beside a slow one, then.",
    menu="more",
    offer="a quick heap beside a slow one: which suits me?",
    label="Quick or slow",
    tells="a quick heap beside a slow one",
    say="compare quick and slow",
)

_HEAP, _AIR, _READ = "the heap", "the air", "what was read"

_HEAT = (
    _STOCK,
    Parameter(
        "litres",
        form="SIZE",
        tells="how big, of the same mix: 600 (litres), '1 m3' (all that is told)",
        group=_HEAP,
        read="volume",
        example="1 m3",
    ),
    Parameter(
        "moisture",
        form="PERCENT",
        tells="it is watered to this moisture (58); 0: not watered",
        group=_HEAP,
        read="percent",
        example="60",
    ),
    Parameter(
        "insulated",
        form="THICKNESS",
        tells="foam, or something as good, around it: '5 cm'",
        group=_HEAP,
        read="thickness",
        example="5 cm",
    ),
    Parameter(
        "fed",
        form="TIME",
        tells="how long it took to fill, bit by bit: '8 weeks'",
        group=_HEAP,
        read="weeks",
        example="8 weeks",
    ),
    Parameter(
        "turned",
        form="DAYS",
        tells="days on which it was or will be turned: '4 8 12'",
        group=_HEAP,
        read="days_since",
        example="4 8 12",
    ),
    Parameter("unturned", tells="it will not be turned again", group=_HEAP, flag=True, example="yes"),
    Parameter(
        "month",
        form="MONTH",
        tells="when it is built: January (now, if the household has no start or season)",
        group=_AIR,
        read="month_named",
        example="January",
    ),
    Parameter(
        "like", form="PLACE", tells="a climate by name or place: oceanic, London, desert", group=_AIR, example="London"
    ),
    Parameter(
        "latitude", form="DEGREES", tells="north; south with a minus", group=_AIR, read="latitude", example="-40"
    ),
    Parameter(
        "monthly",
        form="FIGURES",
        tells="twelve mean temperatures, January first, with commas",
        group=_AIR,
        read="twelve_months",
        example="5,5,7,10,13,16,18,18,15,12,8,6",
    ),
    Parameter(
        "air",
        form="HEAT",
        tells="the air if it stays the same all the time: '20 C'",
        group=_AIR,
        read="air",
        example="20 C",
    ),
    Parameter(
        "readings",
        form="LOG",
        tells="'days=1 2 3 degrees=40 58 61'; and turned=2 if it was",
        group=_READ,
        read="heat_log",
        part="readings",
        example="days=1 2 3 degrees=40 58 61",
    ),
)

HEAT = Service(
    "heat",
    "how hot a heap can get, when and for how long, and what its readings mean",
    "six-hens",
    takes="all",
    parameters=_HEAT,
    answered="advisor.counsel.heat_shapes:HeatAnswer",
    door="heat",
    opening="How hot it can get, then.",
    menu="more",
    offer="how hot my heap can get, and when",
    label="Heat",
    tells="how hot the heap can get, and when",
    say="forecast",
)

_DIAGNOSE = (
    Parameter(
        "signs",
        form="WORDS",
        tells="what you see, smell and feel: 'stinks of ammonia, slimy, flies'",
        read="signs",
        needed="what you see",
        example="it stinks of rotten eggs and is slimy",
    ),
    Parameter(
        "heap",
        form="LIST",
        tells="what went in: '6 buckets grass, 1 sack dry leaves'",
        read="stock",
        example="6 buckets grass, 1 sack dry leaves",
    ),
)

DIAGNOSE = Service(
    "diagnose",
    "what is wrong with a heap, a worm bin or a bucket, and the cure",
    "--signs 'stinks of ammonia, slimy, flies'",
    takes="file",
    about_file="a household file: what is on hand, and what went in unless --heap says",
    parameters=_DIAGNOSE,
    diary="batch",
    dated=True,
    answered="advisor.diagnosis.shapes:Diagnosis",
)

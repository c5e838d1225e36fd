"""Services about what goes in and what animals and people leave."""

from __future__ import annotations

from advisor.services.shapes import Parameter, Service

KITCHEN_SPACES = ("flat", "balcony", "paved-yard", "small-garden", "garden")

_KITCHEN = (
    Parameter(
        "people",
        "NUMBER",
        "how many eat at home",
        read="people",
        ask="For how many people is there cooking at home?",
        why="The amount of scraps is worked out for each person, from published surveys.",
        needed="how many people",
        example="3",
        loose=True,
    ),
    Parameter(
        "space",
        "",
        "where they live",
        usual="balcony",
        ask="What space is there?",
        why="Without soil to dig, bucket and worms finish in tubs.",
        offered=dict.fromkeys(KITCHEN_SPACES, ""),
        words_of="place.space",
        known="space_known",
        example="flat",
    ),
)

KITCHEN = Service(
    "kitchen",
    "what a household's scraps give in a year: buckets, worms, comfrey, pots",
    "--people 3",
    takes="file",
    about_file="a household whose own scraps and vessels are taken",
    parameters=_KITCHEN,
    alone=True,
    answered="advisor.counsel.kitchen_shapes:Kitchen",
    door="kitchen",
    opening="What a kitchen gives in a year, then.",
    menu="more",
    offer="what our scraps give in a year, in a flat or on a balcony",
    label="Kitchen",
    tells="what scraps give in a flat",
    say="what do our scraps come to",
)

_SUBSTITUTES = (
    Parameter(
        "for",
        "LIST",
        "how much manure it would have been: '2 barrows horse manure'",
        read="manure",
        ask="How much manure would it have been? As in 2 barrows of horse manure; “I don't know” takes that.",
        why="What you use instead must bring as much nitrogen.",
        known="manure_in_words",
        needed="how much manure it would have been",
        unknown="2 barrows horse manure",
        example="2 barrows horse manure",
    ),
    Parameter(
        "season",
        "",
        "the season, for what can be gathered then",
        ask="For which season?",
        why="Grass does not grow in winter, and leaves do not fall in May.",
        offered={name: name for name in ("spring", "summer", "autumn", "winter")},
        known="season_known",
        example="summer",
    ),
    Parameter("month", "NUMBER", "1 to 12, north of the equator; in the south say --season", read="month", example="5"),
)

SUBSTITUTES = Service(
    "substitutes",
    "what to use where there is no manure",
    "--for '2 barrows horse manure'",
    takes="file",
    about_file="a household; what it has is used first",
    parameters=_SUBSTITUTES,
    apart=(("season", "month"),),
    answered="advisor.counsel.stead:Substitutes",
    door="instead",
    opening="Then let us see what brings as much nitrogen.",
    menu="more",
    offer="what can replace that much manure",
    label="Instead of manure",
    tells="what brings as much nitrogen",
    say="manure substitute",
)

_BEDDING = (
    Parameter(
        "animals",
        "LIST",
        "'6 hens', '2 goats of 60 kg and 1 pony'",
        read="herds",
        ask="Which animals, and how many? As in 6 hens, or 2 goats of 60 kg and 1 pony.",
        why="Their dung and urine say how much bedding it takes.",
        needed="which animals",
        example="6 hens",
    ),
    Parameter(
        "weeks",
        "TIME",
        "how long they are on it: 20, '6 months'",
        read="weeks_on_bedding",
        usual="26",
        ask="For how many weeks are they on it? “I don't know” takes a winter of 26.",
        why="The bed grows with every week.",
        loose=True,
        example="half a year",
    ),
    Parameter(
        "indoors",
        "PERCENT",
        "how much of the day they are indoors, in percent",
        read="share",
        usual="100",
        ask="How much of the day are they in?",
        why="Only what falls indoors is bedded.",
        offered={"100": "all day and night", "60": "nights only, some 14 hours", "33": "a third of the day or less"},
        example="60",
    ),
    Parameter(
        "floor",
        "AREA",
        "floor of the house: 12 (m2; sq ft with --units us), '3 x 4 m'",
        read="floor",
        example="3 x 4 m",
    ),
    Parameter(
        "aim",
        "",
        "how the heap made of it should work in spring",
        usual="steady",
        ask="How should the heap made of it work in spring?",
        why="A quick heap needs less bedding for the dung than a slow one.",
        offered={
            "steady": "steadily, some months",
            "quick": "hot and quick",
            "fungal": "slowly, for a fungus-rich compost",
        },
        example="fungal",
    ),
    Parameter(
        "longest",
        "LENGTH",
        "how long a row can be at most: 6 (m; ft with --units us), '20 ft'",
        read="longest_row",
        example="6",
    ),
)

BEDDING = Service(
    "bedding",
    "deep bedding for animals: how much, how deep, and the rows it makes",
    "--animals '6 hens'",
    takes="file or stock",
    for_instance="20 sacks dry leaves",
    about_file="a household; its browns are the bedding",
    parameters=_BEDDING,
    answered="advisor.counsel.deep_bed:DeepBed",
    door="animals",
    opening="Animals and their bedding, then.",
    menu="more",
    offer="a deep bed for animals, and the rows it makes",
    label="Bed animals",
    tells="a deep bed, and the rows it makes",
    say="deep bedding",
)

_ADDITIONS = (
    Parameter(
        "litres",
        "VOLUME",
        "the size of the heap, if it differs from the plan: 600 (litres), '1 m3', '8 barrows'",
        read="volume",
        ask="How big is the heap? As in 1 m3, 300 L or 10 barrows; “I don't know” takes a cubic metre.",
        why="Ash, clay and lime are capped by its size.",
        known="size_known",
        heard="volume_heard",
        example="8 barrows",
    ),
)

ADDITIONS = Service(
    "additions",
    "herbs, starters and minerals for a heap: how much, and how good the evidence is",
    "goats-and-a-pony",
    takes="file or stock",
    for_instance="20 sacks dry leaves",
    about_file="a household; its plan says how large the heap is",
    parameters=_ADDITIONS,
    answered="advisor.counsel.additions:Additions",
    door="handfuls",
    opening="By the handful, then: herbs, starters and minerals.",
    menu="more",
    offer="what can be added by the handful: herbs, ash, lime, clay",
    label="By the handful",
    tells="herbs, ash, lime and clay",
    say="by the handful",
)

"""Services about finished compost and the soil it goes to."""

from __future__ import annotations

from advisor.services.shapes import Service

READY = Service(
    "ready",
    "whether compost is ready, for what, and what its heat was",
    "--smell earthy --looks crumbly --reheats no",
    door="ready",
    opening="Whether it is ready, then. Look at it and smell it.",
    menu="soil",
    offer="is my compost ready, and for what?",
    label="Is it ready",
    tells="whether compost is ready, and for what",
    say="is my compost ready",
)

SPREAD = Service(
    "spread",
    "how much finished compost goes where, what it brings, and what to gather for it",
    "--bed 'A, 10 m2' --have '60 L'",
    takes="beds",
    door="spread",
    opening="How much goes where, then: bed by bed.",
    menu="soil",
    offer="how much compost goes on which bed?",
    label="Spread compost",
    tells="how much goes on which bed",
    say="how much compost should I spread",
)

SOIL = Service(
    "soil",
    "checks of the soil: how to do them, what they show, and whether it is getting better",
    "--check 'spade scores=2 4 depths=10 15 cm'",
    takes="a bed",
    door="check",
    opening="A check of the soil, then.",
    menu="soil",
    offer="check the soil, step by step",
    label="Check the soil",
    tells="checks of the soil, step by step",
    say="check my soil",
)

TRENDS = Service(
    "",
    "how the checks that are kept go over the years",
    door="trends",
    opening="How the checks in your diary go, then.",
    menu="soil",
    offer="how are the checks in my diary going?",
    label="Diary",
    tells="how the checks in your diary go",
    say="my diary",
)

SEASONS = Service(
    "seasons",
    "rebuilding a spent soil, as a calendar of sowing, cutting, compost and crops",
    "--bed 'A, 5 m2' --last-frost 04-20 --first-frost 10-10",
    takes="beds",
    door="seasons",
    opening="Rebuilding a soil, then, season by season.",
    menu="soil",
    offer="rebuild a spent soil, season by season",
    label="Rebuild the soil",
    tells="a spent soil, season by season",
    say="rebuild my soil",
)

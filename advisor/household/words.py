"""The words in which people give amounts, as data.

Spreads are (low, typical, high). None has a publication behind it: they are our own estimates of what people
mean, kept wide on purpose, so that a vague word widens every figure computed from it.

Keys are tuples of words without capitals and accents. Units and periods are in the singular; all else is as said.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, Literal

from advisor import units
from advisor.household import measuring
from advisor.household.measuring import Key
from advisor.household.measuring import phrases as phrases
from advisor.household.shapes import Per

Spread = tuple[float, float, float]


def _each(meanings: Mapping[str, Spread]) -> dict[Key, Spread]:
    return {phrase: spread for listed, spread in meanings.items() for phrase in phrases(listed)}


def _numbered(listed: str, start: int, step: float) -> dict[str, float]:
    return {word: step * value for value, word in enumerate(listed.split(), start)}


# ---------------------------------------------------------------- numbers

ONES: Final[Mapping[str, float]] = _numbered(
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen",
    0,
    1.0,
)
TENS: Final[Mapping[str, float]] = _numbered("twenty thirty forty fifty sixty seventy eighty ninety", 2, 10.0)
MULTIPLES: Final[Mapping[str, float]] = {"dozen": 12.0, "hundred": 100.0, "thousand": 1000.0}
PARTS: Final[Mapping[str, float]] = {"half": 1 / 2, "third": 1 / 3, "quarter": 1 / 4, "fifth": 1 / 5}
ARTICLES: Final = frozenset({"a", "an"})

#: What may stand between a part and what it is a part of: "half of a sack", "three quarters of the bucket".
PART_LINKS: Final = frozenset({"of", "a", "an", "the", "one"})

#: Words before a number that loosen it, as factors on it.
LOOSENED: Final[Mapping[Key, Spread]] = _each(
    {
        "about, around, roughly, approximately, approx, circa, ca, c, maybe, perhaps, say, probably,"
        "something like, more or less, ~, ≈": (0.8, 1.0, 1.25),
        "nearly, almost, just under, a bit under, a little under, not quite, close to": (0.85, 0.95, 1.0),
        "just over, a little over, a bit over, a little more than, a bit more than, a good": (1.0, 1.1, 1.25),
        "over, more than, at least, upwards of, above, >, ≥": (1.0, 1.2, 1.6),
        "up to, at most, no more than, not more than, under, less than, below, <, ≤, a maximum of, maximum,max": (
            0.5,
            0.8,
            1.0,
        ),
        "exactly, precisely, another, only, just": (1.0, 1.0, 1.0),
    }
)

#: Words after a number that loosen it.
LOOSENED_AFTER: Final[Mapping[Key, Spread]] = _each(
    {
        "or so, ish, give or take, more or less": (0.8, 1.0, 1.25),
        "+, or more, and more": (1.0, 1.2, 1.6),
        "or less, or fewer": (0.5, 0.8, 1.0),
    }
)

#: Words in place of a number, before a measure.
VAGUE_COUNTS: Final[Mapping[Key, Spread]] = _each(
    {
        "a couple, couple, a pair": (2.0, 2.0, 3.0),
        "a few, few, quite a few": (2.0, 3.0, 5.0),
        "several, a number of, various": (3.0, 5.0, 8.0),
        "some, any": (1.0, 3.0, 6.0),
        "lots, a lot, many, a good many, plenty, loads, heaps, masses, tons, a bunch": (4.0, 8.0, 20.0),
        "dozens": (24.0, 36.0, 60.0),
        "hundreds": (200.0, 300.0, 900.0),
        "most of": (0.6, 0.8, 0.95),
        "part of": (0.2, 0.5, 0.8),
    }
)

#: Measures named in the plural without a number: "sacks of leaves".
BARE_PLURAL: Final[Spread] = (2.0, 3.0, 6.0)

#: Words that stand for an amount where no measure is named, in litres.
VAGUE_LITRES: Final[Mapping[Key, Spread]] = _each(
    {
        "lots, a lot, a whole lot, quite a lot, plenty, loads, a load, a whole load, heaps, tons, tonnes, masses,"
        "much, too much, so much, a great deal, a good deal, a large amount, a pile, a big pile, a heap,"
        "a big heap, piles, a mountain, a mound, heap of, pile of, load of, mountain of, mound of, a great heap,"
        "a huge pile, a huge heap, a large pile, a large heap, a whole pile, a whole heap, a good pile": (
            100.0,
            300.0,
            1200.0,
        ),
        "some, a fair bit, quite a bit, a fair amount": (5.0, 25.0, 100.0),
        "a stack, a big stack, a stash, stack of, stacks, a supply, a good supply, a big lot, a fair few": (
            10.0,
            40.0,
            200.0,
        ),
        "a bit, a wee bit, a tiny bit, a wee pile, a tad, a smidgen, bit of, a small stack,"
        "a little, a little bit, little, not much, a small amount, a small pile, a little pile,"
        "a small heap, a little heap": (0.5, 3.0, 12.0),
        "hardly any, a touch, a dash, a pinch, a trace": (0.0, 0.5, 2.0),
    }
)

#: Words for none at all.
NOTHING: Final[Mapping[Key, bool]] = dict.fromkeys(
    phrases("no, none, nothing, without, without any, not any, nil, out of"), True
)

MINUS: Final = frozenset({"minus", "negative"})
TIMES: Final = frozenset({"x", "×", "*", "✕", "✖"})

# ---------------------------------------------------------------- how full, how big, how pressed

#: Words between number and measure that change its size, as factors on it.
SIZES: Final[Mapping[Key, Spread]] = _each(
    {
        "big, large, good sized, generous, jumbo, large sized": (1.0, 1.25, 1.6),
        "huge, giant, enormous, massive, extra large": (1.2, 1.6, 2.5),
        "small, little, smallish, small sized, mini": (0.5, 0.75, 1.0),
        "tiny, wee": (0.3, 0.5, 0.8),
        "heaped, heaping, heaped up, overflowing, brimming, piled": (1.05, 1.2, 1.4),
        "full, level, medium, ordinary, normal, standard, medium sized, whole, regular, average, usual, filled,plain": (
            1.0,
            1.0,
            1.0,
        ),
        "half, half full, half filled, half empty": (0.4, 0.5, 0.6),
        "quarter full, quarter filled, nearly empty, almost empty": (0.15, 0.25, 0.35),
        "nearly full, almost full, mostly full": (0.75, 0.85, 0.95),
    }
)

#: Words that say whether the stuff is pressed down.
PACKING: Final[Mapping[Key, bool]] = {
    **dict.fromkeys(
        phrases(
            "packed, well packed, tightly packed, packed down, packed tight, packed full, tight packed, compacted,"
            "stuffed, tightly stuffed, stuffed full, tightly filled, crammed, jammed, rammed, pressed,"
            "pressed down, trodden, trodden down, squashed, squashed down"
        ),
        True,
    ),
    **dict.fromkeys(phrases("loose, loosely packed, loosely filled, lightly packed, lightly filled, fluffy"), False),
}

#: Words that may follow a measure and add nothing: "a bucket load", "a barrow full".
AFTER_MEASURE: Final = frozenset({"load", "full", "worth"})

#: Containers that tell nothing by themselves, but do with a size: "a 240 L bin".
CONTAINERS: Final = frozenset(
    {"bin", "container", "pack", "packet", "can", "tin", "drum", "barrel", "tank", "roll", "block", "carton", "pot"}
)

#: Endings by which a measure becomes an amount: "bucketful", "barrowload".
MEASURE_ENDINGS: Final = ("ful", "full", "load")

OF: Final = frozenset({"of", "o'", "with"})

# ---------------------------------------------------------------- exact units

Dimension = Literal["L", "kg"]


def _spelled(table: Mapping[Key, float], dimension: Dimension) -> dict[Key, tuple[Dimension, Spread]]:
    return {phrase: (dimension, (worth, worth, worth)) for phrase, worth in table.items()}


#: Exact units: dimension, and the worth in litres or kilograms. A bare "ton" may be short, metric or long.
EXACT: Final[Mapping[Key, tuple[Dimension, Spread]]] = {
    **_spelled(measuring.LITRES, "L"),
    **_spelled(measuring.KILOGRAMS, "kg"),
    ("ton",): ("kg", (units.SHORT_TON_KG, 1000.0, units.LONG_TON_KG)),
}

#: Those of length that are words of nothing else.
_LENGTHS: Final = (
    measuring.METRES.keys() - measuring.LITRES.keys() - phrases("pace, step, stride, ', ′, ’, \", ″, ”, mtr")
)

#: Units of something else, to be refused by name.
OTHER_UNITS: Final[Mapping[Key, str]] = {
    **dict.fromkeys((*measuring.SQUARE_METRES, ("cm2",)), "an area"),
    **dict.fromkeys(_LENGTHS, "a length"),
    **dict.fromkeys((key for key in measuring.DAYS if len(key[0]) > 3 and key != ("second",)), "a time"),
    **dict.fromkeys((*measuring.DEGREES, ("°",), ("degree",)), "a temperature"),
    **dict.fromkeys(phrases("%, percent, per cent"), "a share"),
    **dict.fromkeys(phrases("$, €, £, dollar, euro"), "money"),
    **dict.fromkeys(phrases("watt, kw, kwh, volt"), "electricity"),
}

# ---------------------------------------------------------------- how often

#: A span of time as so many of a period that households count in; a year and a season as none, for what comes
#: once a year comes all at once.
PERIODS: Final[Mapping[str, tuple[Per, float] | None]] = {
    "day": ("day", 1.0),
    "morning": ("day", 1.0),
    "evening": ("day", 1.0),
    "night": ("day", 1.0),
    "week": ("week", 1.0),
    "wk": ("week", 1.0),
    "weekend": ("week", 1.0),
    "fortnight": ("week", 2.0),
    "month": ("month", 1.0),
    "mo": ("month", 1.0),
    "mth": ("month", 1.0),
    "quarter": ("month", 3.0),
    "year": None,
    "yr": None,
    "season": None,
    "spring": None,
    "summer": None,
    "autumn": None,
    "winter": None,
    "fall": None,
}
ADVERBS: Final[Mapping[str, tuple[Per, float] | None]] = {
    "daily": ("day", 1.0),
    "nightly": ("day", 1.0),
    "weekly": ("week", 1.0),
    "fortnightly": ("week", 2.0),
    "monthly": ("month", 1.0),
    "yearly": None,
    "annually": None,
}

#: Words before a period. Those of the second set can stand before a number or a season too: "every 3 days".
EACH: Final = frozenset({"a", "an", "one", "per", "each", "every", "/"})
EVERY: Final = frozenset({"per", "each", "every", "/"})
OTHER: Final = frozenset({"other", "second"})
OFTEN: Final[Mapping[str, float]] = {"once": 1.0, "twice": 2.0, "thrice": 3.0}

# ---------------------------------------------------------------- small talk around an amount

#: Words that may open a phrase and say nothing about the material.
OPENING: Final = frozenset(
    word
    for (word,) in phrases(
        "i,we,you,he,she,they,it,there,have,has,had,got,get,gets,getting,is,are,was,were,am,be,i've,we've,i'd,we'd,"
        "i'm,they've,there's,it's,that's,can,could,would,will,need,want,and,plus,also,then,so,well,ok,okay,yes,"
        "please,with,for,to,at,home,some,produce,produces,make,makes,collect,collects,bring,brings,about,from,"
        "hello,hi,currently,now,today,already,usually,normally,only,just,both,still"
    )
)

#: Words that may close one.
CLOSING: Final = phrases(
    "now, today, already, currently, please, here, too, also, altogether, in total, on hand, to hand, at hand,"
    "at the moment, so far, right now, and, or, plus, then, to spare, at home, at present, in all, as well,"
    "available, in stock"
)

#: Names of the trade that hold an "and"; those of the rule base are added to them.
JOINED_NAMES: Final = phrases("hoof and horn, blood and bone, fish and bone")

#: Words, beside "and" and "plus", that part the items of a list.
PARTING: Final = phrases("and, plus, as well as, along with, together with, and also")

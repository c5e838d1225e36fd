"""Troubles of drums, worm bins, buckets, beds and guests that people fear: the cause is first, and the cure fits.

Common practice, no source, unless a line says otherwise.
"""

from __future__ import annotations

import pytest

from advisor.diagnosis.diagnose import diagnose, shipped_diagnosis_engine
from advisor.knowledge.conditions import Value
from advisor.knowledge.load import shipped

WORMS, DRUM, BUCKET, HEAP = "worm-bin", "tumbler", "fermented-bucket", "open-heap"


@pytest.mark.parametrize(
    ("method", "signs", "cause", "cure"),
    [
        # Worm troubleshooting table, San Mateo County recycling programme (through a summary)
        (WORMS, {"moisture": ("dry",), "animals": ("ants",)}, "too-dry", "damp-bedding"),
        (WORMS, {"animals": ("mites",), "feeding": ("heavy",)}, "worms-overfed", "stop-feeding"),
        (WORMS, {"animals": ("worms-crowded",)}, "worms-crowded", "more-room-for-worms"),
        (WORMS, {"animals": ("worms-fleeing",), "worms": ("new",)}, "worms-settling", "light-on-worms"),
        (WORMS, {"smell": ("ammonia",), "holds": ("no-browns",)}, "too-rich", "fresh-bedding"),
        (WORMS, {"holds": ("ferment",)}, "worms-sour", "handful-of-ferment"),
        # Tumbler gone to mush or to twigs: five tips, a collection of gardening articles, 2016 (through a summary)
        (DRUM, {"built": ("without-end",), "smell": ("foul",)}, "never-closed", "close-the-batch"),
        (DRUM, {"texture": ("clumped",), "moisture": ("wet",)}, "too-wet", "fork-in-browns"),
        (DRUM, {"warmth": ("warm-core",)}, "too-small", "fill-the-drum"),
        (DRUM, {"weather": ("freezing",), "progress": ("nothing",)}, "cold-weather", "warm-the-drum"),
        (DRUM, {"animals": ("rats",)}, "exposed-scraps", "latch-the-drum"),
        # First buckets that failed: two case reports, 2008 and 2019 (through a summary)
        (BUCKET, {"smell": ("foul",), "holds": ("meat",), "stage": ("filling",)}, "bucket-meat", "bucket-meat-later"),
        (
            BUCKET,
            {"smell": ("sour",), "looks": ("coloured-mould",), "extent": ("specks",)},
            "bucket-sour-smell",
            "bucket-carry-on",
        ),
        (BUCKET, {"animals": ("soldier-fly-larvae",), "stage": ("buried",)}, "soldier-flies", "leave-be"),
        (BUCKET, {"looks": ("unchanged",), "stage": ("closed",)}, "bucket-unchanged", "bury-bucket"),
        (HEAP, {"animals": ("jumping-worms",)}, "jumping-worms", "jumping-worms-stay"),
        (HEAP, {"animals": ("stinging-ants",)}, "stinging-ants", "report-the-ants"),
        (HEAP, {"animals": ("cockroaches",)}, "roaches", "leave-be"),
        (HEAP, {"animals": ("snakes",)}, "nesting", "let-them-be"),
        (HEAP, {"looks": ("slime-mould",), "moisture": ("wet",)}, "fungi", "mould-aside"),
        (HEAP, {"place": ("puddle",), "moisture": ("wet",)}, "poor-drainage", "raise-it"),
        (HEAP, {"place": ("bed",), "holds": ("dug-in-wood",)}, "wood-in-soil", "mulch-with-wood"),
        (HEAP, {"holds": ("leaf-spot",)}, "leaf-spot", "leaf-spot-out"),
        (HEAP, {"holds": ("blighted-plants",), "heat_before": ("never-hot",)}, "root-disease", "out-of-the-heap"),
        (HEAP, {"holds": ("leaf-disease",)}, "leaf-disease", "leaf-blight-in"),
        (HEAP, {"moisture_pct": (75.0,), "smell": ("sour",)}, "too-wet", "turn-it"),
        (HEAP, {"moisture_pct": (25.0,), "progress": ("stalled",)}, "too-dry", "water-it"),
    ],
)
def test_the_cause_is_first_and_the_cure_fits(
    method: str, signs: dict[str, tuple[Value, ...]], cause: str, cure: str
) -> None:
    found = diagnose({"method": (method,), **signs}, shipped(), shipped_diagnosis_engine())
    assert cause in {one.cause for one in found.causes if one.score == found.causes[0].score or one is found.causes[0]}
    assert cure in {each.remedy for each in found.remedies}

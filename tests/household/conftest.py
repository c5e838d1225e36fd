"""A small rule base of its own, so that these tests stand still when the shipped one grows."""

from __future__ import annotations

import pytest

from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Attribute, Figure, Kind, Material, Measure

_MATERIALS = {
    "dry-leaves": ("dry leaves", "leaves", "autumn leaves"),
    "wet-leaves": ("wet, matted leaves", "soggy leaves"),
    "oak-leaves": ("oak leaves",),
    "grass-clippings": ("grass clippings", "grass", "lawn clippings", "fresh grass"),
    "dry-grass": ("dry grass clippings", "dry grass"),
    "kitchen-scraps": ("mixed kitchen scraps", "kitchen scraps", "scraps"),
    "coffee-grounds": ("coffee grounds", "grounds", "spent coffee"),
    "straw": ("straw",),
    "hay": ("hay",),
    "horse-manure": ("horse manure", "horse droppings"),
    "cow-manure": ("cow manure", "cow pats"),
    "hog-manure": ("hog manure",),
    "hen-manure": ("hen manure", "chicken manure"),
    "wood-ash": ("wood ash", "ash"),
    "coal-ash": ("coal ash",),
    "wood-chips": ("wood chips", "chips"),
    "wood-chips-dry": ("wood chips, seasoned and dry",),
    "treated-wood": ("treated wood",),
    "dog-waste": ("dog droppings",),
    "cardboard": ("cardboard",),
    "eggshells": ("eggshells", "egg shells"),
    "hoof-and-horn": ("hoof and horn meal", "hoof and horn"),
}

_MEASURES: dict[str, tuple[tuple[float, float, float], tuple[str, ...]]] = {
    "handful": ((0.1, 0.2, 0.35), ("handful",)),
    "mug": ((0.2, 0.27, 0.4), ("mug", "cup")),
    "kitchen-caddy": ((3, 5, 8), ("kitchen caddy", "caddy")),
    "bucket": ((8, 11, 15), ("bucket", "pail", "builder's bucket")),
    "five-gallon-bucket": ((15, 17, 19), ("5-gallon bucket", "five gallon bucket", "5 gal bucket")),
    "tub-trug": ((25, 38, 45), ("tub-trug", "large bucket", "tub")),
    "ice-cream-tub": ((1, 1.5, 2), ("ice-cream tub", "tub")),
    "bag": ((15, 45, 100), ("bag",)),
    "rubbish-bag": ((50, 75, 120), ("rubbish bag", "trash bag", "bin bag")),
    "sack": ((50, 75, 110), ("sack", "garden sack")),
    "builders-bag": ((600, 750, 950), ("builder's bag", "ton bag")),
    "wheelbarrow": ((55, 80, 120), ("wheelbarrow", "barrow")),
    "wheelie-bin": ((215, 230, 240), ("wheelie bin", "240 L wheelie bin")),
    "straw-bale": ((120, 160, 230), ("small bale", "bale", "straw bale")),
    "round-bale": ((1200, 1700, 2600), ("round bale", "big round bale")),
    "gallon": ((3.7854, 3.7854, 3.7854), ("gallon",)),
}
_BALES = ("straw-bale", "round-bale")


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    """Twenty-two materials, sixteen measures, and the answers that the tests give."""
    return Knowledge(
        sources={},
        kinds=_kinds(),
        materials={id_: _material(*names) for id_, names in _MATERIALS.items()},
        measures={id_: _measure(id_, litres, *names) for id_, (litres, names) in _MEASURES.items()},
        methods={},
        figures={},
        notices={},
        questions=(),
        rules=(),
    )


def _figure(low: float, typical: float, high: float) -> Figure:
    return Figure.model_validate({"range": [low, typical, high], "published": ["1 our-estimate"]})


def _material(name: str, *aliases: str) -> Material:
    return Material(
        name=name,
        aliases=aliases,
        role="brown",
        structure="medium",
        keeps="months",
        nitrogen=_figure(1, 1, 1),
        moisture=_figure(10, 10, 10),
        density=_figure(100, 100, 100),
    )


def _measure(id_: str, litres: tuple[float, float, float], name: str, *aliases: str) -> Measure:
    return Measure(name=name, aliases=aliases, litres=_figure(*litres), packed=id_ in _BALES)


def _kinds() -> dict[str, Kind]:
    def words(*those: str, many: bool = False) -> Attribute:
        return Attribute(words={word: f"the {word}" for word in those}, origin="answer", many=many, about="a choice")

    def number(high: float, unit: str) -> Attribute:
        return Attribute(number=(0, high), unit=unit, origin="answer", about="a size")

    place = {
        "space": words("flat", "balcony", "garden"),
        "container": words("none", "closed-bin", "tumbler", many=True),
        "room": number(10000, "m2"),
        "holds": number(100000, "L"),
        "narrowest": Attribute(number=(0, 1000), unit="m", origin="computed", about="the shorter side"),
    }
    return {
        "place": Kind(about="where", attributes=place),
        "wish": Kind(about="what for", attributes={"aim": words("quick", "steady")}),
        "household": Kind(about="who", attributes={"animals": words("none", "hens", "dog", many=True)}),
        "holding": Kind(about="what is there", subjects="materials", attributes={"trait": words("mats")}),
    }

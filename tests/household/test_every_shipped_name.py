"""Every name of the shipped rules is understood in a sentence: a new alias that clashes with another shows here."""

from __future__ import annotations

import pytest

from advisor.household.amounts import read_phrase
from advisor.household.names import find_material, find_measure
from advisor.knowledge.base import Knowledge
from advisor.knowledge.load import read
from advisor.places import rules_folder


@pytest.fixture(scope="module")
def shipped_rules() -> Knowledge:
    return read(rules_folder())[0]


def test_every_material_is_found_by_each_of_its_names(shipped_rules: Knowledge) -> None:
    lost = []
    for id_, material in shipped_rules.materials.items():
        for name in (id_, material.name, *material.aliases):
            phrase = read_phrase(f"2 buckets of {name} a week", shipped_rules)
            match = find_material(phrase.name, shipped_rules)
            read = phrase.quantity is not None and (phrase.quantity.count, phrase.quantity.per) == (2, "week")
            if (match.kind, match.id) != ("exact", id_) or not read or phrase.left:
                lost.append((id_, name, phrase.name, match.kind, match.id))
    assert lost == []


def test_every_measure_is_found_by_each_of_its_names(shipped_rules: Knowledge) -> None:
    lost = []
    for id_, measure in shipped_rules.measures.items():
        for name in (id_, measure.name, *measure.aliases):
            match = find_measure(name, shipped_rules)
            if (match.kind, match.id) != ("exact", id_):
                lost.append((id_, name, match.kind, match.candidates))
            plural = _plural(name)
            for amount in (f"3 {name}", f"3 {plural}", f"a {name}", f"half a {name}"):
                phrase = read_phrase(f"{amount} of dry leaves", shipped_rules)
                unit = phrase.quantity.measure if phrase.quantity is not None else phrase.trouble
                exact = unit == "L" and measure.litres.low == measure.litres.high  # a gallon is litres at once
                if not (unit == id_ or exact) or phrase.name != "dry leaves" or phrase.left:
                    lost.append((id_, amount, unit, phrase.name))
    assert lost == []


def _plural(name: str) -> str:
    if " of " in name:
        return name.replace(" of ", "s of ")
    last = name.split()[-1]
    return f"{name}s" if last.isalpha() and len(last) > 2 else name


@pytest.mark.parametrize(
    ("said", "measure", "material"),
    [
        ("3 straw bales", "straw-bale", "straw"),
        ("3 bales of straw", "straw-bale", "straw"),
        ("half a hay bale", "hay-bale", "hay"),
        ("2 bales of hay", "straw-bale", "hay"),  # a small bale is a small bale
        ("a bale of shavings", "shavings-bale", "wood-shavings"),
        ("a big round bale of straw", "round-bale", "straw"),
    ],
)
def test_a_bale_may_name_what_is_in_it(said: str, measure: str, material: str, shipped_rules: Knowledge) -> None:
    phrase = read_phrase(said, shipped_rules)
    assert phrase.quantity is not None
    assert (phrase.quantity.measure, phrase.quantity.packed) == (measure, True)
    assert find_material(phrase.name, shipped_rules).id == material


def test_manure_alone_is_asked_about(shipped_rules: Knowledge) -> None:
    match = find_material("manure", shipped_rules)
    assert match.kind == "ask"
    assert {"horse-manure", "cow-manure"} <= set(match.candidates)

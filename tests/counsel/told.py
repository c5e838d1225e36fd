"""Households made in code, for the tests of the counsel."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.household.amounts import read_phrase
from advisor.household.names import find_material
from advisor.household.shapes import Holding, Household, Room
from advisor.knowledge.conditions import Value
from advisor.knowledge.load import shipped


def household(
    have: Sequence[str], answers: Mapping[str, Value | Sequence[Value]], room: Room | None = None
) -> Household:
    """A household from amounts in words and answers by attribute."""
    holdings = []
    for words in have:
        phrase = read_phrase(words, shipped())
        match = find_material(phrase.name, shipped())
        assert match.found and phrase.quantity is not None, words
        holdings.append(Holding(match.id, phrase.quantity, words))
    many = {name: (value,) if isinstance(value, str | float | int) else tuple(value) for name, value in answers.items()}
    return Household("a test", tuple(holdings), many, room)

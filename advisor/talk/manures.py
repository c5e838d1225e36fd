"""Which manure is meant by "muck" alone, where the animals were told."""

from __future__ import annotations

from collections.abc import Sequence
from collections.abc import Set as AbstractSet

#: How the ids of the manures of animals begin, by the words of household.animals.
_OF_ANIMALS = {
    "hens": ("hen-", "duck-"),
    "rabbits": ("rabbit-",),
    "goats": ("goat-", "sheep-"),
    "cow": ("cow-", "dairy-"),
    "horse": ("horse-",),
    "pigs": ("pig-",),
}

#: "Muck" alone. Goats and sheep are kept under one name, and either may be meant.
_ANY = "farmyard-manure"


def manures_of(animals: AbstractSet[str]) -> list[str]:
    """The manure of each kind of animals that is kept; what dogs and cats leave is none."""
    kept = [animal for animal in _OF_ANIMALS if animal in animals]
    return [_ANY if animal == "goats" else f"{_OF_ANIMALS[animal][0]}manure" for animal in kept]


def of_the_animals(ids: Sequence[str], animals: AbstractSet[str]) -> tuple[str, ...]:
    """The first manure, of those that a name may mean, of each kind of animals that is kept.

    Args:
        ids: the materials that a name may stand for.
        animals: values of household.animals.

    Returns:
        All of the ids if none of them comes from these animals, or if they are no manures.
    """
    if tuple(ids) == (_ANY,):
        kept = [_OF_ANIMALS[animal][0] for animal in _OF_ANIMALS if animal in animals]
        return (f"{kept[0]}manure",) if len(kept) == 1 and kept != [_OF_ANIMALS["goats"][0]] else (_ANY,)
    if len(ids) < 2 or not any(id_.startswith(begins) for id_ in ids for begins in _OF_ANIMALS.values()):
        return tuple(ids)
    if animals & _OF_ANIMALS.keys() == {"goats"} and {"horse-manure", "cow-manure"} <= set(ids):
        return (_ANY,)  # goats and sheep are kept under one name
    of_these = [
        tuple(id_ for id_ in ids if id_.startswith(begins)) for kept, begins in _OF_ANIMALS.items() if kept in animals
    ]
    if "manure" in ids[0]:
        of_these = [found[:1] for found in of_these]  # its litter on straw or on shavings, however, is asked about
    return tuple(id_ for found in of_these for id_ in found) or tuple(ids)

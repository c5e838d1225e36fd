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


def of_the_animals(ids: Sequence[str], animals: AbstractSet[str]) -> tuple[str, ...]:
    """The first manure, of those that a name may mean, of each kind of animals that is kept.

    Args:
        ids: the materials that a name may stand for.
        animals: values of household.animals.

    Returns:
        All of the ids if none of them comes from these animals, or if they are no manures.
    """
    if len(ids) < 2 or "manure" not in ids[0]:
        return tuple(ids)
    found = [
        next((id_ for id_ in ids if id_.startswith(begins)), "")
        for animal, begins in _OF_ANIMALS.items()
        if animal in animals
    ]
    return tuple(id_ for id_ in found if id_) or tuple(ids)

"""The kind of place that a line shows in passing, by the words of rules/words/places.toml."""

from __future__ import annotations

from advisor.hearing.finding import Finder
from advisor.hearing.stance import Taken, stance

#: From the largest to the smallest: who has fields and a lawn has a smallholding, who has a lawn and a room a garden.
_KINDS = {
    "passing-smallholding": "smallholding",
    "passing-garden": "garden",
    "passing-small-garden": "small-garden",
    "passing-paved-yard": "paved-yard",
    "passing-balcony": "balcony",
    "passing-flat": "flat",
}


def place_in_passing(finder: Finder, taken: tuple[Taken, ...]) -> str:
    """One of the words of place.space, the most roomy that is named and not denied; empty if there is none."""
    return next((kind for words, kind in _KINDS.items() if _is_named(finder, words, taken)), "")


def _is_named(finder: Finder, name: str, taken: tuple[Taken, ...]) -> bool:
    clause_of = finder.line.clause_of
    return any(
        stance(finder, at, max(finder.things(name, at)), clause_of(at), taken).name not in ("denied", "other", "past")
        for at in finder.where(name)
        if not any(one.start <= at < one.end for one in finder.materials.values())  # "coffee grounds"
    )

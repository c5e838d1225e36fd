"""How each material is told from the others in a drawing: by a letter and a pattern first, by colour last."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from string import ascii_uppercase
from typing import TYPE_CHECKING

from advisor.records import dataclass

if TYPE_CHECKING:
    from advisor.counsel.plan import Plan

#: Patterns by role: bars and blocks for what is dry and woody, leaves and drops for what is fresh, dots for the rest.
_PATTERNS = {"brown": "░=▒/#-", "green": '~vo*+"', "other": ".:,'"}
_INKS = 4  # how many inks of a kind a theme has

_LETTERS = frozenset(ascii_uppercase)


@dataclass(frozen=True, slots=True)
class Swatch:
    """The letter, the pattern and the ink of a material."""

    letter: str
    pattern: str
    ink: str
    name: str

    @property
    def patch(self) -> str:
        """A few cells of it, as a legend shows."""
        return f"{self.pattern}{self.letter}{self.pattern}"


def swatches(plan: Plan, roles: Mapping[str, str]) -> dict[str, Swatch]:
    """A swatch for every material of the drawing and the recipe, from the ground up.

    Args:
        roles: the role of each material, by id.
    """
    named: dict[str, str] = {}
    names = {line.material: line.name for line in (*plan.recipe.lines, *plan.recipe.fetch)}
    for layer in plan.layers:
        named.setdefault(layer.material, names.get(layer.material, layer.name))
    return assign({**named, **{name: names[name] for name in names if name not in named}}.items(), roles)


def assign(named: Iterable[tuple[str, str]], roles: Mapping[str, str]) -> dict[str, Swatch]:
    """Letters, patterns and inks for materials given as (id, name).

    A letter is the first of a word of the name that is still free. No two materials share a letter (up to 26), and no
    two of a role a pattern (up to six browns and six greens).
    """
    found: dict[str, Swatch] = {}
    letters: set[str] = set()
    counts = dict.fromkeys(_PATTERNS, 0)
    for material, name in named:
        letter = _letter(name, letters)
        letters.add(letter)
        role = roles.get(material, "other")
        kind = role if role in _PATTERNS else "other"
        number = counts[kind]
        counts[kind] += 1
        patterns = _PATTERNS[kind]
        found[material] = Swatch(letter, patterns[number % len(patterns)], f"{kind}-{number % _INKS + 1}", name)
    return found


def _letter(name: str, taken: set[str]) -> str:
    initials = [word[0].upper() for word in name.split()]
    candidates: list[str] = [*initials, *name.upper(), *ascii_uppercase]
    for letter in candidates:
        if letter in _LETTERS and letter not in taken:
            return letter
    return "?"

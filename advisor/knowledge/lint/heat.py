"""The classes of decay: every material has one, and none is named in vain or twice."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from advisor.knowledge.hints import hint
from advisor.knowledge.lint.view import Finding, View

_FILE = "rules/decay.toml"


def decay_unclassed(view: View) -> Iterator[Finding]:
    """A material of no class, so that its heat cannot be foreseen."""
    for name, material in view.knowledge.materials.items():
        if view.knowledge.decay and not any(one.holds(name, material) for one in view.knowledge.decay.values()):
            yield Finding(_FILE, name, "no class holds this material; name it, or a trait or role of it")


def decay_misnamed(view: View) -> Iterator[Finding]:
    """A class that names a material that is not there, or one that another class names."""
    named = Counter(name for one in view.knowledge.decay.values() for name in one.materials)
    for place, one in view.knowledge.decay.items():
        for name in one.materials:
            if name not in view.knowledge.materials:
                yield Finding(_FILE, place, f"no material '{name}'; {hint(name, view.knowledge.materials)}")
            elif named[name] > 1:
                yield Finding(_FILE, place, f"{name} is named by more than one class")

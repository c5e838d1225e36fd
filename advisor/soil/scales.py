"""Published tables of classes, looked up by name."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.errors import RuleBaseError
from advisor.knowledge.soil_shapes import Scale

Scales = Mapping[str, Scale]


def scale(scales: Scales, name: str) -> Scale:
    """The table of that name.

    Raises:
        RuleBaseError: rules/scales.toml has none.
    """
    try:
        return scales[name]
    except KeyError:
        raise RuleBaseError((f"rules/scales.toml: no [{name}], which the checks of the soil need",)) from None

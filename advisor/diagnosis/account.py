"""What a heap is made of, as far as anybody has said, and as the squeezed handful corrects it."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.blend import mix
from advisor.blend.shapes import Composition, Part
from advisor.blend.spread import typical_part
from advisor.counsel.ingredients import is_poured
from advisor.counsel.stock import Lot, lots
from advisor.household.shapes import Holding, Household
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass


@dataclass(frozen=True, slots=True)
class Account:
    """What went into a heap, by typical figures, at the moisture its handful tells."""

    parts: tuple[Part, ...]
    litres: float  # as it was built
    poured: tuple[tuple[str, float], ...] = ()  # names and litres of liquids that brought nitrogen

    @property
    def carbon_nitrogen(self) -> float:
        """C:N by mass, as built: a heap loses carbon faster than nitrogen, so it is lower by now."""
        return mix.carbon_nitrogen(self.parts)

    @property
    def moisture_pct(self) -> float:
        """Moisture in % of wet mass."""
        return mix.moisture_pct(self.parts)


def account(
    went_in: Sequence[Holding], household: Household | None, knowledge: Knowledge, felt: frozenset[str]
) -> Account | None:
    """The account of a heap; None if nobody has said what went in.

    Args:
        felt: states that the rules found: "wet" and "dry" correct the moisture it was built with.
    """
    measures = household.measures if household else {}
    held = lots(Household("what went in", tuple(went_in), measures=measures), knowledge)
    parts = [typical_part(lot.due_portion) for lot in held if lot.material.role != "never"]
    if not parts or mix.dry_kg(parts) <= 0:
        return None
    litres = mix.volume_l(parts)
    moisture = mix.moisture_pct(parts)
    if "dry" in felt and "wet" not in felt:
        moisture = min(moisture, knowledge.figures["dry-handful-moisture-pct"].typical)
    if "wet" in felt and "dry" not in felt:
        moisture = max(moisture, knowledge.figures["dripping-handful-moisture-pct"].typical)
    poured = tuple((lot.material.name, lot.due_litres) for lot in held if is_poured(lot.material))
    return Account((_at_moisture(mix.blended(parts), moisture),), litres, poured)


def _at_moisture(whole: Part, moisture_pct: float) -> Part:
    """The same dry matter with another amount of water in it, in the same room."""
    was = whole.composition
    dry = whole.kg * (1 - was.moisture_pct / 100)
    kg = dry / (1 - moisture_pct / 100)
    density = was.density_kg_m3 * kg / whole.kg
    return Part(Composition(was.nitrogen_pct, was.carbon_pct, moisture_pct, density, was.ash_pct), kg)


def on_hand(household: Household | None, knowledge: Knowledge, role: str) -> tuple[Lot, ...]:
    """Browns or greens that a household holds, the most of them first."""
    if household is None:
        return ()
    held = [lot for lot in lots(household, knowledge) if lot.material.role == role]
    return tuple(sorted(held, key=lambda lot: -lot.due_litres))

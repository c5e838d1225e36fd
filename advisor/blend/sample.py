"""One sample or load at a time: what a scale, an oven and a bucket tell, and figures moved to another basis.

Every function is exact arithmetic on its arguments; percentages run from 0 to 100.
Blends of several materials are in mix.py.
"""

from __future__ import annotations

#: Organic matter of plants over its carbon (cornell-carbon-content).
_ORGANIC_PER_CARBON = 1.8

#: Crude protein over its nitrogen (protein-convention).
_PROTEIN_PER_NITROGEN = 6.25

_L_PER_M3 = 1000.0


def loss_pct(before: float, after: float) -> float:
    """The share of `before` that is gone when `after` is left, in %: of mass dried or burnt, or of volume.

    Units: any, the same for both. Valid for before > 0.
    Source: definition.

    >>> loss_pct(1.0, 0.3)  # a cubic metre of leaves, and the compost it gave (charlotte-home-composting)
    70.0
    """
    return 100.0 * (before - after) / before


def oven_moisture_pct(wet_g: float, dry_g: float, tare_g: float = 0.0) -> float:
    """Moisture in % of the wet mass, from weighing a sample before and after drying to constant weight.

    Units: grams, both weights with the container in which it dries; `tare_g` is that container, empty.
    Valid for 105-110 C through 24 hours, or a microwave in short steps until the weight holds (then within
    about 3 points: victoria-microwave).
    Source: cornell-schools-moisture.

    >>> oven_moisture_pct(14.0, 6.3, tare_g=4.0)  # 10 g of grass in a 4 g dish
    77.0
    """
    return loss_pct(wet_g - tare_g, dry_g - tare_g)


def bucket_density_kg_m3(full_kg: float, empty_kg: float, bucket_l: float) -> float:
    """Bulk density in kg/m3 from a bucket filled in thirds, settled after the first two, and topped up.

    Units: kg for the bucket full and empty, litres for what it holds (> 0).
    Source: art-and-science-supplement.

    >>> bucket_density_kg_m3(10.0, 1.0, 20.0)
    450.0
    """
    return (full_kg - empty_kg) / bucket_l * _L_PER_M3


def layer_volume_l(area_m2: float, depth_cm: float) -> float:
    """Litres in a layer of even depth.

    Source: cornell-spreading-formula (there in square feet, inches and cubic yards).

    >>> layer_volume_l(1.2, 5.0)
    60.0
    """
    return area_m2 * depth_cm * 10.0


def dry_basis_pct(wet_basis_pct: float) -> float:
    """Moisture per dry mass, in %, of a material whose moisture is given per wet mass: w / (1 - w).

    Valid for 0 <= wet_basis_pct < 100; passes 100 at half water.
    Source: ctfc-moisture-table.

    >>> dry_basis_pct(50.0)
    100.0
    """
    return 100.0 * wet_basis_pct / (100.0 - wet_basis_pct)


def wet_basis_pct(dry_basis_pct: float) -> float:
    """Moisture per wet mass, in %, of a material whose moisture is given per dry mass: d / (1 + d).

    Valid for dry_basis_pct >= 0.
    Source: ctfc-moisture-table.

    >>> wet_basis_pct(25.0)
    20.0
    """
    return 100.0 * dry_basis_pct / (100.0 + dry_basis_pct)


def as_received_pct(of_dry_pct: float, moisture_pct: float) -> float:
    """What is so many % of the dry mass, in % of the whole, wet mass.

    Source: a mass balance; agrees with mushroom-compost-survey.

    >>> as_received_pct(20.0, 10.0)  # hay of 20 % protein, a tenth of it water
    18.0
    """
    return of_dry_pct * (100.0 - moisture_pct) / 100.0


def of_dry_pct(as_received_pct: float, moisture_pct: float) -> float:
    """What is so many % of the whole, wet mass, in % of the dry mass.

    Valid for moisture below 100 %.
    Source: a mass balance; agrees with mushroom-compost-survey.

    >>> of_dry_pct(18.0, 10.0)
    20.0
    """
    return 100.0 * as_received_pct / (100.0 - moisture_pct)


def constituent_kg(kg: float, of_dry_pct: float, moisture_pct: float = 0.0) -> float:
    """Kilograms of something that is so many % of the dry mass, in so many wet kg.

    Source: a mass balance; the first step of cornell-mix-formula.

    >>> round(constituent_kg(10.0, 2.4, moisture_pct=77.0), 4)  # the nitrogen in 10 kg of grass
    0.0552
    """
    return kg * as_received_pct(of_dry_pct, moisture_pct) / 100.0


def mass_at_moisture_kg(kg: float, moisture_pct: float, becomes_pct: float) -> float:
    """What a load weighs once its moisture has gone from one % of wet mass to another; its dry matter stays.

    Valid for becomes_pct < 100; it may be the wetter of the two.
    Source: ward-dry-matter.

    >>> mass_at_moisture_kg(100.0, 50.0, 0.0)
    50.0
    """
    return kg * (100.0 - moisture_pct) / (100.0 - becomes_pct)


def carbon_from_ash_pct(ash_pct: float) -> float:
    """Carbon in % of dry mass, estimated from what is left after burning: (100 - ash) / 1.8.

    Valid for plant matter and manures, within 2 to 10 % of the value; not for charcoal, lime or oils.
    Source: cornell-carbon-content.

    >>> carbon_from_ash_pct(10.0)
    50.0
    """
    return (100.0 - ash_pct) / _ORGANIC_PER_CARBON


def nitrogen_from_protein_pct(crude_protein_pct: float) -> float:
    """Nitrogen in % from crude protein in %, on the same basis.

    Valid for feeds and most plant matter, whose "crude protein" was itself computed so from nitrogen.
    Source: protein-convention.

    >>> nitrogen_from_protein_pct(25.0)
    4.0
    """
    return crude_protein_pct / _PROTEIN_PER_NITROGEN


def carbon_from_ratio_pct(nitrogen_pct: float, carbon_nitrogen: float) -> float:
    """Carbon in % of dry mass from nitrogen in % of dry mass and C:N.

    Source: cornell-schools-cn.

    >>> carbon_from_ratio_pct(2.5, 20.0)
    50.0
    """
    return nitrogen_pct * carbon_nitrogen

"""Moist air: what it holds, what it carries out of a heap, and how warm air draws cold air in. °C, kg, kJ."""

from __future__ import annotations

from typing import Final

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]

#: Pressure of the air at sea level, in Pa (definition of the standard atmosphere).
PRESSURE_PA: Final = 101_325.0
#: Share of oxygen in dry air, by mass and in % of volume (general tables, from memory).
OXYGEN_BY_MASS: Final = 0.232
OXYGEN_PCT: Final = 20.9

_GAS_CONSTANT = 287.05  # J/kg K, of dry air
_KELVIN = 273.15
#: Above this the formula is not needed, and nearer 100 °C the air would be nothing but steam.
_HOTTEST = 95.0


def vapour(celsius: Floats) -> Floats:
    """Water in saturated air, kg per kg of dry air: w = 0.622 e / (P - e), e by the Magnus formula.

    e = 610.9 exp(17.625 T / (T + 243.04)) Pa. Source: general tables, from memory.

    >>> round(float(vapour(np.array(55.0))), 3)
    0.115
    """
    held = np.minimum(celsius, _HOTTEST)
    pressure = 610.9 * np.exp(17.625 * held / (held + 243.04))
    result: Floats = 0.622 * pressure / (PRESSURE_PA - pressure)
    return result


def enthalpy(celsius: Floats, water: Floats) -> Floats:
    """Heat of moist air in kJ per kg of dry air, from dry air and liquid water at 0 °C: 1.006 T + w (2501 + 1.86 T).

    Source: general tables of moist air, from memory.
    """
    return 1.006 * celsius + water * (2501.0 + 1.86 * celsius)


def density(celsius: Floats, water: Floats) -> Floats:
    """Density of moist air in kg/m³, by the gas law; `water` in kg per kg of dry air.

    Source: the gas law, water being 0.622 times as heavy as air.
    """
    result: Floats = PRESSURE_PA / (_GAS_CONSTANT * (celsius + _KELVIN)) * (1.0 + water) / (1.0 + water / 0.622)
    return result

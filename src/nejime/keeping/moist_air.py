"""Air with water in it: pressures and densities. The one module that knows psychrolib.

Model: saturation pressure over water by the formula of the FAO; the rest by the equations of the
ASHRAE handbook, at the pressure of sea level. A humidity is a share from 0 to 1.
Source: Allen et al. (1998), equation 11; psychrolib (ASHRAE Handbook of Fundamentals 2017, ch. 1).
"""

from __future__ import annotations

import math

import psychrolib

SEA_LEVEL_PA = 101_325.0  # [psychrolib] standard atmosphere; 1000 m higher it is a tenth less

psychrolib.SetUnitSystem(psychrolib.SI)  # once for the whole program


def saturation_kpa(temperature_c: float) -> float:
    """Pressure of the vapour over a water surface (Allen et al. 1998, equation 11)."""
    return 0.6108 * math.exp(17.27 * temperature_c / (temperature_c + 237.3))


def vapour_kpa(temperature_c: float, humidity: float) -> float:
    """Pressure of the vapour in air."""
    return humidity * saturation_kpa(temperature_c)


def deficit_kpa(temperature_c: float, humidity: float) -> float:
    """By how much the air falls short of saturation: what makes leaves and water give off."""
    return saturation_kpa(temperature_c) - vapour_kpa(temperature_c, humidity)


def kg_vapour_per_kg(temperature_c: float, humidity: float) -> float:
    """Vapour in a kilogram of dry air: the humidity ratio."""
    ratio: float = psychrolib.GetHumRatioFromRelHum(temperature_c, humidity, SEA_LEVEL_PA)
    return ratio


def dry_air_kg_m3(temperature_c: float, humidity: float) -> float:
    """Dry air in a cubic metre of moist air; damp air has less of it, so it rises."""
    ratio = kg_vapour_per_kg(temperature_c, humidity)
    volume_m3: float = psychrolib.GetMoistAirVolume(temperature_c, ratio, SEA_LEVEL_PA)
    return 1.0 / volume_m3


def vapour_kg_m3(temperature_c: float, humidity: float) -> float:
    """Vapour in a cubic metre of moist air."""
    ratio = kg_vapour_per_kg(temperature_c, humidity)
    return ratio * dry_air_kg_m3(temperature_c, humidity)


def latent_kj_kg(temperature_c: float) -> float:
    """Heat that a kilogram of water takes to evaporate (Allen et al. 1998, equation 3-1)."""
    return 2501.0 - 2.361 * temperature_c

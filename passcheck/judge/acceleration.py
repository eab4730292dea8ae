"""By what factor does heat or cycling on the bench age a unit faster than its use?

Every factor is above 1 where the stress is the harder one. They hold below the ratings of the parts only, and the
temperature is that of the board, not of the room or the chamber.
"""

import math
from dataclasses import dataclass
from typing import Final

BOLTZMANN_EV_K: Final = 8.617333e-5
ZERO_C_IN_K: Final = 273.15
LIKELY_EA_EV: Final = (0.4, 0.7)
"""Where activation energies of electronic parts usually lie; a factor is shown over this range, never alone."""

LARGEST_EXPONENT: Final = 700.0
"""The largest power of e that a double holds is a little above."""


@dataclass(frozen=True, slots=True)
class FactorRange:
    """The smallest and the largest factor over the likely activation energies."""

    low: float
    high: float


def kelvin(celsius: float) -> float:
    """Return degrees Celsius as kelvin; ValueError at or below absolute zero."""
    if not -ZERO_C_IN_K < celsius < math.inf:
        raise ValueError(f"{celsius} °C is no temperature that a board can have")
    return celsius + ZERO_C_IN_K


def arrhenius(ea_ev: float, use_c: float, stress_c: float) -> float:
    """Return exp(Ea/k (1/T_use - 1/T_stress)) with temperatures in kelvin (NIST/SEMATECH e-Handbook 8.1.5.1).

    `ea_ev` is the activation energy in electronvolt, temperatures are given in °C. Raises ValueError for a negative
    energy or an impossible temperature.
    """
    if not 0 <= ea_ev < math.inf:
        raise ValueError(f"an activation energy of 0 eV or more is needed, not {ea_ev}")
    return _exp(ea_ev / BOLTZMANN_EV_K * (1 / kelvin(use_c) - 1 / kelvin(stress_c)))


def arrhenius_range(use_c: float, stress_c: float) -> FactorRange:
    """Return the Arrhenius factor over 0.4 .. 0.7 eV, the smaller one first."""
    low, high = sorted(arrhenius(ea_ev, use_c, stress_c) for ea_ev in LIKELY_EA_EV)
    return FactorRange(low, high)


def coffin_manson(use_dt: float, stress_dt: float, exponent: float) -> float:
    """Return (dT_stress / dT_use)^m for temperature swings in kelvin; m is 2 .. 2.7 for solder."""
    _refuse_unless_above_zero("temperature swings", use_dt, stress_dt)
    if not 0 <= exponent < math.inf:
        raise ValueError(f"an exponent of 0 or more is needed, not {exponent}")
    return _exp(exponent * math.log(stress_dt / use_dt))


def norris_landzberg(
    use_dt: float,
    stress_dt: float,
    use_per_day: float,
    stress_per_day: float,
    use_max_c: float,
    stress_max_c: float,
) -> float:
    """Return (dT_s/dT_u)^1.9 (f_u/f_s)^(1/3) exp(1414 (1/Tmax_u - 1/Tmax_s)), for tin-lead solder.

    Swings in kelvin, cycles a day, hottest temperatures in °C (used in kelvin). Faster cycling damages less a cycle.
    """
    _refuse_unless_above_zero("temperature swings", use_dt, stress_dt)
    _refuse_unless_above_zero("cycles a day", use_per_day, stress_per_day)
    heat = 1414 * (1 / kelvin(use_max_c) - 1 / kelvin(stress_max_c))
    return _exp(1.9 * math.log(stress_dt / use_dt) + math.log(use_per_day / stress_per_day) / 3 + heat)


def _exp(power: float) -> float:
    if power > LARGEST_EXPONENT:
        raise ValueError("the factor is larger than any number; look at the temperatures and the energy")
    return math.exp(power)


def _refuse_unless_above_zero(what: str, *values: float) -> None:
    if not all(0 < value < math.inf for value in values):
        raise ValueError(f"{what} above 0 are needed, not {' and '.join(map(str, values))}")

"""What do the hours of a soak show, and what don't they?"""

import math
from dataclasses import dataclass
from typing import Final

from passcheck.judge.acceleration import LIKELY_EA_EV, FactorRange, arrhenius, arrhenius_range
from passcheck.judge.rate_bound import rate_bound
from passcheck.judge.rounding import counted, rounded

A_SOAK_SCREENS: Final = "A soak screens, it proves no life."


@dataclass(frozen=True, slots=True)
class SoakEvidence:
    """A soak as hours at use temperature, with the bound on the failure rate that they give.

    `equivalent_h` are unit-hours at `use_c` for the stated activation energy, `equivalent_range_h` those over the
    likely energies. `upper_per_h` is the upper bound on the rate in use and `mtbf_lower_h` its inverse: figures for an
    auditor, who sees how little one soak says. They are never put into the sentence.
    """

    failures: int
    use_c: float
    factor: float
    factor_range: FactorRange
    equivalent_h: float
    equivalent_range_h: tuple[float, float]
    upper_per_h: float
    mtbf_lower_h: float


def soak_evidence(
    hours: float, units: int, failures: int, soak_c: float, use_c: float, ea_ev: float, confidence: float
) -> SoakEvidence:
    """Turn `hours` of soak of each of `units` units into hours of use: AF * h * N (Arrhenius; bound by chi-square).

    Temperatures are the board's, in °C. Units of one board type may be pooled; ValueError for no units or no hours.
    """
    if units < 1 or not 0 < hours < math.inf:
        raise ValueError(f"{units} units for {hours} h are no soak")
    unit_hours = hours * units
    factor, around = arrhenius(ea_ev, use_c, soak_c), arrhenius_range(use_c, soak_c)
    bound = rate_bound(failures, factor * unit_hours, confidence)
    return SoakEvidence(
        failures,
        use_c,
        factor,
        around,
        factor * unit_hours,
        (around.low * unit_hours, around.high * unit_hours),
        bound.upper_per_h,
        1 / bound.upper_per_h if bound.upper_per_h else math.inf,
    )


def soak_sentence(evidence: SoakEvidence) -> str:
    """Return what was seen in how many equivalent hours, over the likely energies; nothing is said about life."""
    low, high = (rounded(end) for end in evidence.equivalent_range_h)
    low_ev, high_ev = LIKELY_EA_EV
    found = counted(evidence.failures, "failure")
    return (
        f"{found[0].upper()}{found[1:]} in {rounded(evidence.equivalent_h)} equivalent hours at "
        f"{rounded(evidence.use_c, 3)} °C ({low} to {high} h over activation energies of {low_ev} to {high_ev} eV). "
        f"{A_SOAK_SCREENS}"
    )

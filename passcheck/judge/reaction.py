"""Can a person have tapped this reference block?

Simple visual reactions of 1469 people: 231 ms as recorded, 213 ms without the hardware's delay, 0.55 ms more a year of
age (Woods et al. 2015, Front. Hum. Neurosci. 9:131).
"""

from collections.abc import Sequence
from statistics import median
from typing import Final

RECORDED_S: Final = 0.231
CORRECTED_S: Final = 0.213
SLOWER_A_YEAR_S: Final = 0.00055
LEAST_S: Final = 0.150
MOST_S: Final = 0.400


def hardware_delay_s() -> float:
    """Return the delay of keyboard and screen in the published figures."""
    return RECORDED_S - CORRECTED_S


def age_difference_s(younger_years: float, older_years: float) -> float:
    """Return by how much the older of two people reacts later, on average."""
    return SLOWER_A_YEAR_S * (older_years - younger_years)


def is_plausible(reference_s: Sequence[float], latency_s: float) -> bool:
    """Is the middle reaction, less the latency of the bench, between 150 and 400 ms?

    Faster means that the light was foreseen; slower that the hand, or the latency, is not what it should be.
    `reference_s` are times of the block less their programmed delays. Raises ValueError for an empty block.
    """
    if not reference_s:
        raise ValueError("an empty reference block shows no reaction")
    return LEAST_S <= median(reference_s) - latency_s <= MOST_S

"""How much do clean repeats show?"""

import math
from fractions import Fraction
from typing import Final

CONFIDENCE: Final = Fraction(95, 100)


def clean_repeats_needed(fails: int, tries: int) -> int:
    """Return the smallest N with (1 - fails/tries)^N at most 0.05: a fault that is still there would have shown.

    One fail of 2 asks 5, two of 5 ask 6. Without a fail nothing has to be explained, so 0. Raises ValueError when
    there are more fails than tries.
    """
    if not 0 <= fails <= tries or tries == 0:
        raise ValueError(f"{fails} fails of {tries} tries can't be")
    if fails == 0:
        return 0
    missed, needed = Fraction(1), 0
    while missed > 1 - CONFIDENCE:
        missed *= 1 - Fraction(fails, tries)
        needed += 1
    return needed


def shown_by(clean: int) -> float:
    """Return the share of good tries that `clean` of `clean` show at 95 % confidence: 0.05^(1/n).

    The success-run theorem; 10 of 10 show at least 0.741.
    """
    if clean < 1:
        raise ValueError(f"{clean} tries show nothing")
    return math.exp(math.log(1 - CONFIDENCE) / clean)

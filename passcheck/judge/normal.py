"""What does the normal distribution say?"""

import math


def normal_cdf(z: float) -> float:
    """Return the probability that a standard normal value is at most `z`."""
    return 0.5 * math.erfc(-z / math.sqrt(2))


def normal_quantile(p: float) -> float:
    """Return z with a probability of `p` below it; `p` lies strictly between 0 and 1, else ValueError.

    Start from Abramowitz and Stegun 26.2.23 (error under 4.5e-4), then Halley's steps on the exact function.
    """
    if not 0.0 < p < 1.0:
        raise ValueError(f"a probability between 0 and 1 is needed, not {p}")
    if p > 0.5:
        return -normal_quantile(1.0 - p)
    t = math.sqrt(-2.0 * math.log(p))
    numerator = 2.515517 + t * (0.802853 + t * 0.010328)
    z = -(t - numerator / (1.0 + t * (1.432788 + t * (0.189269 + t * 0.001308))))
    for _ in range(3):
        density = math.exp(-z * z / 2) / math.sqrt(2 * math.pi)
        step = (normal_cdf(z) - p) / density
        z -= step / (1 + z * step / 2)
    return z

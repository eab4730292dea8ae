"""Which values must the incomplete gamma function give? The plain series at 250 digits, kept as a table.

Made once, in an environment that can be thrown away (mpmath is no dependency of passcheck):

    python -m venv throwaway && throwaway/bin/pip install mpmath
    throwaway/bin/python tests/benchmarks/gamma_reference.py > tests/samples/gamma.json
"""

import json
from itertools import product

from mpmath import exp, gamma, mp, mpf, sqrt  # type: ignore[import-not-found]

SHAPES = ("0.5", "1", "1.5", "4", "11", "19.5", "20", "50", "1001", "100000", "1000000")
DEVIATIONS = (-20, -6, -3, -1, 0, 1, 3, 6, 20)
"""Distance of the value from the mean, in standard deviations; where that falls below 0, as many decades down."""


def row(shape: str, deviations: int) -> list[float]:
    """Return shape, value, share below it, share above it."""
    a = mpf(shape)
    x = a + deviations * sqrt(a)
    x = mpf(float(x if x > 0 else a * mpf(10) ** deviations))
    term = total = mpf(1)
    n = 0
    while term > total * mpf(10) ** -250:
        n += 1
        term *= x / (a + n)
        total += term
    below = x**a * exp(-x) / gamma(a + 1) * total
    return [float(a), float(x), float(below), float(1 - below)]


def main() -> None:
    mp.dps = 250
    command = "throwaway/bin/python tests/benchmarks/gamma_reference.py > tests/samples/gamma.json"
    print(f'{{"made_by": {json.dumps(command)},\n "columns": ["shape", "value", "below", "above"],\n "rows": [')
    print(",\n".join(json.dumps(row(*each)) for each in product(SHAPES, DEVIATIONS)))
    print("]}")


if __name__ == "__main__":
    main()

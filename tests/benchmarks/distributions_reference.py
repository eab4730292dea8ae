"""Which values must the normal and Student's distribution give? Those of scipy, kept as a table.

Made once, in an environment that can be thrown away (scipy is no dependency of passcheck):

    python -m venv throwaway && throwaway/bin/pip install scipy
    throwaway/bin/python tests/benchmarks/distributions_reference.py > tests/samples/distributions.json
"""

import json
from itertools import product

from scipy import special  # type: ignore[import-not-found, import-untyped, unused-ignore]

DEGREES = (0.5, 1, 1.5, 2, 3, 4.6, 7, 11, 31.2, 120, 1000, 9006, 99999, 100001, 1e7)
VALUES = (-40.0, -12.0, -6.0, -3.0, -1.96, -1.0, -0.1, 0.0, 0.01, 0.7, 1.645, 2.5, 5.0, 9.0)
SHARES = (1e-6, 0.001, 0.011, 0.025, 0.05, 0.3, 0.45, 0.7, 0.95, 0.975, 0.989, 0.9995)


def main() -> None:
    command = "throwaway/bin/python tests/benchmarks/distributions_reference.py > tests/samples/distributions.json"
    tables = {
        "normal_cdf": [[z, special.ndtr(z)] for z in VALUES if z > -38],
        "normal_quantile": [[p, special.ndtri(p)] for p in SHARES],
        "student_cdf": [[t, nu, special.stdtr(nu, t)] for nu, t in product(DEGREES, VALUES)],
        "student_quantile": [[p, nu, special.stdtrit(nu, p)] for nu, p in product(DEGREES, SHARES)],
    }
    lines = [f'"{name}": [\n' + ",\n".join(json.dumps(row) for row in rows) + "]" for name, rows in tables.items()]
    print(f'{{"made_by": {json.dumps(command)},\n' + ",\n".join(lines) + "}")


if __name__ == "__main__":
    main()

"""Which computations are there, all in all?"""

from collections.abc import Mapping
from typing import Final

from passcheck.cli.door import pointer, rates, readings, statistics, suspects, times
from passcheck.cli.door.compute import Compute

TABLE: Final[Mapping[str, Compute]] = {
    **readings.COMPUTES,
    **times.COMPUTES,
    **rates.COMPUTES,
    **pointer.COMPUTES,
    **statistics.COMPUTES,
    **suspects.COMPUTES,
}

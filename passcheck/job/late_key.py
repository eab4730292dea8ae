"""By which key is a reading entered that was written down on paper?

Named here because the bench has the key and a paper tells of it.
"""

from typing import Final

from passcheck.job.settings import BenchSettings

LATE_ID: Final = "bench.late"
LATE_KEY: Final = "ctrl+s"


def late_key(settings: BenchSettings) -> str:
    """The key as it is written on a keyboard, a user's own where bench.yaml has one: `Ctrl+S`."""
    return "+".join(part.capitalize() for part in settings.keys.get(LATE_ID, LATE_KEY).split("+"))

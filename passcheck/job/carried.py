"""What does one run hand to the next on the same day?"""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Carried:
    """Instruments by role, and the ambient temperature."""

    instruments: Mapping[str, str]
    ambient_c: str | None = None

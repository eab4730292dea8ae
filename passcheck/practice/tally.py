"""What happened while a robot technician was at work on one unit?"""

from collections import Counter
from dataclasses import dataclass, field


@dataclass(slots=True)
class Tally:
    """What happened on the way, for whoever asks afterwards.

    Attributes:
        tries: attempts that were kept.
        hands_on_min: minutes with hands at the unit.
        refused: what the bench refused, by the code of the refusal.
        slips: entries typed wrong, or read with a probe that didn't touch.
        caught: those of them that the bench didn't keep.
        slipped_through: those that it kept.
        signatures_refused: signatures asked for while something stood against them.
        passed_wrongly: by step, passes of a try in which the unit departed from what the step wants.
        failed_wrongly: by step, fails of a try in which it didn't.
        mistyped_to_pass: of the former those that a wrong entry made.
    """

    tries: int = 0
    hands_on_min: float = 0.0
    refused: Counter[str] = field(default_factory=Counter)
    slips: int = 0
    caught: int = 0
    slipped_through: int = 0
    signatures_refused: int = 0
    passed_wrongly: Counter[str] = field(default_factory=Counter)
    failed_wrongly: Counter[str] = field(default_factory=Counter)
    mistyped_to_pass: Counter[str] = field(default_factory=Counter)

    def hold_against(self, step: str, verdict: str, *, departs: bool, mistyped: bool) -> None:
        """Hold a verdict against what the unit really did in that try."""
        if verdict == "pass" and departs:
            self.passed_wrongly[step] += 1
            self.mistyped_to_pass[step] += mistyped
        elif verdict == "fail" and not departs:
            self.failed_wrongly[step] += 1

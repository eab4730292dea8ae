"""Which lines of a journal close it for good, and which carry a failure that the ledger has to know?"""

from collections.abc import Mapping

from passcheck.job.journal_line import Line

SEALING_EVENTS = frozenset({"signed off", "returned unrepaired", "returned repaired in part"})
"""Nothing is appended after one of these: the unit has left the bench."""


def is_seal(line: Line) -> bool:
    """Whether the journal ends with this line."""
    return line.event in SEALING_EVENTS


def is_failure(line: Line) -> bool:
    """Whether this line records that the unit failed a step.

    The ledger names every failure, so that a journal cannot be cut back to the day before it.
    """
    if line.event != "attempt judged":
        return False
    judgement = line.data.get("judgement")
    facts: Mapping[str, object] = judgement if isinstance(judgement, Mapping) else line.data
    return facts.get("verdict") == "fail"

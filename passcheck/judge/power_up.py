"""Did the unit take a plausible current at its first, limited power?"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.contact import as_read
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity
from passcheck.judge.reading import judge_reading

LimitLight = Literal["off", "brief", "on"]


def judge_power_up(
    currents: Sequence[Quantity | OverRange], limits: Limits, accuracy: Accuracy, limit_light: LimitLight
) -> Judgement:
    """Judge the current, read once or several times, and the supply's limit light at the last.

    The light on fails whatever the current reads, brief is mentioned. Raises IndexError without a current.
    """
    judged = judge_reading(currents, limits, accuracy)
    current = currents[-1]
    if limit_light == "on":
        reason = "the limit light stays on, so the supply holds the current down"
        sentence = f"{as_read(current)} against {limits.words()}: {reason}. Switch off."
        return replace(judged, verdict="fail", sentence=sentence, outside=True)
    light = "The limit light stayed off." if limit_light == "off" else "The limit light was on briefly, as inrush does."
    return replace(judged, sentence=f"{judged.sentence} {light}")

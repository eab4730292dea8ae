"""Did the pointer travel up and down in its time without hesitating?"""

from dataclasses import replace

from passcheck.judge.accuracy import Accuracy
from passcheck.judge.contact import as_read
from passcheck.judge.judgement import Judgement, worst_of
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity
from passcheck.judge.reading import judge_reading


def judge_sweep(
    up: Quantity, down: Quantity, up_limits: Limits, down_limits: Limits, accuracy: Accuracy, hesitation: str | None
) -> Judgement:
    """Judge the times of both directions, and what the eye saw on the way: any hesitation fails."""
    rising, falling = judge_reading([up], up_limits, accuracy), judge_reading([down], down_limits, accuracy)
    worst = worst_of([rising, falling])
    if hesitation is not None:
        times = f"{as_read(up)} up against {up_limits.words()}, {as_read(down)} down against {down_limits.words()}"
        return replace(worst, verdict="fail", sentence=f"{times}: it hesitated ({hesitation}).", outside=True)
    return replace(worst, sentence=f"Up: {rising.sentence} Down: {falling.sentence} No hesitation seen.")

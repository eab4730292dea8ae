"""Does every input give its output?"""

from collections.abc import Sequence
from dataclasses import replace

from passcheck.errors import OurBug
from passcheck.judge.accuracy import Accuracy
from passcheck.judge.judgement import Judgement, judged_without_number, worst_of
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import OverRange, Quantity
from passcheck.judge.reading import judge_reading


def judge_table(
    rows: Sequence[tuple[str, Limits]], outputs: Sequence[Sequence[Quantity | OverRange]], accuracy: Accuracy
) -> Judgement:
    """Judge each row's outputs against its limits (input, limits); the worst row decides and is named.

    A row that was read several times is decided by all of its readings. Outputs that are still missing make the table
    *not measured*. Raises OurBug for more outputs than rows.
    """
    if len(outputs) > len(rows):
        raise OurBug(f"{len(outputs)} outputs for {len(rows)} rows")
    judged = [
        replace(each, sentence=f"{given}: {each.sentence}")
        for (given, limits), output in zip(rows, outputs, strict=False)
        for each in [judge_reading(output, limits, accuracy)]
    ]
    left = ", ".join(f"{given} against {limits.words()}" for given, limits in rows[len(outputs) :])
    if left or not rows:
        judged.append(judged_without_number("not measured", f"{left or 'any row'} is not read yet.", "guarded"))
    worst = worst_of(judged)
    clean = sum(each.verdict == "pass" for each in judged)
    return replace(worst, sentence=f"{clean} of {len(rows)} rows pass; the one that decides: {worst.sentence}")

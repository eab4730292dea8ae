"""Which of a numbered row of things were found wrong?"""

from collections.abc import Mapping, Sequence

from passcheck.errors import OurBug
from passcheck.judge.judgement import Judgement, judged_by_count, judged_without_number


def judge_each(kind: str, names: Sequence[str], faults: Mapping[int, str]) -> Judgement:
    """Judge a row of things of which every single one has to be right; `faults` maps 1-based numbers to words.

    Raises OurBug for a number that no name belongs to.
    """
    total = len(names)
    if not names:
        return judged_without_number("not measured", f"0 of 0 {kind} show nothing: there were none to look at.", "each")
    stray = [number for number in faults if not 1 <= number <= total]
    if stray:
        raise OurBug(f"there is no number {stray[0]} among {total} {kind}")
    if not faults:
        return judged_by_count(total, total, f"{total} of {total} {kind} as they should be.", "each")
    found = ", ".join(f"{names[number - 1]} {faults[number]}" for number in sorted(faults))
    sentence = f"{len(faults)} of {total} {kind} not as they should be: {found}."
    return judged_by_count(total - len(faults), total, sentence, "each")

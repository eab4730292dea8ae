"""How is a decision by taps put into one sentence?"""

from passcheck.judge.quantity import show
from passcheck.judge.response_taps import SHORTEST_LIMIT_S, TapDelay, TapFinding
from passcheck.judge.rounding import counted
from passcheck.judge.screening import BLOCK
from passcheck.judge.sentence import decade


def taps_sentence(finding: TapFinding, limit_s: float, *, latency_measured: bool = True) -> str:
    """Return number, limit and reason; nothing in it is finer than the taps are."""
    limit = f"at most {show(limit_s, 's')}"
    if finding.screened.unanswered:
        trials = counted(len(finding.screened.statuses), "trial")
        return f"No response in {finding.screened.unanswered} of {trials} against {limit}."
    if finding.delay is None:
        return f"No valid trial yet against {limit}: tap again, {finding.screened.voided} void."
    remark = "" if latency_measured else " The latency of this bench was not measured."
    return f"{_found(finding.delay)} {_side(finding, limit_s)} {limit}{_reason(finding, limit_s)}.{remark}"


def _found(delay: TapDelay) -> str:
    if delay.delay_s < SHORTEST_LIMIT_S:
        return f"{show(SHORTEST_LIMIT_S, 's')} or less (shorter than taps can resolve)"
    return f"{show(delay.delay_s, 's', decade(delay.u_s))} ± {show(delay.end_k * delay.u_s, 's', decade(delay.u_s))}"


def _side(finding: TapFinding, limit_s: float) -> str:
    if finding.verdict in {"pass", "fail"}:
        return "is inside" if finding.verdict == "pass" else "is outside"
    inside = finding.delay is not None and finding.delay.delay_s < limit_s
    return f"is {'inside' if inside else 'outside'}, but not surely,"


def _reason(finding: TapFinding, limit_s: float) -> str:
    trials = counted(len(finding.screened.valid_s), "valid trial")
    if finding.verdict in {"pass", "fail"}:
        return f" after {trials}"
    if finding.screened.too_many_voids:
        return f": {finding.screened.voided} void trials are too many, begin the block again"
    delay = finding.delay
    sure = delay is not None and delay.high_s < limit_s
    if sure and finding.late:
        return f" after {trials}: {finding.late} far too late, intermittently slow or inattentive, repeat"
    if sure and finding.early:
        return f" after {trials}: {finding.early} tapped before it was seen"
    left = "too close for these taps" if len(finding.screened.valid_s) >= BLOCK else "more trials are needed"
    return f" after {trials}: {left}"

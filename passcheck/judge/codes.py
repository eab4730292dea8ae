"""Is the set of fault codes exactly the one that this bench should show?"""

from collections.abc import Iterable, Mapping

from passcheck.judge.judgement import Judgement, judged_without_number


def judge_codes(
    present: frozenset[str],
    expected: frozenset[str],
    absent: frozenset[str],
    provoked: Mapping[str, bool],
    after_clear: frozenset[str] | None,
) -> Judgement:
    """Judge the set of codes, not each code.

    `present` was read before anything was provoked; `expected` shows on this bench, for instance because sensors are
    unplugged. A code too many fails, and so does a missing one: its detector is dead. `provoked` says of each code
    whether it appeared. `after_clear` was read after clearing and a power cycle, None when nothing was cleared; the
    codes that this bench always shows may come back, any other may not. `absent` names codes for the sentence.
    """
    extra = present - expected
    findings = [
        ("present that must be absent", extra & absent),
        ("present that nothing here explains", extra - absent),
        ("missing although this bench should show it (a dead detector?)", expected - present),
        ("provoked without appearing", {code for code, appeared in provoked.items() if not appeared}),
        ("back after clearing and a power cycle", (after_clear or frozenset()) - expected),
    ]
    faults = [f"{_named(codes)} {what}" for what, codes in findings if codes]
    wanted = f"{len(present)} read, {_named(expected)} expected"
    if faults:
        return judged_without_number("fail", f"Codes: {wanted}; {'; '.join(faults)}.", "set")
    extras = ""
    if provoked:
        extras += f"; {_named(provoked)} appeared when provoked"
    if after_clear is not None:
        extras += "; no other came back after clearing"
    return judged_without_number("pass", f"Codes: {wanted} and no other{extras}.", "set")


def _named(codes: Iterable[str]) -> str:
    return ", ".join(sorted(codes)) or "none"

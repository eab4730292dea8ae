"""Is the set of fault codes exactly the one that this bench should show?"""

from collections.abc import Mapping

from passcheck.judge.judgement import Judgement


def judge_codes(
    present: frozenset[str],
    expected: frozenset[str],
    absent: frozenset[str],
    provoked: Mapping[str, bool],
    after_clear: frozenset[str] | None,
) -> Judgement:
    """Judge the set of codes."""

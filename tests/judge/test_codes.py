"""Is the set of codes judged, and not each code?"""

from collections.abc import Mapping

from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.codes import judge_codes
from passcheck.judge.judgement import Judgement


def judged(
    present: str, expected: str = "", provoked: Mapping[str, bool] | None = None, after_clear: str | None = None
) -> Judgement:
    """Judge codes written as words; F35 must be absent."""
    back = None if after_clear is None else frozenset(after_clear.split())
    return judge_codes(
        frozenset(present.split()), frozenset(expected.split()), frozenset({"F35"}), provoked or {}, back
    )


def test_exactly_the_codes_of_this_bench_pass() -> None:
    found = judged("F31 F34", "F34 F31", {"F36": True}, "F31")
    assert found.verdict == "pass"
    assert not found.outside
    assert "F31, F34" in found.sentence
    assert judged("").verdict == "pass"


def test_a_code_too_many_fails_and_is_named() -> None:
    found = judged("F31 F34 F9", "F31 F34")
    assert found.verdict == "fail"
    assert "F9 present that nothing here explains" in found.sentence
    assert "F35 present that must be absent" in judged("F35").sentence


def test_a_missing_code_fails_because_its_detector_is_dead() -> None:
    found = judged("F31", "F31 F34")
    assert found.verdict == "fail"
    assert "F34 missing" in found.sentence


def test_a_provoked_code_has_to_appear() -> None:
    found = judged("", provoked={"F35": False, "F36": True})
    assert found.verdict == "fail"
    assert "F35 provoked without appearing" in found.sentence


def test_a_code_that_comes_back_after_clearing_fails() -> None:
    found = judged("", after_clear="F35")
    assert found.verdict == "fail"
    assert "F35 back after clearing" in found.sentence


CODES = st.frozensets(st.sampled_from(["F31", "F34", "F35", "F36"]))


@given(CODES, CODES, CODES, st.dictionaries(st.sampled_from(["F35", "F36"]), st.booleans()), st.none() | CODES)
def test_a_pass_means_the_exact_set_everything_provoked_and_nothing_back(
    present: frozenset[str],
    expected: frozenset[str],
    absent: frozenset[str],
    provoked: dict[str, bool],
    back: frozenset[str] | None,
) -> None:
    found = judge_codes(present, expected, absent, provoked, back)
    clean = present == expected and all(provoked.values()) and (back or frozenset()) <= expected
    assert (found.verdict == "pass") is clean
    assert found.outside is not clean


def test_nothing_is_said_of_clearing_where_nothing_was_cleared() -> None:
    assert "clearing" not in judged("F31", "F31").sentence
    assert "no other came back after clearing" in judged("F31", "F31", after_clear="F31").sentence

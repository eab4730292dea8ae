"""Does a look name what it found?"""

from passcheck.judge.look import judge_look


def test_a_look_without_a_finding_passes() -> None:
    found = judge_look(["J1 pins", "C7 top"], {})
    assert (found.verdict, found.sentence) == ("pass", "2 of 2 points as they should be.")


def test_a_bulged_capacitor_fails_with_what_was_seen() -> None:
    found = judge_look(["J1 pins", "C7 top"], {2: "bulged"})
    assert (found.verdict, found.outside) == ("fail", True)
    assert "1 of 2 points" in found.sentence
    assert "C7 top (bulged)" in found.sentence

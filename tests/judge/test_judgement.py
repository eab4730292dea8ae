"""Does the worst judgement decide for all?"""

from itertools import permutations
from typing import get_args

from passcheck.judge.judgement import RULES, Rule, Verdict, judged_without_number, worst_of


def test_a_fail_decides_whatever_is_still_open() -> None:
    order: list[Verdict] = ["fail", "not measured", "in doubt", "pass"]
    assert set(order) == set(get_args(Verdict))
    for kept in range(1, 5):
        for mixed in permutations(order[-kept:]):
            judgements = [judged_without_number(verdict, f"It is {verdict}.", "each") for verdict in mixed]
            assert worst_of(judgements).verdict == order[-kept]


def test_one_thing_outside_makes_all_of_it_outside() -> None:
    clean, wrong = (judged_without_number(verdict, "Seen.", "each") for verdict in ("pass", "fail"))
    assert worst_of([clean, wrong]).outside
    assert not worst_of([clean, clean]).outside


def test_every_rule_has_its_words() -> None:
    assert set(get_args(Rule)) <= set(RULES)

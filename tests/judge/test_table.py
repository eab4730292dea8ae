"""Does the worst row of a table decide?"""

import pytest

from passcheck.errors import OurBug
from passcheck.judge.accuracy import parse_accuracy
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import parse_reading
from passcheck.judge.table import judge_table

ROWS = [
    ("10 Ω", parse_limits("0.40 V .. 0.60 V")),
    ("46 Ω", parse_limits("2.30 V .. 2.70 V")),
    ("90 Ω", parse_limits("4.85 V .. 5.15 V")),
]


def judged(*outputs: str) -> Judgement:
    """Judge the outputs for three sender resistances."""
    return judge_table(ROWS, [[parse_reading(each, "V")] for each in outputs], parse_accuracy("0.5 % + 1 digit"))


def test_a_table_with_every_output_inside_passes() -> None:
    found = judged("0.50", "2.50", "5.00")
    assert found.verdict == "pass"
    assert "3 of 3 rows pass" in found.sentence


@pytest.mark.parametrize(
    ("outputs", "verdict", "row"),
    [
        (("0.50", "3.50", "5.00"), "fail", "46 Ω"),
        (("0.50", "2.50", "5.15"), "in doubt", "90 Ω"),
        (("OL", "2.50", "5.15"), "not measured", "10 Ω"),
        (("0.50", "2.50"), "not measured", "90 Ω"),
        (("0.10",), "fail", "10 Ω"),
    ],
)
def test_the_worst_row_decides_and_is_named(outputs: tuple[str, ...], verdict: str, row: str) -> None:
    found = judged(*outputs)
    assert found.verdict == verdict
    assert f"decides: {row}" in found.sentence


def test_more_outputs_than_rows_are_our_bug() -> None:
    with pytest.raises(OurBug):
        judged("1", "2", "3", "4")

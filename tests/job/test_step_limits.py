"""Does a step say all that it is judged by?"""

from pathlib import Path

import pytest

from passcheck.job.step_limits import judged_by
from passcheck.sequence.load import read_sequence

BOARD = Path(__file__).parents[2] / "sequences" / "ov-24p.yaml"


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("a06", "Limits: 4.85 V .. 5.15 V"),
        ("a10", "Class C or better, back at most 3.0 s"),
        ("a01", "This step has no numbers: everything on it has to be as it says."),
    ],
)
def test_a_step_says_its_limits_as_the_author_wrote_them(step: str, words: str) -> None:
    assert judged_by(read_sequence(BOARD.read_text(encoding="utf-8"), BOARD.name).step(step)) == words

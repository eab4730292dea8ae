"""Is a screen that shows more than its file found out, and one that is merely behind left in peace?"""

import hand
import pytest
from borne_out import Claim, ahead, missing
from rig import Rig

import sequences
from passcheck.job.answers import ReadingAnswer
from passcheck.job.commands import Attempt
from passcheck.job.journal_line import Line

HEAD = " JOB A31-0001  LB-3 rev 1  unit 7Q22051  run 1 acceptance  at the bench: t1"
PLACE = "▌ step 2 of 3   2 left, about 2 min   acceptance   not walked yet"
RESULT = " █▀▀▄ ▄▀▀▄ ▄▀▀▀ ▄▀▀▀  5 V rail to 0 V, unpowered: 50.1 kΩ is inside at least"


@pytest.fixture
def rig() -> Rig:
    return Rig(sequences.sequence())


@pytest.fixture
async def lines(rig: Rig) -> tuple[Line, ...]:
    """A job whose acceptance began and whose first step passed."""
    bench = await rig.job()
    guard = Attempt("t1", sequences.GUARD, ReadingAnswer(("50.1 kΩ",)))
    await rig.do(bench, hand.start(bench.job), guard)
    return rig.files.read_job(bench.job.id)


async def test_a_screen_that_shows_what_the_file_holds_is_not_ahead(rig: Rig, lines: tuple[Line, ...]) -> None:
    assert ahead([HEAD, PLACE, RESULT], lines, rig.boards.read) == ()


async def test_a_screen_that_is_behind_its_file_is_not_ahead(rig: Rig, lines: tuple[Line, ...]) -> None:
    before = [HEAD.replace("run 1 acceptance", "no run open"), PLACE.replace("2 left", "3 left")]
    assert ahead(before, lines, rig.boards.read) == ()


@pytest.mark.parametrize(
    ("row", "shown", "instead"),
    [
        (HEAD, "run 1 acceptance", "run 2 retest"),
        (HEAD, "run 1 acceptance", "ended: signed off"),
        (HEAD, "7Q22051", "7Q22052"),
        (PLACE, "2 left", "1 left"),
        (RESULT, "50.1", "50.2"),
    ],
)
async def test_each_fact_that_no_state_of_the_file_bears_out_is_named(
    rig: Rig, lines: tuple[Line, ...], row: str, shown: str, instead: str
) -> None:
    (said,) = ahead([row.replace(shown, instead)], lines, rig.boards.read)
    assert said.startswith("the screen shows")


async def test_a_screen_of_a_job_whose_last_line_is_gone_is_ahead(rig: Rig, lines: tuple[Line, ...]) -> None:
    assert len(ahead([HEAD, PLACE, RESULT], lines[:-1], rig.boards.read)) == 2
    assert len(ahead([HEAD, PLACE, RESULT], (), rig.boards.read)) == 4


async def test_an_acknowledgement_that_was_made_up_is_counted_as_lost(lines: tuple[Line, ...]) -> None:
    started = Claim("run started", {"run": 1})
    assert missing([started, Claim("attempt judged", {"step": sequences.GUARD})], lines) == ()
    made_up = [
        Claim("run started", {"run": 2}),
        Claim("attempt judged", {"step": sequences.GUARD}, 2),
        Claim("resumed"),
    ]
    assert len(missing([started, *made_up], lines)) == len(made_up)

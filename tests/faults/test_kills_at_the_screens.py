"""Is everything that a screen acknowledged on disk, whenever and however the program ends?

A few ends of the real program; `tests/benchmarks/kills.py` goes on for as long as it is told.
"""

import sys
from pathlib import Path

import pytest
from kill_tally import Tally

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="a pty and kill -9 are Unix")

if sys.platform != "win32":
    from screen_kills import ScreenKills
    from struck_terminal import Strike

    STRIKES = (
        Strike("KILL", after=3, aim="a write"),
        Strike("KILL", after=1, aim="a frame"),
        Strike("TERM", after=1, delay_s=0.05),
        Strike("KILL", after=2, delay_s=0.02),
        Strike("closed terminal", after=1, aim="a write"),
        Strike("KILL", after=2, aim="a frame", nth=3),
    )
    FORGETFUL = Path(__file__).with_name("forgetful.py")


@pytest.fixture(scope="session")
def bytecode(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("bytecode")


def test_nothing_that_a_screen_acknowledged_is_lost_by_any_end(tmp_path: Path, bytecode: Path) -> None:
    bench, tally = ScreenKills(tmp_path, 1, bytecode), Tally()
    for strike in STRIKES:
        tally.add(bench.strike(strike))
    tally.add(bench.close_the_books())
    assert (tally.lost, tally.altered, tally.ahead, tally.stuck) == ([], [], [], [])
    assert tally.kills == {"KILL": 4, "TERM": 1, "closed terminal": 1}
    assert tally.acknowledged >= sum(strike.after for strike in STRIKES)


def test_a_program_that_acknowledges_before_it_keeps_is_found_out(tmp_path: Path, bytecode: Path) -> None:
    bench = ScreenKills(tmp_path, 1, bytecode, program=(sys.executable, str(FORGETFUL)))
    tally = bench.strike(Strike("KILL", after=2))
    assert tally.stuck == []
    assert [one for one in tally.lost if "run started" in one or "jotted" in one], tally.wrongs()

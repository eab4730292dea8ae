"""Does the bench in memory carry a unit from arrival to release, for every small board?"""

import pytest
from rig import Rig

import sequences
from passcheck.bench.bench import Done
from passcheck.job.commands import SignOff
from passcheck.sequence.model import Sequence

WALKABLE = {
    "three steps": sequences.sequence(),
    "little energy": sequences.little_energy(),
    "much energy": sequences.much_energy(),
    "arrival and final": sequences.with_arrival_and_final(),
}


@pytest.mark.parametrize("board", WALKABLE.values(), ids=WALKABLE.keys())
async def test_a_good_unit_goes_from_arrival_to_sign_off(board: Sequence) -> None:
    rig = Rig(board)
    bench = await rig.job()
    await rig.walk(bench)
    done = await bench.do(SignOff("t1", bench.job.serial))
    assert isinstance(done, Done)
    assert done.job.ended == "signed off", done.job.refused
    assert rig.files.seals == 1

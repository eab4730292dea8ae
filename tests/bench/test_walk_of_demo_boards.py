"""Can every step of the demo boards be answered, from arrival to as far as a bench without burn-in gets?"""

from pathlib import Path

import hand
import pytest
from rig import Rig

from passcheck.job.gate import blockers

FILES = sorted((Path(__file__).parent.parent.parent / "sequences").glob("*.yaml"))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
async def test_a_good_unit_passes_every_step_of_a_demo_board(file: Path) -> None:
    rig = Rig(file.read_text(encoding="utf-8"))
    sequence = rig.boards.listed()[0].sequence
    assert sequence is not None
    bench = await rig.job(serial=hand.serial(sequence))
    await rig.do(bench, hand.start(bench.job, "acceptance", "k9", "t2"))
    walked: set[tuple[str, str]] = set()
    while planned := hand.still_open(bench.job, walked):
        await rig.walk_step(bench, planned.step.id, "k9")
    await rig.make_safe(bench, "k9")
    open_steps = {one.step for one in blockers(bench.job, bench.outside(), bench.moment())}
    soaks = {step.id for step in sequence.steps if step.kind == "soak" or step.role == "final"}
    asks_for_papers = {step.id for step in sequence.steps if step.photo or step.note or step.witness}
    assert open_steps - soaks - asks_for_papers <= {None}, "burn-in, what comes after it, papers, put back"


def test_there_are_demo_boards() -> None:
    assert {file.stem for file in FILES} == {"ov-24p", "ek-8", "qm-48", "th-12", "pm-7"}

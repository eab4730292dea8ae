"""What do the shop's sealed journals say of earlier repairs, and does one that is damaged spoil the others?"""

from dataclasses import replace

import hand
from rig import Rig

import sequences
from passcheck.bench.bench import Bench
from passcheck.bench.past_repairs import PastRepairs, RepairReader
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.commands import CloseRun, LogRework, ReturnUnrepaired, SignOff
from passcheck.job.confirmed import Confirmed, Repair
from passcheck.job.journal_line import Line
from passcheck.job.shelf_row import DAMAGED, ShelfRow
from sequences import GUARD, RAIL

RAIL_SUPPLY = Repair("PWR", 1, frozenset({RAIL}), frozenset({GUARD, RAIL}))


async def mended(rig: Rig, serial: str, sequence: str | None = None) -> Bench:
    """A unit whose rail failed, whose supply was reworked, and that was tested again and closed."""
    bench = await rig.job(serial=serial, sequence=sequence)
    await rig.do(bench, hand.start(bench.job, "as-found"))
    await rig.walk_step(bench, GUARD)
    await rig.power(bench, RAIL)
    await rig.do(bench, hand.failing(bench.job, RAIL))
    await rig.make_safe(bench)
    await rig.do(bench, CloseRun("t1"), LogRework("t1", ("PWR",), ("F1",), "replaced", "tarnished"))
    return await rig.walk(bench)


async def signed_off(rig: Rig, serial: str, sequence: str | None = None) -> str:
    bench = await mended(rig, serial, sequence)
    await rig.do(bench, SignOff("t1", bench.job.serial))
    assert bench.job.ended == "signed off", bench.job.refused
    return bench.job.id


class Watched:
    """The rig's journals, with a list of what was read, and some that can't be."""

    def __init__(self, rig: Rig) -> None:
        self.rig = rig
        self.read: list[str] = []
        self.broken: dict[str, Exception] = {}

    def read_job(self, job_id: str) -> tuple[Line, ...]:
        self.read.append(job_id)
        if job_id in self.broken:
            raise self.broken[job_id]
        return self.rig.files.read_job(job_id)


def reader(watched: Watched) -> RepairReader:
    return RepairReader(watched, watched.rig.boards.read)  # type: ignore[arg-type]  # only read_job is asked


def nothing(name: str = "LB-3") -> PastRepairs:
    return PastRepairs(Confirmed(name))


async def test_every_signed_off_job_of_the_board_counts_and_no_other() -> None:
    other = sequences.sequence().model_copy(update={"sequence": "LB-9"})
    rig = Rig(sequences.sequence(), other)
    assert rig.shop.past_repairs("LB-3") == nothing()
    await signed_off(rig, "7Q22051")
    await signed_off(rig, "7Q22052")
    await signed_off(rig, "7Q22053", "LB-9")
    await mended(rig, "7Q22054")
    back = await mended(rig, "7Q22055")
    await rig.do(back, ReturnUnrepaired("t1", "owner declines"))
    assert rig.shop.past_repairs("LB-3") == PastRepairs(Confirmed("LB-3", 2, (RAIL_SUPPLY,) * 2))
    assert rig.shop.past_repairs("LB-9").confirmed.jobs == 1
    assert rig.shop.past_repairs("GHOST") == nothing("GHOST")


async def test_a_sealed_journal_is_read_once() -> None:
    rig = Rig()
    first = await signed_off(rig, "7Q22051")
    watched = Watched(rig)
    asked = reader(watched)
    once = asked.past_repairs("LB-3", rig.shop.shelf())
    assert asked.past_repairs("LB-3", rig.shop.shelf()) == once
    assert watched.read == [first]
    second = await signed_off(rig, "7Q22052")
    assert asked.past_repairs("LB-3", rig.shop.shelf()).confirmed.jobs == 2
    assert watched.read == [first, second]


async def test_a_damaged_journal_is_named_and_takes_nothing_from_the_others() -> None:
    rig = Rig()
    good, altered, gone, odd = [await signed_off(rig, f"7Q2205{number}") for number in range(4)]
    watched = Watched(rig)
    watched.broken = {altered: FileFault("altered"), gone: BenchFailed("no rights"), odd: ValueError("no such hour")}
    answer = reader(watched).past_repairs("LB-3", rig.shop.shelf())
    assert answer == PastRepairs(Confirmed("LB-3", 1, (RAIL_SUPPLY,)), (altered, gone, odd))
    assert good not in answer.unread
    watched.broken = {}
    assert reader(watched).past_repairs("LB-3", rig.shop.shelf()).unread == ()


async def test_a_job_that_even_the_shelf_can_t_read_is_named() -> None:
    rig = Rig()
    row = ShelfRow("A31-0009", "", "", "", "", DAMAGED, "", "", "", blockers=1, ended=None)
    assert reader(Watched(rig)).past_repairs("LB-3", (row,)) == PastRepairs(Confirmed("LB-3"), ("A31-0009",))


async def test_a_journal_under_another_job_s_name_is_no_evidence() -> None:
    rig = Rig()
    job_id = await signed_off(rig, "7Q22051")
    (row,) = rig.shop.shelf()
    rig.files.journals["A31-0002"] = rig.files.journals[job_id]
    answer = reader(Watched(rig)).past_repairs("LB-3", (row, replace(row, job="A31-0002")))
    assert answer == PastRepairs(Confirmed("LB-3", 1, (RAIL_SUPPLY,)), ("A31-0002",))


async def test_the_shop_asks_one_reader() -> None:
    rig = Rig()
    await signed_off(rig, "7Q22051")
    first = rig.shop.past_repairs("LB-3")
    rig.files.journals.clear()
    assert first.confirmed.jobs == 1
    assert rig.shop.past_repairs("LB-3") == nothing()

"""Do practice and the bench keep out of each other's jobs, even where their journals lie in one place?"""

from dataclasses import replace

import pytest
from rig import TERMINAL, Rig, settings

import sequences
from passcheck.bench.bench import Bench
from passcheck.bench.own_jobs import own_lines
from passcheck.bench.shop import Shop
from passcheck.errors import FileFault
from passcheck.job.arrival import Arrive
from passcheck.job.commands import AddNote, Refusal
from passcheck.job.shelf_row import DAMAGED, ShelfRow, damaged_row
from passcheck.practice.memory import MemoryFiles, MemorySettings, MemoryShelf


def shop(rig: Rig, files: MemoryFiles, *, practice: bool) -> Shop:
    """A shop of that kind on these journals."""
    kept = MemorySettings(settings())
    shelf = MemoryShelf(files)
    return Shop(files, shelf, rig.boards, kept, rig.clock, lambda: "test", TERMINAL, lambda: 0.5, practice=practice)


async def taken(by: Shop, serial: str = "7Q22051", with_job: str | None = None) -> Bench:
    bench = await by.arrive(Arrive("t1", "LB-3", serial, "dim", with_job=with_job))
    assert isinstance(bench, Bench), bench
    return bench


@pytest.mark.parametrize("practice", [True, False])
async def test_every_job_of_a_shop_is_marked_as_what_the_shop_is(practice: bool) -> None:
    rig, files = Rig(), MemoryFiles()
    one = shop(rig, files, practice=practice)
    first = await taken(one)
    second = await taken(one, "7Q22052", first.job.id)
    assert {first.job.facts.practice, second.job.facts.practice} == {practice}
    assert [row.practice for row in one.shelf()] == [practice, practice]
    assert one.practice is practice
    await one.close()
    again = await one.open(first.job.id, "t1")
    assert again.job.facts.practice is practice


@pytest.mark.parametrize(
    ("practice", "said"),
    [(False, "A31-0001 was made in practice and is no evidence"), (True, "A31-0001 is of a real unit")],
)
async def test_a_journal_of_the_other_kind_is_neither_listed_as_a_unit_nor_read_nor_taken_up(
    practice: bool, said: str
) -> None:
    rig, files = Rig(), MemoryFiles()
    other = shop(rig, files, practice=not practice)
    bench = await taken(other)
    await rig.do(bench, AddNote("t1", "flux on R41"))
    await other.close()
    here = shop(rig, files, practice=practice)
    assert here.shelf() == (damaged_row("A31-0001", practice=practice),)
    assert here.find("7Q22051") == ()
    lines = files.read_job("A31-0001")
    with pytest.raises(FileFault, match=said):
        here.look("A31-0001")
    with pytest.raises(FileFault, match=said):
        await here.open("A31-0001", "t1")
    with pytest.raises(FileFault, match=said):
        here.came_together("A31-0001")
    refusal = await here.arrive(Arrive("t1", "LB-3", "7Q22052", "dim", with_job="A31-0001"))
    assert isinstance(refusal, Refusal)
    assert said in refusal.sentence
    assert files.read_job("A31-0001") == lines, "nothing is written into it"
    assert files.job_ids() == ("A31-0001",)


async def test_a_unit_of_practice_never_came_with_a_real_one() -> None:
    rig, files = Rig(), MemoryFiles()
    real = shop(rig, files, practice=False)
    first = await taken(real)
    line = files.read_job("A31-0001")[0]
    copied = {**line.data, "practice": True, "arrived_with": "A31-0001"}
    files.journals["A31-0002"] = [replace(line, data=copied)]
    assert [one.job for one in real.came_together(first.job.id)] == ["A31-0001"]


async def test_a_summary_that_was_copied_across_is_not_believed() -> None:
    class Copied:
        """A shelf that still has its rows from the other folder."""

        def rows(self, _summarise: object) -> tuple[ShelfRow, ...]:
            return (ShelfRow("A31-0001", "7Q22051", "LB-3", "1", "Box", "sign", "", "", "", 0, None, practice=True),)

    rig, files = Rig(sequences.sequence()), MemoryFiles()
    kept = MemorySettings(settings())
    real = Shop(files, Copied(), rig.boards, kept, rig.clock, lambda: "test", TERMINAL, lambda: 0.5)
    (row,) = real.shelf()
    assert (row.waits_for, row.serial, row.practice) == (DAMAGED, "", False)


async def test_a_journal_from_before_there_was_practice_is_a_real_unit_s() -> None:
    rig = Rig()
    bench = await rig.job()
    line = rig.files.read_job(bench.job.id)[0]
    older = replace(line, data={name: value for name, value in line.data.items() if name != "practice"})
    assert own_lines((older,), practice=False) == (older,)
    with pytest.raises(FileFault):
        own_lines((older,), practice=True)
    assert own_lines((), practice=True) == ()

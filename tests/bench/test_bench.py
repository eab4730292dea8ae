"""How is one job carried? In the queue's order, on disk before anybody is told, and again after anything failed."""

import asyncio
import threading

import hand
import pytest
from rig import Rig

import sequences
from passcheck.bench.bench import Bench, Done
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.commands import AddNote, CallMakeSafe, CloseRun, Command, Refusal, ReviseSequence, SignOff
from passcheck.job.fold import fold
from passcheck.job.power import told
from passcheck.job.replay import recorded
from sequences import GUARD, LAMPS


def events(rig: Rig, bench: Bench) -> list[str]:
    return [line.event for line in rig.files.journals[bench.job.id]]


class HeldDisk:
    """Holds the writer inside its first append until it is let go."""

    def __init__(self, rig: Rig) -> None:
        self.reached = threading.Event()
        self._go = threading.Event()
        rig.files.before_append = self._wait

    def _wait(self) -> None:
        self.reached.set()
        assert self._go.wait(10)

    async def writing(self) -> None:
        """Return when something is being written."""
        await asyncio.to_thread(self.reached.wait, 10)

    def let_go(self) -> None:
        """Let the writer go on, now and later."""
        self._go.set()


async def queued(bench: Bench, *commands: Command) -> "list[asyncio.Task[Done | Refusal]]":
    """The commands put into the queue in this order, none of them waited for."""
    tasks = []
    for command in commands:
        tasks.append(asyncio.create_task(bench.do(command)))
        await asyncio.sleep(0)  # lets the task run as far as its place in the queue
    return tasks


async def test_commands_are_carried_out_in_the_order_in_which_they_came() -> None:
    rig = Rig()
    bench = await rig.job()
    notes = [AddNote("t1", f"note {number}") for number in range(5)]
    await asyncio.gather(*(bench.do(note) for note in notes))
    assert [note.text for note in bench.job.notes] == [note.text for note in notes]


async def test_make_safe_overtakes_what_waits_and_is_stamped_at_the_key() -> None:
    rig = Rig()
    bench = await rig.job()
    held = HeldDisk(rig)
    tasks = await queued(bench, AddNote("t1", "being written"))
    await held.writing()
    rig.clock.pass_time(seconds=1)
    tasks += await queued(bench, AddNote("t1", "waits"), CallMakeSafe("t1"))
    rig.clock.pass_time(seconds=30)
    held.let_go()
    await asyncio.gather(*tasks)
    lines = rig.files.journals[bench.job.id]
    assert [line.event for line in lines] == ["job opened", "note added", "power told", "note added"]
    assert lines[2].at == "2031-04-02T08:00:01.000Z", "the time of the key, not of its turn"
    assert lines[3].at == "2031-04-02T08:00:31.000Z"


async def test_a_command_is_decided_on_what_the_one_before_it_left() -> None:
    rig = Rig()
    bench = await rig.job()
    first, second = await asyncio.gather(bench.do(hand.start(bench.job)), bench.do(hand.start(bench.job)))
    assert isinstance(first, Done)
    assert isinstance(second, Refusal)


async def test_nothing_is_shown_before_it_is_kept() -> None:
    rig = Rig()
    bench = await rig.job()
    held = HeldDisk(rig)
    before = bench.job
    (task,) = await queued(bench, AddNote("t1", "being written"))
    await held.writing()
    assert bench.job is before
    assert not task.done()
    held.let_go()
    await task
    assert bench.job.notes != ()


async def test_what_is_shown_is_what_the_disk_holds() -> None:
    rig = Rig(sequences.much_energy())
    bench = await rig.walk(await rig.job())
    assert fold(recorded(rig.files.journals[bench.job.id]), rig.boards.read) == bench.job


async def test_a_disk_that_refuses_changes_nothing() -> None:
    rig = Rig()
    bench = await rig.job()
    before = bench.job
    rig.files.refusals = 1
    with pytest.raises(BenchFailed, match="Make room"):
        await bench.do(AddNote("t1", "lost"))
    assert bench.job == before
    assert events(rig, bench) == ["job opened"]


async def test_after_a_failure_the_next_command_opens_the_journal_again() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job), hand.passing(bench.job, GUARD))
    await rig.power(bench, LAMPS)
    rig.files.refusals = 1
    with pytest.raises(BenchFailed):
        await bench.do(AddNote("t1", "lost"))
    await rig.do(bench, AddNote("t1", "kept"))
    assert events(rig, bench)[-2:] == ["resumed", "note added"]
    assert [note.text for note in bench.job.notes] == ["kept"]
    assert told(bench.job, bench.moment()) == {"battery": "unknown"}


async def test_a_failure_tells_only_the_command_that_it_hit() -> None:
    rig = Rig()
    bench = await rig.job()
    rig.files.refusals = 1
    lost, kept = await asyncio.gather(
        bench.do(AddNote("t1", "lost")), bench.do(AddNote("t1", "kept")), return_exceptions=True
    )
    assert isinstance(lost, BenchFailed)
    assert isinstance(kept, Done)


async def test_what_can_not_be_folded_never_reaches_the_disk() -> None:
    rig = Rig()
    bench = await rig.job()
    refusal = await rig.refused(bench, ReviseSequence("t1", "steps: [", "00", "new file"))
    assert refusal.code == "entry"
    assert events(rig, bench) == ["job opened"]
    await rig.do(bench, AddNote("t1", "the job goes on"))


async def test_a_refusal_writes_nothing() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.refused(bench, hand.passing(bench.job, GUARD))
    assert events(rig, bench) == ["job opened"]


async def test_a_fail_and_a_seal_are_told_to_the_ledger() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job), hand.failing(bench.job, GUARD))
    assert (rig.files.fails, rig.files.seals) == (1, 0)
    await rig.do(bench, hand.rework("PWR"))
    rig.restart()
    bench = await rig.shop.open(bench.job.id, "t1")
    await rig.do(bench, CloseRun("t1"))
    await rig.walk(bench)
    await rig.do(bench, SignOff("t1", bench.job.serial))
    assert (bench.job.ended, rig.files.seals) == ("signed off", 1)


async def test_a_sealed_job_takes_nothing_more() -> None:
    rig = Rig()
    bench = await rig.walk(await rig.job())
    await rig.do(bench, SignOff("t1", bench.job.serial))
    lines = len(events(rig, bench))
    assert (await rig.refused(bench, AddNote("t1", "one more"))).code == "ended"
    assert len(events(rig, bench)) == lines


async def test_a_job_put_back_on_the_shelf_asks_to_be_opened_again() -> None:
    rig = Rig()
    bench = await rig.job()
    await bench.close()
    await bench.close()
    with pytest.raises(BenchFailed, match="Open it again"):
        await bench.do(AddNote("t1", "late"))
    again = await rig.shop.open(bench.job.id, "t1")
    await rig.do(again, AddNote("t1", "in time"))


async def test_closing_finishes_what_waits() -> None:
    rig = Rig()
    bench = await rig.job()
    tasks = await queued(bench, AddNote("t1", "one"), AddNote("t1", "two"))
    await bench.close()
    await asyncio.gather(*tasks)
    assert events(rig, bench) == ["job opened", "note added", "note added"]


async def test_a_bench_keeps_time_to_the_millisecond_as_its_journal_does() -> None:
    rig = Rig()
    bench = await rig.job()
    rig.clock.pass_time(seconds=0.0015)
    await rig.do(bench, AddNote("t1", "x"))
    assert fold(recorded(rig.files.journals[bench.job.id]), rig.boards.read) == bench.job


async def test_a_journal_that_disappeared_is_a_fault_and_not_a_crash() -> None:
    rig = Rig()
    bench = await rig.job()
    rig.files.refusals = 1
    with pytest.raises(BenchFailed):
        await bench.do(AddNote("t1", "lost"))
    del rig.files.journals[bench.job.id]
    with pytest.raises(FileFault):
        await bench.do(AddNote("t1", "where"))


async def test_people_are_read_from_the_settings_as_they_are_now() -> None:
    rig = Rig()
    bench = await rig.job()
    people = {**rig.settings.current.people}
    del people["t1"]
    rig.settings.current = rig.settings.current.model_copy(update={"people": people})
    assert (await rig.refused(bench, AddNote("t1", "x"))).code == "person"
    await rig.do(bench, AddNote("t2", "x"))

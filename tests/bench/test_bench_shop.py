"""Which units are on the shelf, and how is one taken in or taken up?"""

import asyncio
import threading
from datetime import UTC
from pathlib import Path

import hand
import pytest
from rig import TERMINAL, Rig, RigBoards, RigClock, settings

import sequences
from passcheck.bench.arrivals import Arrived
from passcheck.bench.bench import Bench
from passcheck.bench.shop import Shop
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.arrival import Arrive
from passcheck.job.carried import Carried
from passcheck.job.commands import AddNote, Refusal, SignOff
from passcheck.job.power import told
from passcheck.practice.memory import MemoryFiles, MemorySettings, MemoryShelf
from passcheck.records.shop import LogFolder
from sequences import GUARD, LAMPS, RAIL


def events(rig: Rig, job_id: str) -> list[str]:
    return [line.event for line in rig.files.journals[job_id]]


class TestArrival:
    async def test_a_unit_is_on_disk_with_its_whole_sequence_when_it_is_taken_in(self) -> None:
        rig = Rig()
        bench = await rig.job(serial=" *7q22051*\r")
        (line,) = rig.files.journals[bench.job.id]
        board = rig.boards.listed()[0]
        assert line.data["serial"] == "7Q22051"
        assert line.data["complaint"] == "Fuel goes to nothing after half an hour"
        assert (line.data["sequence_text"], line.data["sequence_digest"]) == (board.text, board.digest)

    async def test_the_owner_s_words_are_kept_to_the_last_sign(self) -> None:
        words = "[red]dead[/] \x1b[2J \u202e 'quoted'\n\tand tabbed"
        bench = await Rig().job(complaint=words)
        assert bench.job.facts.complaint == words

    async def test_two_units_are_two_jobs(self) -> None:
        rig = Rig()
        first, second = await rig.job(serial="7Q22051"), await rig.job(serial="7Q22052")
        assert first.job.id != second.job.id
        await rig.do(first, AddNote("t1", "first"))
        assert second.job.notes == ()

    async def test_units_of_one_arrival_name_the_first_of_them(self) -> None:
        rig = Rig()
        first = await rig.job(serial="7Q22051")
        between = await rig.job(serial="7Q33000")
        second = await rig.shop.arrive(Arrive("t1", "LB-3", "7Q22052", "dim", with_job=first.job.id))
        third = await rig.shop.arrive(Arrive("t1", "LB-3", "7Q22053", "dim", with_job="A31-0003"))
        assert isinstance(second, Bench)
        assert isinstance(third, Bench)
        assert [one.job.facts.arrived_with for one in (first, between, second, third)] == ["", "", *["A31-0001"] * 2]
        whole = (Arrived("A31-0001", "7Q22051"), Arrived("A31-0003", "7Q22052"), Arrived("A31-0004", "7Q22053"))
        for one in (first, second, third):
            assert rig.shop.came_together(one.job.id) == whole
        assert rig.shop.came_together(between.job.id) == (Arrived("A31-0002", "7Q33000"),)

    async def test_the_same_unit_does_not_come_in_twice_with_one_arrival(self) -> None:
        rig = Rig()
        first = await rig.job(serial="7Q22051")
        refusal = await rig.shop.arrive(Arrive("t1", "LB-3", "*7q22051*", "dim", with_job=first.job.id))
        assert isinstance(refusal, Refusal)
        assert refusal.sentence == "Unit 7Q22051 came in already: it is job A31-0001."
        assert len(rig.files.journals) == 1

    async def test_an_arrival_that_nobody_knows_is_refused(self) -> None:
        rig = Rig()
        refusal = await rig.shop.arrive(Arrive("t1", "LB-3", "7Q22051", "dim", with_job="A31-0099"))
        assert isinstance(refusal, Refusal)
        assert "A31-0099" in refusal.sentence
        assert rig.files.journals == {}

    @pytest.mark.parametrize(
        ("arrive", "code"),
        [
            (Arrive("t1", "GHOST", "7Q22051", "dim"), "entry"),
            (Arrive("x9", "LB-3", "7Q22051", "dim"), "person"),
            (Arrive("t1", "LB-3", "7Q 22051", "dim"), "unit"),
            (Arrive("t1", "LB-3", "7Q22051", " "), "entry"),
            (Arrive("t1", "LB-3", "7Q22051", "dim", variants=("ghost",)), "entry"),
        ],
    )
    async def test_a_refused_unit_leaves_no_trace(self, arrive: Arrive, code: str) -> None:
        rig = Rig()
        refusal = await rig.shop.arrive(arrive)
        assert isinstance(refusal, Refusal)
        assert refusal.code == code
        assert rig.files.journals == {}

    async def test_a_disk_that_refuses_takes_no_unit_in(self) -> None:
        rig = Rig()
        rig.files.refusals = 1
        with pytest.raises(BenchFailed):
            await rig.job()
        assert rig.shop.shelf() == ()
        assert (await rig.job()).job.serial == "7Q22051"


class TestTakingUp:
    async def test_a_process_says_once_that_it_took_the_job_up(self) -> None:
        rig = Rig()
        job_id = (await rig.job()).job.id
        rig.restart()
        rig.clock.pass_time(minutes=3)
        for _ in range(3):
            bench = await rig.shop.open(job_id, "t2")
            await rig.do(bench, AddNote("t2", "x"))
        assert events(rig, job_id).count("resumed") == 1
        assert rig.files.journals[job_id][1].data["away_ms"] == 180_000
        assert rig.files.journals[job_id][1].by == "t2"

    async def test_the_process_that_took_the_unit_in_resumes_nothing(self) -> None:
        rig = Rig()
        bench = await rig.job()
        assert await rig.shop.open(bench.job.id, "t1") is bench
        await rig.do(bench, AddNote("t1", "x"))
        assert "resumed" not in events(rig, bench.job.id)

    async def test_power_is_unknown_after_a_kill_in_the_middle_of_a_powered_step(self) -> None:
        rig = Rig()
        bench = await rig.job()
        await rig.do(bench, hand.start(bench.job), hand.passing(bench.job, GUARD))
        await rig.power(bench, RAIL)
        rig.restart()
        bench = await rig.shop.open(bench.job.id, "t1")
        assert told(bench.job, bench.moment()) == {"battery": "unknown"}
        assert (await rig.refused(bench, hand.passing(bench.job, RAIL))).code == "power"
        await rig.make_safe(bench)
        await rig.power(bench, RAIL)
        await rig.do(bench, hand.passing(bench.job, RAIL))

    async def test_after_a_restart_of_the_machine_nobody_knows_for_how_long(self) -> None:
        rig = Rig()
        job_id = (await rig.job()).job.id
        rig.restart()
        rig.clock.reboot()
        bench = await rig.shop.open(job_id, "t1")
        assert rig.files.journals[job_id][1].data["away_ms"] is None
        assert bench.job.last.boot_id == "boot-2"

    async def test_two_hands_that_take_one_job_up_at_once_get_the_same_bench(self) -> None:
        rig = Rig()
        job_id = (await rig.job()).job.id
        rig.restart()
        one, two = await asyncio.gather(rig.shop.open(job_id, "t1"), rig.shop.open(job_id, "t2"))
        assert one is two
        assert events(rig, job_id) == ["job opened", "resumed"]

    async def test_a_second_program_is_refused_in_one_sentence(self) -> None:
        rig = Rig()
        bench = await rig.job()
        with pytest.raises(
            BenchFailed, match=r"^Job A31-0001 is in use by another passcheck\. Close it there first\.$"
        ):
            await rig.second_program().open(bench.job.id, "t1")
        await rig.do(bench, AddNote("t1", "the first goes on"))

    async def test_a_second_program_gets_the_job_when_the_first_lets_go(self) -> None:
        rig = Rig()
        bench = await rig.job()
        await rig.shop.close()
        second = rig.second_program()
        again = await second.open(bench.job.id, "t2")
        await rig.do(again, AddNote("t2", "mine now"))

    async def test_looking_takes_nothing_up(self) -> None:
        rig = Rig()
        bench = await rig.job()
        assert rig.second_program().look(bench.job.id) == bench.job
        assert events(rig, bench.job.id) == ["job opened"]

    async def test_a_job_that_is_not_there(self) -> None:
        with pytest.raises(FileFault, match="no job A31-0999"):
            await Rig().shop.open("A31-0999", "t1")

    async def test_a_job_that_ended_is_only_looked_at(self) -> None:
        rig = Rig()
        bench = await rig.walk(await rig.job())
        await rig.do(bench, SignOff("t1", bench.job.serial))
        rig.restart()
        again = await rig.shop.open(bench.job.id, "t1")
        assert again.job.ended == "signed off"
        assert events(rig, bench.job.id)[-1] == "signed off"
        assert (await rig.refused(again, AddNote("t1", "x"))).code == "ended"
        await again.close()


class TestShelf:
    async def test_a_row_a_job_the_oldest_first(self) -> None:
        rig = Rig()
        for serial in ("7Q1", "7Q2", "7Q3"):
            await rig.job(serial=serial)
        assert [row.serial for row in rig.shop.shelf()] == ["7Q1", "7Q2", "7Q3"]
        assert {row.waits_for for row in rig.shop.shelf()} == {"confirm"}

    async def test_a_unit_is_found_by_what_the_scanner_gives_the_latest_visit_first(self) -> None:
        rig = Rig()
        first, second = await rig.job(serial="7Q1"), await rig.job(serial="7Q1")
        await rig.job(serial="7Q2")
        assert [row.job for row in rig.shop.find("*7q1*\r\n")] == [second.job.id, first.job.id]
        assert rig.shop.find("7Q9") == ()

    async def test_a_tag_follows_the_job(self) -> None:
        rig = Rig()
        bench = await rig.walk(await rig.job())
        assert [row.waits_for for row in rig.shop.shelf()] == ["sign"]
        await rig.do(bench, SignOff("t1", bench.job.serial))
        assert [row.ended for row in rig.shop.shelf()] == ["signed off"]


class TestOutside:
    async def test_the_records_word_reaches_the_gate(self) -> None:
        rig = Rig()
        bench = await rig.walk(await rig.job())
        rig.files.faults = ("A31-0001.jsonl, line 3: altered.",)
        await rig.do(bench, SignOff("t1", bench.job.serial))
        assert bench.job.refused == ("A31-0001.jsonl, line 3: altered.",)

    async def test_a_step_that_today_s_file_marks_as_changed_reaches_the_gate(self) -> None:
        rig = Rig()
        bench = await rig.walk(await rig.job())
        changed = sequences.changed_step(LAMPS, changed_in=2).model_copy(update={"revision": 2})
        rig.boards.put(changed)
        assert bench.outside().changed_steps == (LAMPS,)
        await rig.do(bench, SignOff("t1", bench.job.serial))
        assert bench.job.refused == ("Telltales, each alone: changed in today's sequence file.",)

    async def test_a_file_that_was_taken_away_changes_nothing_for_a_job_that_has_its_text(self) -> None:
        rig = Rig()
        bench = await rig.job()
        rig.boards.take_away("LB-3")
        assert bench.outside().todays_digest is None
        assert (await rig.walk(bench)).job.runs[0].outcome == "3 of 3 steps passed"

    def test_what_a_run_took_up_is_handed_to_the_next_of_the_day_only(self) -> None:
        rig = Rig()
        rig.shop.carry({"voltmeter": "M1"}, "22")
        assert rig.shop.carried() == Carried({"voltmeter": "M1"}, "22")
        rig.clock.pass_time(hours=24)
        assert rig.shop.carried() == Carried({})


def shop_in_memory(rig: Rig) -> Shop:
    """The rig's shop, which is told that nothing has to be waited for."""
    shelf, tool = MemoryShelf(rig.files), lambda: "passcheck test"
    return Shop(rig.files, shelf, rig.boards, rig.settings, rig.clock, tool, TERMINAL, rig.chance, in_memory=True)


class TestInMemory:
    async def test_no_thread_is_asked_to_wait(self) -> None:
        rig = Rig()
        rig.shop = shop_in_memory(rig)
        threads: set[int] = set()
        rig.files.before_append = lambda: threads.add(threading.get_ident())
        bench = await rig.walk(await rig.job())
        await bench.close()
        assert threads == {threading.get_ident()}
        assert {line.event for line in rig.files.journals[bench.job.id]} >= {"job opened", "attempt judged"}

    async def test_the_journal_is_the_one_that_a_thread_would_have_kept(self) -> None:
        with_threads, without = Rig(), Rig()
        without.shop = shop_in_memory(without)
        for rig in (with_threads, without):
            await rig.walk(await rig.job())
        assert without.files.journals == with_threads.files.journals

    async def test_a_failure_is_told_and_only_what_was_kept_happened(self) -> None:
        rig = Rig()
        rig.shop = shop_in_memory(rig)
        bench = await rig.job()
        rig.files.refusals = 1
        with pytest.raises(BenchFailed, match="No room"):
            await bench.do(AddNote("t1", "lost"))
        await rig.do(bench, AddNote("t1", "kept"))
        assert [note.text for note in bench.job.notes] == ["kept"]

    async def test_a_job_is_taken_up_and_an_arrival_gone_on_with(self) -> None:
        rig = Rig()
        rig.shop = shop_in_memory(rig)
        first = await rig.job(serial="7Q22051")
        second = await rig.shop.arrive(Arrive("t1", "LB-3", "7Q22052", "dim", with_job=first.job.id))
        assert isinstance(second, Bench)
        rig.restart()
        again = await shop_in_memory(rig).open(second.job.id, "t1")
        assert again.job.facts.arrived_with == first.job.id
        assert events(rig, second.job.id)[-1] == "resumed"


class TestOnARealDisk:
    """The same shop over the records' own files."""

    def shop(self, folder: Path, clock: RigClock) -> Shop:
        boards = RigBoards(sequences.sequence())
        files = LogFolder(folder, "A")
        kept = MemorySettings(settings())
        shelf = MemoryShelf(MemoryFiles())
        return Shop(files, shelf, boards, kept, clock, lambda: "passcheck test", TERMINAL, lambda: 0.5)

    async def test_a_job_goes_on_where_the_first_program_let_go(self, tmp_path: Path) -> None:
        clock = RigClock()
        first = self.shop(tmp_path, clock)
        taken = await first.arrive(Arrive("t1", "LB-3", "7Q22051", "dim"))
        assert not isinstance(taken, Refusal)
        await taken.do(AddNote("t1", "flux on R41"))
        second = self.shop(tmp_path, clock)
        with pytest.raises(BenchFailed) as refused:
            await second.open(taken.job.id, "t2")
        assert "\n" not in str(refused.value)
        await first.close()
        again = await second.open(taken.job.id, "t2")
        assert [note.text for note in again.job.notes] == ["flux on R41"]
        assert again.job.opened.utc.tzinfo is UTC
        await second.close()

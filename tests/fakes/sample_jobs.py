"""What happens to the units of the sample journals: one story for each way a job can end and go on.

Told by commands to the real core and kept by the real records, so that a journal holds what a shop would hold. Nothing
is left to chance; the same files come out each time. A story that is changed makes other files: they belong into a new
set (`tests/samples/journals/make_samples.py`), because those that are there are kept as they are.
"""

import asyncio
from collections.abc import Awaitable, Callable, Mapping
from pathlib import Path

import hand
import soaking
from sample_rig import FiledRig
from tapping import HOW, TapHand
from telling import Stretch, Telling

from passcheck.bench.bench import Bench
from passcheck.bench.step_course import course_of
from passcheck.bench.tapped_answers import pairs_answer
from passcheck.bench.unit_trials import UnitCourse
from passcheck.job import commands
from passcheck.job.answers import Departure, ListAnswer, ReadingAnswer, TapPair
from passcheck.job.arrival import Arrive
from passcheck.job.commands import Refusal
from passcheck.job.fold import fold
from passcheck.job.journal_line import Line
from passcheck.job.replay import recorded, stamp
from passcheck.job.tapped import beside

SAMPLES = Path(__file__).parents[1] / "samples"
LAMP_BOX, PANEL, REMOTE = "LB-1", "OV-24P-MINI", "TB-1"
TARNISHED = ReadingAnswer(("3.2 Ω",), leads="0.1 Ω")
RIPPLE = ReadingAnswer(("142 mVpp",))
LEDGERS_WRITE = 4
"""Of the writes after a failed sync: the copy, the line that says so, the resuming, the fail, the ledger's line."""
Story = Callable[[FiledRig], Awaitable[Bench]]


async def signed_off_after_repair(rig: FiledRig) -> Bench:
    """Signed off after a repair; a sign-off was refused on the way"""
    told = await _arrived(rig, PANEL, "Panel restarts when the engine cranks", serial="7Q22051")
    await told.do(commands.MapComplaint("t1", ("restarts",), ("low line 16 V",)))
    await told.begin("as-found")
    await told.walk({"ripple-5v": RIPPLE})
    await told.do(commands.Jot("t1", "C7 top", "0.9 V", "M1"), commands.AddNote("t1", "C7 läuft aus — 85 °C part"))
    await told.end()
    await told.do(commands.SignOff("t1", told.job.serial))
    capacitors = ("C1", "C2", "C7", "C11")
    await told.do(commands.LogRework("t1", ("PWR",), capacitors, "replaced", "C7 leaks", part_number="16 V, 105 °C"))
    await told.begin("retest")
    await told.walk()
    await told.end()
    await told.out_of_the_door()
    return told.bench


async def signed_off_with_a_soak(rig: FiledRig) -> Bench:
    """Signed off after two hours at power, one look late"""
    rig.boards.put(_board("journals/lamp-box-3"))
    told = await _arrived(rig, LAMP_BOX, "Lamp stays dark")
    await _found_and_cleaned(told)
    await told.begin("acceptance")
    await told.walk()
    await told.end()
    await told.burn_in(uncommon={1: Stretch(late_min=25)})
    await told.out_of_the_door()
    rig.boards.put(_board("lamp-box"))
    return told.bench


async def returned_as_it_came(rig: FiledRig) -> Bench:
    """Returned unrepaired before any run; the owner doesn't want it done"""
    told = await _arrived(rig, LAMP_BOX, "Lamp stays dark; only if it is cheap")
    await told.do(
        commands.AgreeOwner("t1", "nothing is done", "Owner, by telephone"),
        commands.ReturnUnrepaired("t1", "The owner keeps it as it is."),
    )
    return told.bench


async def returned_beyond_repair(rig: FiledRig) -> Bench:
    """Returned unrepaired after its fault was found"""
    told = await _arrived(rig, LAMP_BOX, "Lamp stays dark, smelled of burning")
    await told.do(commands.MapComplaint("t1", ("dark",)))
    await told.begin("as-found")
    await told.walk({"fuse": TARNISHED}, until="power-up")
    await told.end()
    await told.do(commands.ReturnUnrepaired("t1", "The board is burnt through under D1."))
    return told.bench


async def returned_in_part(rig: FiledRig) -> Bench:
    """Returned repaired in part; the lens stays cracked by the owner's choice"""
    told = await _arrived(rig, LAMP_BOX, "Lamp stays dark")
    cracked = ListAnswer((Departure(1, "cracked"),))
    await told.do(commands.MapComplaint("t1", ("dark",)))
    await told.begin("as-found")
    await told.walk({"look-in": cracked, "fuse": TARNISHED}, until="power-up")
    await told.end()
    await told.do(commands.LogRework("t1", ("PWR",), ("F1",), "cleaned", "tarnished contacts"))
    await told.begin("acceptance")
    await told.walk(leaving=("look-out",))
    await told.tried("look-out", ListAnswer((Departure(1, "a screw is stripped"),)))
    await told.end()
    await told.do(commands.ReturnInPart("t1", "Owner: leave the screw, 2 April"))
    return told.bench


async def no_fault_found(rig: FiledRig) -> Bench:
    """Nothing of the complaint was found; signed off as it is"""
    told = await _arrived(rig, LAMP_BOX, "Lamp goes out now and then")
    await told.do(commands.MapComplaint("t1", ("dark",), ("cold",)))
    await told.begin("as-found")
    await told.walk()
    await told.tried("fuse", under=("cold",))
    await told.end()
    await told.do(commands.AddNote("t1", "30 min in the cold chamber: lit all the time", "fuse"))
    await told.begin("acceptance")
    await told.walk()
    await told.end()
    await told.out_of_the_door()
    return told.bench


async def never_taken_up(rig: FiledRig) -> Bench:
    """Open; nothing but its arrival"""
    told = await _arrived(rig, LAMP_BOX, "Lamp stays dark")
    return told.bench


async def left_under_power(rig: FiledRig) -> Bench:
    """Open; the program ended twice with the supply told on: once it was read again, then nothing is known of it"""
    told = await _arrived(rig, LAMP_BOX, "Lamp flickers")
    await told.begin("as-found")
    await told.walk(until="look-out")
    await rig.leave()
    rig.clock.pass_time(minutes=2)
    back = await rig.shop.open(told.job.id, "t1")
    await rig.do(back, commands.ReadSupply("t1", "battery", "12.0 V", "0.04 A", limit_light=False))
    await rig.leave()
    rig.clock.reboot(minutes=40)
    return await rig.shop.open(told.job.id, "t1")


async def torn(rig: FiledRig) -> Bench:
    """Open; a crash left a part of a line at its end"""
    told = await _arrived(rig, LAMP_BOX, "Lamp stays dark")
    await told.begin("as-found")
    await told.walk_these(("look-in", "input", "fuse"), {"input": ReadingAnswer(("OL",)), "fuse": TARNISHED})
    await told.do(commands.AddNote("t1", "F1 will be cleaned"))
    await rig.dies(told.bench, commands.AddNote("t1", "this one is cut short"), call="write", bytes_taken=101)
    return told.bench


async def mended_twice(rig: FiledRig) -> Bench:
    """Open; torn and mended, then torn in mending and mended once more"""
    told = await _arrived(rig, LAMP_BOX, "Lamp stays dark")
    await told.begin("as-found")
    await told.do(told.attempt(told.job.sequence.step("look-in"), ListAnswer()))
    await rig.dies(told.bench, commands.AddNote("t1", "this one is cut short — häß"), call="write", bytes_taken=104)
    await told.do(told.attempt(told.job.sequence.step("fuse"), TARNISHED))
    await rig.dies(told.bench, commands.AddNote("t1", "and this one"), call="write", bytes_taken=33)
    await rig.dies(told.bench, commands.AddNote("t1", "not reached"), call="write", nth=1, bytes_taken=77)
    await told.do(commands.AddNote("t1", "The disk is replaced tonight."))
    return told.bench


async def moved(rig: FiledRig) -> Bench:
    """Open; the disk failed to sync, the job went on in a copy, and the ledger was told late of a fail"""
    told = await _arrived(rig, LAMP_BOX, "Lamp stays dark")
    await told.begin("as-found")
    await told.do(told.attempt(told.job.sequence.step("look-in"), ListAnswer()))
    await rig.dies(told.bench, commands.AddNote("t1", "written, never certain"), call="fsync")
    fails = told.attempt(told.job.sequence.step("fuse"), TARNISHED)
    await rig.dies(told.bench, fails, call="write", nth=LEDGERS_WRITE, bytes_taken=40)
    await told.do(commands.AddNote("t1", "F1 will be cleaned"))
    return told.bench


async def revised(rig: FiledRig) -> Bench:
    """Open; goes on under a newer revision of its sequence, with a soak that was broken off"""
    told = await _arrived(rig, LAMP_BOX, "Lamp stays dark")
    await _found_and_cleaned(told)
    newer = rig.boards.put(_board("journals/lamp-box-3"))
    await told.do(
        commands.ReviseSequence("t1", newer.text, newer.digest, "F1 is read closer since revision 3"),
    )
    await told.begin("acceptance")
    await told.walk()
    await told.end()
    await told.begin("burn-in")
    await rig.power(told.bench, "soak")
    await told.do(soaking.start(told.job))
    rig.clock.pass_time(minutes=30)
    await told.do(commands.BreakSoak("t1", "soak", "the bench is needed"))
    rig.boards.put(_board("lamp-box"))
    return told.bench


async def first_of_two(rig: FiledRig) -> Bench:
    """Signed off; the first of two units of one arrival"""
    told = await _arrived(rig, LAMP_BOX, "Both of them stay dark", serial="7Q30001")
    await told.begin("acceptance")
    await told.walk()
    await told.end()
    await told.out_of_the_door()
    return told.bench


async def second_of_two(rig: FiledRig) -> Bench:
    """Open; the second of two units of one arrival, made safe after an incident"""
    first = rig.logs().job_ids()[-1]
    told = await _arrived(rig, LAMP_BOX, "Both of them stay dark", serial="7Q30002", with_job=first)
    await told.begin("as-found")
    await told.walk(until="power-up")
    await told.do(commands.ReportIncident("t1", ("PWR",), "probe slipped at F1"))
    await told.do(commands.CallMakeSafe("t1"), hand.proved_dead(told.job, shorting_lead=True))
    (lead,) = told.job.fitted
    await told.do(commands.UndoChange("t1", lead.change, "lead off, looked at"))
    return told.bench


async def tapped(rig: FiledRig) -> Bench:
    """Open; timed by hand beside reference trials, once broken off"""
    told = await _arrived(rig, REMOTE, "Button answers late", serial="7Q22051")
    taps = TapHand(seed=1)
    await told.begin("as-found")
    await told.do(taps.block())
    pairs = (TapPair("2000.100000", "2000.600000"), TapPair("2003.000000", "2003.400000", "looked away"))
    await told.do(commands.BeginTiming("t1", "sw1"), commands.InterruptTiming("t1", "sw1", "the telephone rang", pairs))
    await _taps(told, taps, "sw1", 0.25)
    await _taps(told, taps, "home", 2.5)
    return told.bench


async def struck_and_put_back(rig: FiledRig) -> Bench:
    """Open; attempts struck by rework, parts tried and put back, one attempt void"""
    told = await _arrived(rig, LAMP_BOX, "Lamp stays dark")
    await told.begin("as-found")
    await told.walk({"fuse": TARNISHED}, until="power-up")
    await told.end()
    await told.do(
        commands.OpenCase("t1", "to see D1"),
        commands.LogRework("t1", ("PWR",), ("D1",), "leg lifted", "measured alone"),
        commands.LogRework("t1", ("LAMP",), ("DS1",), "swapped in", "tried another lamp", donor="7Q10001"),
    )
    await told.begin("retest")
    await told.walk_these(("fuse",), {"fuse": TARNISHED})
    await told.do(commands.VoidAttempt("t1", told.job.attempts[-1].number, "probe on the wrong pin"))
    await told.end()
    await told.do(
        commands.LogRework("t1", ("LAMP",), ("DS1",), "put back", "it was not the lamp"),
        commands.LogRework("t1", ("PWR",), ("D1",), "put back", "D1 is good"),
        commands.LogRework("t1", ("PWR",), ("F1",), "cleaned", "tarnished contacts"),
    )
    await told.begin("acceptance")
    await told.walk()
    await told.end()
    return told.bench


async def handed_over(rig: FiledRig) -> Bench:
    """Open; another technician took it on and is on the way"""
    told = await _arrived(rig, LAMP_BOX, "Lamp stays dark")
    await _found_and_cleaned(told)
    await told.do(commands.HandOver("t1", "t2", "retested; acceptance is left"))
    await rig.leave()
    rig.clock.pass_time(hours=15)
    other = Telling(rig, await rig.shop.open(told.job.id, "t2"), by="t2")
    await other.begin("acceptance")
    await other.walk(until="look-out")
    await other.make_safe()
    return other.bench


async def written_by_a_later_version(rig: FiledRig) -> Bench:
    """Open; a later version wrote an event, and a member of one, that this one doesn't know"""
    told = await _arrived(rig, LAMP_BOX, "Lamp stays dark")
    await rig.shop.close()
    writer, lines = rig.logs().open_job(told.job.id)
    now = rig.clock()
    note: dict[str, object] = {"mood": "good", "photos": [], "step": None, "text": "from a later version"}
    for event, data in (("weighed", {"grams": "412.5", "on": "K2"}), ("note added", note)):
        writer.append([Line(writer.next_number, stamp(now), "t1", now.boottime_ms, event, data)])
    writer.close()
    assert len(lines) == 1
    await rig.leave()
    return await rig.shop.open(told.job.id, "t1")


async def practised(rig: FiledRig) -> Bench:
    """Practice; signed off, and no evidence of any unit"""
    told = await _arrived(rig, LAMP_BOX, "Lamp stays dark")
    await _found_and_cleaned(told)
    await told.begin("acceptance")
    await told.walk()
    await told.end()
    await told.out_of_the_door()
    return told.bench


REAL: tuple[Story, ...] = (
    signed_off_after_repair,
    signed_off_with_a_soak,
    returned_as_it_came,
    returned_beyond_repair,
    returned_in_part,
    no_fault_found,
    never_taken_up,
    left_under_power,
    torn,
    mended_twice,
    moved,
    revised,
    first_of_two,
    second_of_two,
    tapped,
    struck_and_put_back,
    handed_over,
    written_by_a_later_version,
)
PRACTICE: tuple[Story, ...] = (practised,)


def make_all(folder: Path) -> Mapping[str, str]:
    """Tell every story into an empty folder of logs; what each is about, by the job's number."""
    boards = [_board(name) for name in ("lamp-box", "small-board", "tap-board")]
    real, practice = FiledRig(folder, *boards), FiledRig(folder, *boards, practice=True)
    return asyncio.run(_tell(real, REAL)) | asyncio.run(_tell(practice, PRACTICE))


async def _tell(rig: FiledRig, stories: tuple[Story, ...]) -> dict[str, str]:
    about = {}
    for story in stories:
        bench = await story(rig)
        job = bench.job
        await rig.leave()
        kept = fold(recorded(rig.logs().read_job(job.id)), rig.boards.read)
        assert kept == job, f"{job.id}: what lies in the file is not what was shown"
        about[job.id] = (story.__doc__ or "").strip()
        rig.clock.pass_time(hours=1)
    return about


def _board(name: str) -> str:
    return (SAMPLES / f"{name}.yaml").read_text(encoding="utf-8")


async def _arrived(
    rig: FiledRig, sequence: str, complaint: str, *, serial: str = "7Q22051", with_job: str | None = None
) -> Telling:
    arrive = Arrive("t1", sequence, serial, complaint, "lens cracked", with_job=with_job)
    bench = await rig.shop.arrive(arrive)
    assert isinstance(bench, Bench), bench
    rig.clock.pass_time(minutes=3)
    return Telling(rig, bench)


async def _found_and_cleaned(told: Telling) -> None:
    """As found the fuse reads high; it is cleaned and read again."""
    await told.do(commands.MapComplaint("t1", ("dark",), ("cold",)))
    await told.begin("as-found")
    await told.walk({"fuse": TARNISHED}, until="power-up")
    await told.end()
    await told.do(commands.LogRework("t1", ("PWR",), ("F1",), "cleaned", "tarnished contacts"))
    await told.do(hand.start(told.job, "retest"))
    await told.walk(until="power-up")
    await told.end()


async def _taps(told: Telling, taps: TapHand, step_id: str, delay_s: float) -> None:
    """Walk a step's own course to its end by hand and have it judged."""
    await told.do(commands.BeginTiming("t1", step_id))
    job, step = told.job, told.job.sequence.step(step_id)
    assert job.open_run is not None
    stands = beside(job, job.open_run, step, "t1", told.bench.moment(), told.bench.outside())
    assert not isinstance(stands, Refusal), stands
    course = course_of(step, stands)
    assert isinstance(course, UnitCourse)
    await told.do(commands.Attempt("t1", step_id, pairs_answer(taps.at_the_unit(course, delay_s), HOW)))

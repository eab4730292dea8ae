"""One job on the lamp box of `tests/samples`, kept by a real shop in a folder: found dark, cleaned, half re-tested."""

import asyncio
from pathlib import Path

from rig import RigClock

from passcheck.bench.bench import Bench, Done
from passcheck.bench.shop import Shop
from passcheck.cli.folders import Folders
from passcheck.cli.wire import bench_files, open_shop
from passcheck.job import commands
from passcheck.job.answers import Departure, ListAnswer, ReadingAnswer
from passcheck.job.arrival import Arrive

JOB = "A31-0001"
SERIAL = "7Q22051"
INSTRUMENTS = (("ohmmeter", "M1"), ("supply-meter", "S1"))
LAMP_BOX = Path(__file__).parents[1] / "samples" / "lamp-box.yaml"


def folders(root: Path) -> Folders:
    """Records and sequences below a folder; the lamp box is the only board."""
    boards = root / "sequences"
    boards.mkdir(exist_ok=True)
    (boards / LAMP_BOX.name).write_bytes(LAMP_BOX.read_bytes())
    return Folders(root / "logs", boards)


def lamp_box_job(
    root: Path, complaint: str = "Lamp stays dark", note: str = "Holder brightened"
) -> tuple[Shop, Folders]:
    """The shop after one job was carried as far as its second reading of the fuse."""
    where, clock = folders(root), RigClock()
    bench_files(where, clock).make()
    shop = open_shop(where, clock)
    asyncio.run(_carry(shop, clock, complaint, note))
    return shop, where


def journal_of(where: Folders, job: str = JOB) -> Path:
    """Where a job's journal lies."""
    return where.logs / "jobs" / "2031" / f"{job}.jsonl"


def given_back(where: Folders, reason: str) -> None:
    """The unit leaves unrepaired, which seals its journal."""
    asyncio.run(_leave(where, reason))


async def _leave(where: Folders, reason: str) -> None:
    shop = open_shop(where, RigClock())
    bench = await shop.open(JOB, "t1")
    for command in (commands.CloseRun("t1"), commands.ReturnUnrepaired("t1", reason)):
        done = await bench.do(command)
        assert isinstance(done, Done), done
    await shop.close()


async def _carry(shop: Shop, clock: RigClock, complaint: str, note: str) -> None:
    bench = await shop.arrive(Arrive("t1", "LB-1", SERIAL, complaint, "lens cracked"))
    assert isinstance(bench, Bench), bench
    cracked = ListAnswer((Departure(1, "cracked"),))
    high, low = ReadingAnswer(("3.2 Ω",), leads="0.1 Ω"), ReadingAnswer(("0.20 Ω",), leads="0.1 Ω")
    for command in (
        commands.MapComplaint("t1", ("dark",), ("cold",)),
        commands.StartRun("t1", "as-found", SERIAL, INSTRUMENTS, "22"),
        commands.Attempt("t1", "look-in", cracked, again=cracked),
        commands.Attempt("t1", "fuse", high, again=high, note="tarnished"),
        commands.CloseRun("t1"),
        commands.LogRework("t1", ("PWR",), ("F1",), "cleaned", "tarnished contacts"),
        commands.StartRun("t1", "acceptance", SERIAL, INSTRUMENTS, "22"),
        commands.Attempt("t1", "fuse", low),
        commands.AddNote("t1", note, "fuse", ("photos/holder.jpg",)),
    ):
        clock.pass_time(minutes=3)
        done = await bench.do(command)
        assert isinstance(done, Done), done
    await shop.close()

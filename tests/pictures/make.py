"""Make the README's pictures from the program itself.

    .venv/bin/python tests/pictures/make.py [NAME…]

Walks one story on the demo board OV-24P with a bench in memory and a clock that stands still, so that the same commit
makes the same pictures. Names given make those alone. Needs chromium and the font Fira Code (Debian: chromium,
fonts-firacode).
"""

import time
from pathlib import Path

from drawn import REPOSITORY, draw, make, open_unit  # isort: skip - it lays the paths that the others are found on
import hand
import soaking
from at_desk import at_desk, press, settle, type_in
from looking_back import figures_pictures, history_pictures, papers_pictures
from rig import TERMINAL, Rig, settings
from tapping import TapHand
from textual.events import Key

from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.tap_trials import TapTrialsScreen
from passcheck.app.widgets.lamp import Lamp
from passcheck.bench.bench import Bench
from passcheck.job import commands
from passcheck.job.answers import GradeAnswer, ReadingAnswer
from passcheck.job.kept_latency import KeptLatency
from passcheck.job.plan import plan

SIZE = (100, 30)
COMPLAINT = "Fuel goes to nothing after half an hour and she reboots when I start her."
FOUND: dict[str, ReadingAnswer | GradeAnswer] = {"a08": ReadingAnswer(("142 mVpp",)), "a10": GradeAnswer("C", "6.2 s")}


async def suspects_picture(folder: Path) -> None:
    """The suspects of the as-found run while it is open."""
    rig = Rig((REPOSITORY / "sequences" / "ov-24p.yaml").read_text(encoding="utf-8"))
    bench = await story(rig, as_found_only=True)
    async with at_desk(rig, SIZE) as pilot:
        await open_unit(pilot, bench.job.serial)
        await press(pilot, "ctrl+f")
        await pilot.app.workers.wait_for_complete()
        await settle(pilot)
        draw(pilot, folder / "suspects.svg")


async def story(rig: Rig, *, as_found_only: bool = False) -> Bench:
    """As found on the bench, the supply's capacitors renewed, half of acceptance walked."""
    bench = await rig.job(sequence="OV-24P", complaint=COMPLAINT)
    await rig.do(bench, commands.MapComplaint("t1", ("restarts",), ("low line 16 V",)))
    await rig.make_safe(bench)
    await rig.do(bench, hand.start(bench.job, "as-found"))
    await walk(rig, bench, FOUND, until="a11")
    if as_found_only:
        return bench
    await rig.make_safe(bench)
    await rig.do(bench, commands.CloseRun("t1"))
    group = ("C1", "C2", "C7", "C11")
    why = "C7 leaking; the group is of one age"
    await rig.do(bench, commands.LogRework("t1", ("PWR",), group, "replaced", why, part_number="470 µF 50 V"))
    await rig.do(bench, hand.start(bench.job, "acceptance"))
    await walk(rig, bench, {"a08": ReadingAnswer(("24 mVpp",))}, until="a09-low")
    return bench


async def walk(rig: Rig, bench: Bench, seen: dict[str, ReadingAnswer | GradeAnswer], until: str) -> None:
    """Walk the plan with answers that pass, but for those given, up to a step."""
    while (step := plan(bench.job)[0].step.id) != until:
        rig.clock.pass_time(minutes=1)
        if step not in seen:
            await rig.walk_step(bench, step)
            continue
        if hand.powered(bench.job, step):
            await rig.do(bench, *hand.answers_to_cautions(bench.job, step, "t1", bench.moment()))
        await rig.do(bench, commands.Attempt("t1", step, seen[step], again=seen[step]))


async def pictures(folder: Path) -> None:
    """Draw every screen of the README into that folder as SVG."""
    texts = [(REPOSITORY / "sequences" / name).read_text(encoding="utf-8") for name in ("ov-24p.yaml", "th-12.yaml")]
    rig = Rig(*texts)
    timer = rig.boards.listed()[1].sequence
    assert timer is not None
    for board, serial, complaint in (
        ("TH-12", hand.serial(timer), "Four never waters and it waters in the rain."),
        ("OV-24P", "7Q22098", "Buttons want three presses in the morning."),
    ):
        await rig.job(sequence=board, serial=serial, complaint=complaint)
        rig.clock.pass_time(minutes=7)
    bench = await story(rig)
    async with at_desk(rig, SIZE) as pilot:
        draw(pilot, folder / "shelf.svg")
        await open_unit(pilot, bench.job.serial)
        draw(pilot, folder / "traveller.svg")
        await press(pilot, "b")
        await type_in(pilot, "5.06")
        await press(pilot, "enter")
        draw(pilot, folder / "bench.svg")
        await press(pilot, "enter")
        draw(pilot, folder / "caution.svg")
        await press(pilot, "escape", "f8")
        draw(pilot, folder / "make-safe.svg")
        await press(pilot, "escape", "escape", "s")
        pilot.app.clear_notifications()
        await settle(pilot)
        draw(pilot, folder / "sign-off.svg")


async def rack_picture(folder: Path) -> None:
    """Three units on soak, two of which a dip hit at once."""
    rig = Rig((REPOSITORY / "sequences" / "ov-24p.yaml").read_text(encoding="utf-8"))
    benches = []
    for serial in ("7Q22051", "7Q22063", "7Q22077"):
        bench = await rig.job(serial=serial)
        await rig.walk(bench)
        await rig.do(bench, hand.start(bench.job, "burn-in"))
        await rig.power(bench, "a23")
        await rig.do(bench, soaking.start(bench.job, witness="read at each look"))
        await look_through(rig, bench)
        benches.append(bench)
        rig.clock.pass_time(minutes=19)
    for bench, continuity in zip(benches, (None, None, "held"), strict=True):
        rig.clock.pass_time(minutes=38 if continuity else 3)
        lost = "" if continuity else "the breaker of the bench was out"
        await rig.do(bench, soaking.check(bench.job, continuity=continuity, cycles=3, lost=lost))
        await look_through(rig, bench)
    rig.clock.pass_time(minutes=31)
    async with at_desk(rig, SIZE) as pilot:
        await press(pilot, "f7")
        draw(pilot, folder / "rack.svg")


async def look_through(rig: Rig, bench: Bench) -> None:
    """Walk the steps of the look that is open."""
    for step in soaking.soak_of(bench.job).check:
        await rig.walk_step(bench, step)


async def tap_pictures(folder: Path) -> None:
    """The warm-up with its lamp lit, and what three trials on the unit came to."""
    text = (REPOSITORY / "tests" / "samples" / "tap-board.yaml").read_text(encoding="utf-8")
    filmed = KeptLatency("0.052", "0.002", ("12", "13", "12", "14", "12"), "240", "2031-04-01", TERMINAL)
    rig = Rig(text, settings_now=settings().model_copy(update={"latency": filmed, "tap_key": "space"}))
    bench = await rig.job(complaint="The button wants patience.")
    await rig.do(bench, hand.start(bench.job))
    async with at_desk(rig, SIZE) as pilot:
        await pilot.app.push_screen(BenchScreen(bench, "sw1", dwell_s=0))
        await settle(pilot)
        await press(pilot, "enter")
        pilot.app.screen.query_one(Lamp).lit = True
        await settle(pilot)
        draw(pilot, folder / "warm-up.svg")
        await press(pilot, "escape")
        await rig.do(bench, TapHand(4).block(0.55))
        await press(pilot, "enter")
        start_s = time.monotonic() + 10_000  # so that no time-out comes between the taps
        for trial, time_s in enumerate((0.46, 0.43, 0.49)):
            for at_s in (start_s + 10 * trial, start_s + 10 * trial + time_s):
                tap = Key("space", " ")
                tap.time = at_s
                pilot.app.post_message(tap)
                await settle(pilot)
        while isinstance(pilot.app.screen, TapTrialsScreen):
            await settle(pilot)
        await settle(pilot)
        draw(pilot, folder / "taps.svg")


if __name__ == "__main__":
    make(pictures, suspects_picture, rack_picture, tap_pictures, history_pictures, figures_pictures, papers_pictures)

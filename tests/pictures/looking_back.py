"""Which pictures does the README have of what lies behind a shop: a unit's visits, the figures, the papers?"""

from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path
from typing import Final

from drawn import REPOSITORY, draw, open_unit  # isort: skip - it lays the paths that the others are found on
import test_story_ov24p as story
from at_desk import SMALL, at_desk, press, settle, shown, type_in
from counted import PANEL, THERMOSTAT, CountedArchive
from paper_maker import MakerAtHand
from rig import Rig
from telling import Telling
from textual.pilot import Pilot
from unit_visits import HeldArchive

from passcheck.app.screens.history import HistoryScreen
from passcheck.app.widgets.history_lines import CHANGED
from passcheck.job.answers import Answer, MarksAnswer, PowerUpAnswer, PressesAnswer, ReadingAnswer
from passcheck.job.archived import archived
from passcheck.job.commands import LogRework, MapComplaint
from passcheck.job.counts import Counts, FirstTries, OutAndBack
from passcheck.job.figures import NAMES
from passcheck.job.replay import recorded

BOTH: Final = (SMALL, (130, 40))
FIRST_ROW: Final = 7
"""Of the card in a small window, below its head."""
DAY_MIN: Final = 24 * 60
BUTTONS: Final = "Buttons want three presses in the morning."
NEEDLE: Final = "Needle hangs low when she is warm."
SECOND: Mapping[str, Answer] = {
    "a05": PowerUpAnswer("0.15 A", "off"),
    "a06": ReadingAnswer(("5.01 V",)),
    "a08": ReadingAnswer(("31 mVpp",)),
    "a15": MarksAnswer(("0 %", "25 %", "50 %", "74 %", "99 %"), ("0 %", "25 %", "51 %", "75 %", "99 %")),
    "a16": MarksAnswer(("48 %",)),
    "a17-sw4": PressesAnswer(7),
}
"""As it came back with another fault: the ripple is higher than it left, the pointer a little lower."""
SECOND_LEFT: Mapping[str, Answer] = {key: answer for key, answer in SECOND.items() if key != "a17-sw4"}
THIRD: Mapping[str, Answer] = {
    "a05": PowerUpAnswer("0.16 A", "off"),
    "a06": ReadingAnswer(("4.99 V",)),
    "a08": ReadingAnswer(("52 mVpp",)),
    "a15": MarksAnswer(("0 %", "23 %", "47 %", "71 %", "95 %"), ("0 %", "24 %", "48 %", "72 %", "95 %")),
    "a16": MarksAnswer(("42 %",)),
}
"""As it came back again: the ripple is nearly at its limit, and warm the pointer is below its own."""


async def history_pictures(folder: Path) -> None:
    """A unit's three visits; it is back after 41 days, and two readings have gone the same way each time."""
    rig = ov24p()
    benches = [await repaired(rig)]
    rig.clock.pass_time(minutes=61 * DAY_MIN)
    benches.append(await back_with_buttons(rig))
    rig.clock.pass_time(minutes=41 * DAY_MIN)
    benches.append(await back_again(rig))
    rows = [archived(one.job, tuple(recorded(rig.files.journals[one.job.id])), "0" * 64) for one in benches]
    rig.shop.archive = HeldArchive(*rows)
    for size in BOTH:
        async with at_desk(rig, size) as pilot:
            await pilot.app.push_screen(HistoryScreen(benches[-1].job.serial))
            await settle(pilot)
            while CHANGED not in shown(pilot).splitlines()[FIRST_ROW] and size == SMALL:
                await press(pilot, "down")
            draw_sized(pilot, folder, "history")


def ov24p() -> Rig:
    """A bench that has the board."""
    return Rig((REPOSITORY / "sequences" / "ov-24p.yaml").read_text(encoding="utf-8"))


async def repaired(rig: Rig) -> Telling:
    """The first visit: the board's own story, from the owner's words out of the door."""
    told = await story.arrived(rig)
    for part in (
        story.found_as_the_owner_says,
        story.capacitors_renewed,
        story.joint_reflowed,
        story.button_found_in_acceptance,
        story.accepted,
        story.soaked_through_a_dip,
    ):
        await part(told)
    await told.out_of_the_door()
    return told


async def back_with_buttons(rig: Rig) -> Telling:
    """The second: a button, found and cleaned."""
    told = Telling(rig, await rig.job(complaint=BUTTONS), always=story.ALWAYS)
    await told.do(MapComplaint("t1", ("lazy-buttons",), ()))
    await told.begin("as-found")
    await told.walk(SECOND)
    await told.end()
    await told.do(LogRework("t1", ("KEY",), ("SW4",), "cleaned", "Film under the dome of SW4"))
    await told.begin("acceptance")
    await told.walk(SECOND_LEFT, until="final")
    await told.end()
    await told.put_back()
    rig.clock.pass_time(minutes=3 * DAY_MIN)
    await told.burn_in()
    await told.out_of_the_door()
    return told


async def back_again(rig: Rig) -> Telling:
    """The third, which is read as found and no further."""
    told = Telling(rig, await rig.job(complaint=NEEDLE), always=story.ALWAYS)
    await told.do(MapComplaint("t1", ("needle-drops",), (story.WARM,)))
    await told.begin("as-found")
    await told.walk(THIRD, until="a17-sw1")
    await told.end()
    return told


FIRST_TRIES: Final = (
    FirstTries("EK-8", 11, 19),
    FirstTries(PANEL, 63, 78),
    FirstTries("PM-7", 17, 26),
    FirstTries("QM-48", 8, 17),
    FirstTries(THERMOSTAT, 41, 46),
)
FIRST_RELEASE: Final = date(2030, 9, 2)
BACK_AFTER: Final = {4: 12, 9: 41, 17: 8, 23: 190, 31: 66, 38: 120, 52: 27, 60: 83, 71: 240, 88: 41, 96: 15}
"""Of the releases, counted from 0, those that came back, with the days that they were away."""


async def figures_pictures(folder: Path) -> None:
    """How many units come back, with the interval; and how many pass at the first try, bar by bar."""
    rig = Rig()
    rig.clock.pass_time(minutes=366 * DAY_MIN)
    rig.shop.archive = CountedArchive(
        Counts(jobs=186, attempts=9_412, first_tries=FIRST_TRIES, out_and_back=releases(130))
    )
    for size in BOTH:
        async with at_desk(rig, size) as pilot:
            await press(pilot, "f4")
            draw_sized(pilot, folder, "figures-first-try")
            await press(pilot, *["right"] * NAMES.index("returns"))
            draw_sized(pilot, folder, "figures")


def releases(units: int) -> tuple[OutAndBack, ...]:
    """A release every fourth day."""
    return tuple(release(at, FIRST_RELEASE + timedelta(days=4 * at), BACK_AFTER.get(at)) for at in range(units))


def release(at: int, day: date, back_after: int | None) -> OutAndBack:
    """A panel that left on that day, and came back so many days later."""
    back = None if back_after is None else f"{day + timedelta(days=back_after)}T08:00:00Z"
    same_block = None if back is None else at % 2
    return OutAndBack(
        f"A31-{at:04d}", f"7Q{at:05d}", PANEL, f"{day}T15:30:00Z", back, back and f"A32-{at:04d}", same_block
    )


async def papers_pictures(folder: Path) -> None:
    """The papers of a unit that was released, with its label; and that unit and label belong together."""
    rig = ov24p()
    maker = MakerAtHand(rig, ("test-record", "release-note"))
    job = (await repaired(rig)).job
    async with at_desk(rig) as pilot:
        await open_unit(pilot, job.serial)
        await press(pilot, "enter", "p", "l")
        await asked_of_the_records(pilot)
        draw(pilot, folder / "papers-sheet-80x24.svg")
        await press(pilot, "b")
        for code in (job.serial, maker.label(job.id)[-1]):
            await type_in(pilot, code)
            await press(pilot, "enter")
        await asked_of_the_records(pilot)
        draw(pilot, folder / "scan-both-80x24.svg")


async def asked_of_the_records(pilot: Pilot[None]) -> None:
    """Wait until the answer is there."""
    await pilot.app.workers.wait_for_complete([one for one in pilot.app.workers if one.group == "papers"])
    await settle(pilot)


def draw_sized(pilot: Pilot[None], folder: Path, name: str) -> None:
    """Keep the window as it stands, its size in the picture's name."""
    width, height = pilot.app.size
    draw(pilot, folder / f"{name}-{width}x{height}.svg")

"""Units on the shelf, opened by serial, by number or by hand."""

import pytest
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, settle, shown
from rig import Rig

import sequences
from passcheck.app.plain import Lines
from passcheck.app.screens.arrival import ArrivalScreen
from passcheck.app.screens.choose_job import ChooseJob
from passcheck.app.screens.shelf import ShelfScreen
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.widgets.shelf_board import ShelfBoard, shelf_lines
from passcheck.app.widgets.typed import Slot
from passcheck.errors import BenchFailed
from passcheck.job.board import Board
from passcheck.job.commands import SignOff
from passcheck.job.shelf_row import DAMAGED, ShelfRow

LABEL = "A31-0001 7Q22051 4K7M2P"


def row(**members: object) -> ShelfRow:
    facts = {
        "job": "A31-0001",
        "serial": "7Q22051",
        "sequence": "LB-3",
        "revision": "1",
        "title": "Lamp board",
        "waits_for": "confirm",
        "complaint": "dead",
        "opened_at": "2031-04-02T08:00:00Z",
        "last_at": "2031-04-02T08:00:00Z",
        "blockers": 3,
        "ended": None,
    }
    return ShelfRow(**{**facts, **members})  # type: ignore[arg-type]


def unreadable() -> tuple[ShelfRow, ...]:
    raise BenchFailed("No rights to read the folder.")


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_units_hang_under_what_they_wait_for(size: tuple[int, int]) -> None:
    rig = Rig()
    await rig.job(serial="7Q22051")
    await rig.walk(await rig.job(serial="7Q22052", complaint="Dead"))
    async with at_desk(rig, size) as pilot:
        matches_sample(pilot, f"shelf-{size[0]}x{size[1]}")
        text = shown(pilot)
        assert text.index("CONFIRM") < text.index("7Q22051") < text.index("SIGN") < text.index("7Q22052")


async def test_an_empty_shelf_says_how_to_begin() -> None:
    async with at_desk(Rig()) as pilot:
        assert "Scan or type the serial" in shown(pilot)


async def test_a_known_serial_opens_its_job() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        await press(pilot, *" 7q22051", "enter")
        assert isinstance(pilot.app.screen, TravellerScreen)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, ShelfScreen)


async def test_a_unit_is_taken_from_the_shelf_with_arrow_and_enter() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        await press(pilot, "down", "enter")
        assert isinstance(pilot.app.screen, TravellerScreen)


async def test_an_unknown_serial_is_taken_in() -> None:
    async with at_desk(Rig()) as pilot:
        await press(pilot, *"7Q22099", "enter")
        assert isinstance(pilot.app.screen, ArrivalScreen)


@pytest.mark.parametrize("key", ["enter", "f6"])
async def test_a_label_typed_for_a_serial_is_told_and_no_unit_is_taken_in_under_it(key: str) -> None:
    async with at_desk(Rig()) as pilot:
        await press(pilot, *LABEL, key)
        assert type(pilot.app.screen).__name__ == ShelfScreen.__name__
        assert "That is a label; scan the number on the unit itself." in shown(pilot)
        await press(pilot, *"7Q22099", "enter")
        assert type(pilot.app.screen).__name__ == ArrivalScreen.__name__
        assert pilot.app.screen.query_one("#first", Slot).value == "7Q22099"


async def test_a_label_scanned_with_no_entry_focused_is_told_too() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        await press(pilot, "down")
        assert pilot.app.screen.take_scan(LABEL)  # type: ignore[attr-defined]
        await settle(pilot)
        assert isinstance(pilot.app.screen, ShelfScreen)
        assert "That is a label" in shown(pilot)


async def test_a_unit_that_was_here_before_may_come_in_again() -> None:
    rig = Rig()
    bench = await rig.walk(await rig.job())
    await rig.do(bench, SignOff("t1", bench.job.serial))
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter")
        assert type(pilot.app.screen).__name__ == ChooseJob.__name__
        assert "signed off" in shown(pilot)
        await press(pilot, "down", "enter")
        assert type(pilot.app.screen).__name__ == ArrivalScreen.__name__


async def test_the_board_of_a_unit_that_was_here_before_is_at_hand() -> None:
    rig = Rig(sequences.sequence(sequence="AA-1"), sequences.sequence(sequence="ZZ-9"))
    bench = await rig.walk(await rig.job(sequence="ZZ-9"))
    await rig.do(bench, SignOff("t1", bench.job.serial))
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter", "down", "enter")
        assert pilot.app.screen.query_one("#boards", Lines).highlighted == 1


async def test_a_job_in_use_elsewhere_is_told_in_a_sentence() -> None:
    rig = Rig()
    await rig.job()
    rig.shop = rig.second_program()
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter")
        assert isinstance(pilot.app.screen, ShelfScreen)
        assert "NOT OPENED" in shown(pilot)
        assert "in use by another passcheck" in shown(pilot)


async def test_a_shelf_that_cannot_be_read_says_so_and_not_that_something_was_not_kept(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        monkeypatch.setattr(rig.shop, "shelf", unreadable)
        for keys in (("f5",), (*"7Q22051", "enter")):
            await press(pilot, *keys)
            assert "NOT READ  No rights to read the folder." in shown(pilot)
            assert "NOT KEPT" not in shown(pilot)


async def test_nobody_at_the_bench_opens_nothing() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig, person="") as pilot:
        await press(pilot, "escape", *"7Q22051", "enter")
        assert isinstance(pilot.app.screen, ShelfScreen)
        assert "F9" in shown(pilot)


async def test_hostile_words_on_a_tag_stay_words() -> None:
    rig = Rig()
    await rig.job(complaint="[@click=app.exit]77[/] [/red] \x1b]52;c;QUJD\x07 \u202eevil " + "x" * 9000)
    async with at_desk(rig, (160, 24)) as pilot:
        assert "[@click=app.exit]77[/] [/red]" in shown(pilot)
        assert not any(sign in pilot.app.export_screenshot() for sign in ("\x1b", "\x07", "\u202e"))


def test_damaged_jobs_and_board_files_are_told_in_words() -> None:
    lines = shelf_lines(
        [row(waits_for=DAMAGED)], [Board("OV-24P", "ov-24p.yaml", "", "", None, "ov-24p.yaml:3:1: no such kind")]
    )
    text = "\n".join(str(one.prompt) for one in lines)
    assert "CAN'T BE READ" in text
    assert "no such kind" in text


def test_units_that_have_left_are_not_on_the_shelf() -> None:
    lines = shelf_lines([row(ended="signed off")], [])
    assert [one.id for one in lines] == [None]


async def test_five_hundred_units_are_one_list() -> None:
    rig = Rig()
    async with at_desk(rig) as pilot:
        board = pilot.app.screen.query_one(ShelfBoard)
        board.put([row(job=f"A31-{number:04d}", serial=f"7Q{number:05d}") for number in range(500)], [])
        assert board.option_count == 501


async def test_the_line_at_hand_stays_at_hand_when_the_shelf_is_read_again() -> None:
    rig = Rig()
    await rig.job(serial="7Q22051")
    await rig.job(serial="7Q22052")
    async with at_desk(rig) as pilot:
        await press(pilot, "down", "down", "f5")
        assert pilot.app.screen.query_one(ShelfBoard).highlighted_job == "A31-0002"

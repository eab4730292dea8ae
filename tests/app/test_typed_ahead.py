"""Keys that come in faster than the screen acts on them land where a slow hand would have put them."""

from collections.abc import Iterable

import hand
import pytest
from at_desk import at_desk, settle
from rig import Rig
from textual import events
from textual.pilot import Pilot

import sequences
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.jot import JotSlip
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.note import NoteScreen
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.widgets.typed import Slot
from passcheck.job.answers import TableAnswer

TABLE = {
    "id": "drop",
    "kind": "table",
    "title": "Output by input",
    "proves": ["PWR"],
    "instrument": "voltmeter",
    "rows": [
        {"put": "low", "limits": "1 V .. 2 V"},
        {"put": "middle", "limits": "3 V .. 4 V"},
        {"put": "high", "limits": "5 V .. 6 V"},
    ],
}
KEYS = {"\n": "enter", "\t": "tab", ".": "full_stop", " ": "space"}


def type_ahead(pilot: Pilot[None], *keys: str, apart_s: float = 0.025) -> None:
    """All of it at once, stamped as a quick hand types; a name of more than one sign is a key, else figures."""
    at = 100.0
    for key in one_by_one(keys):
        event = events.Key(KEYS.get(key, key), key if len(key) == 1 and key.isprintable() else None)
        event.time = at = at + apart_s
        pilot.app.post_message(event)


def one_by_one(keys: Iterable[str]) -> Iterable[str]:
    for text in keys:
        if text in ("enter", "tab", "escape", "f4", "f8", "down"):
            yield text
        else:
            yield from text


async def test_a_table_typed_without_a_pause_lands_row_by_row() -> None:
    rig = Rig(sequences.sequence(steps=[TABLE]))
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job))
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(BenchScreen(bench, dwell_s=0))
        await settle(pilot)
        type_ahead(pilot, "1.5", "enter", "3.55", "enter", "5.5", "enter")
        await settle(pilot)
        assert [one.answer for one in bench.job.attempts] == [TableAnswer(("1.5 V", "3.55 V", "5.5 V"))]


async def test_the_next_step_s_reading_typed_ahead_waits_for_its_entry() -> None:
    second = {**sequences.GUARD_STEP, "id": "short-3v3", "title": "3.3 V rail to 0 V"}
    rig = Rig(sequences.sequence(steps=[sequences.GUARD_STEP, second]))
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job))
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(BenchScreen(bench, dwell_s=0))
        await settle(pilot)
        type_ahead(pilot, "12k", "enter", "13k", "enter")
        await settle(pilot)
        read = [(one.step, one.judgement.value) for one in bench.job.attempts]
        assert read == [(sequences.GUARD, "12000"), ("short-3v3", "13000")], read


async def test_a_note_kept_by_a_key_right_behind_its_words_holds_them_all() -> None:
    rig = Rig()
    bench = await rig.job()
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(NoteScreen(bench, None))
        await settle(pilot)
        type_ahead(pilot, "C7 leaks", "f4")
        await settle(pilot)
        assert [note.text for note in bench.job.notes] == ["C7 leaks"]


async def test_a_paste_is_kept_whole_by_the_key_behind_it() -> None:
    rig = Rig()
    bench = await rig.job()
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(NoteScreen(bench, None))
        await settle(pilot)
        pilot.app.post_message(events.Paste("x" * 5_000))
        type_ahead(pilot, "f4")
        await settle(pilot)
        assert [len(note.text) for note in bench.job.notes] == [5_000]


async def test_a_key_that_opens_a_slip_lets_what_follows_go_into_its_first_field() -> None:
    rig = Rig()
    bench = await rig.job()
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(TravellerScreen(bench))
        await settle(pilot)
        type_ahead(pilot, "jTP3", "enter", "4.98 V")
        await settle(pilot)
        assert isinstance(pilot.app.screen, JotSlip)
        assert [slot.value for slot in pilot.app.screen.query(Slot)][:2] == ["TP3", "4.98 V"]


async def test_make_safe_waits_for_nothing_and_what_waited_is_dropped() -> None:
    rig = Rig(sequences.sequence(steps=[TABLE]))
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job))
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(BenchScreen(bench, dwell_s=0))
        await settle(pilot)
        type_ahead(pilot, "1.5", "enter", "3.55", "f8")
        await settle(pilot)
        assert isinstance(pilot.app.screen, MakeSafeScreen)
        assert all("3.55" not in slot.value for slot in pilot.app.screen.query(Slot))


@pytest.mark.parametrize("apart_s", [0.0005, 0.015])
async def test_a_scan_where_no_entry_has_the_cursor_still_commands_nothing(apart_s: float) -> None:
    rig = Rig()
    bench = await rig.job()
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(TravellerScreen(bench))
        await settle(pilot)
        type_ahead(pilot, "7q22051", "enter", apart_s=apart_s)
        await settle(pilot)
        assert isinstance(pilot.app.screen, TravellerScreen)

"""Does the check of the tap key show each tap, say what was none, and write what it was asked to?"""

import errno
import io
import json

from textual.events import Key
from textual.pilot import Pilot

from passcheck.app.plain import Words
from passcheck.app.reader_lost import ReaderLost
from passcheck.app.tap_check import TapCheckApp


async def tap(pilot: Pilot[None], *times_s: float, key: str = "space", character: str | None = " ") -> None:
    await pilot.pause()
    for time_s in times_s:
        event = Key(key, character)
        event.time = time_s
        pilot.app.post_message(event)
    await pilot.pause()


def shown(pilot: Pilot[None], name: str) -> str:
    return str(pilot.app.query_one(name, Words).content)


async def test_each_tap_is_shown_with_its_interval_and_what_was_none_is_named() -> None:
    async with TapCheckApp().run_test(size=(80, 24)) as pilot:
        await tap(pilot, 10.0, 10.25, 10.253, 10.75)
        rows = shown(pilot, "#rows").splitlines()
        assert [row.split() for row in rows[:2]] == [["1", "tap"], ["2", "0.250", "tap"]]
        assert "bounce: not counted" in rows[2]
        assert "3 taps, 1 bounces" in shown(pilot, "#found")
        assert "± 5 ms (keyboard and host" in shown(pilot, "#found")


async def test_only_the_last_taps_stay_on_a_small_screen() -> None:
    async with TapCheckApp().run_test(size=(80, 24)) as pilot:
        await tap(pilot, *(10 + 0.3 * place for place in range(40)))
        rows = shown(pilot, "#rows").splitlines()
        assert (len(rows), rows[-1].split()[0]) == (10, "40")
        assert "40 taps" in shown(pilot, "#found")


async def test_a_line_a_tap_is_written_once_nothing_can_revise_it_and_none_for_a_bounce() -> None:
    written, told = io.StringIO(), []
    async with TapCheckApp(written, lambda: told.append("ready")).run_test() as pilot:
        await pilot.pause()
        assert told == ["ready"]
        await tap(pilot, 10.0, 10.25, 10.253)
        assert events_in(written) == [10.0]
        await tap(pilot, 10.6, 10.6004, 11.0)  # two read in one go
        assert events_in(written) == [10.0, 10.25]
        await pilot.press("q")
    lines = [json.loads(line) for line in written.getvalue().splitlines()]
    assert [line["event"] for line in lines] == [10.0, 10.25, 11.0]
    assert all(set(line) == {"event", "handler"} for line in lines)


def events_in(written: io.StringIO) -> list[float]:
    return [json.loads(line)["event"] for line in written.getvalue().splitlines()]


async def test_a_pedal_that_sends_what_terminals_take_for_another_key_is_refused() -> None:
    async with TapCheckApp().run_test() as pilot:
        await tap(pilot, 10.0, character=None)
        assert "this pedal sends F18" in shown(pilot, "#found")
        assert shown(pilot, "#rows") == ""


async def test_a_lost_reader_is_said_and_taps_go_on() -> None:
    async with TapCheckApp().run_test() as pilot:
        pilot.app.post_message(ReaderLost())
        await tap(pilot, 10.0, 10.5)
        assert "was lost: times from here on are less exact" in shown(pilot, "#found")
        assert "2 taps" in shown(pilot, "#found")
        assert "± 24 ms (keyboard and host" in shown(pilot, "#found")


class FullDisk(io.StringIO):
    """A file on a disk with no room left."""

    def flush(self) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")


async def test_a_tap_that_cannot_be_written_ends_the_screen_with_its_reason() -> None:
    app = TapCheckApp(FullDisk())
    async with app.run_test() as pilot:
        await tap(pilot, 10.0, 10.5)
    assert app.unwritten is not None
    assert app.unwritten.errno == errno.ENOSPC


async def test_q_ends_it_in_order() -> None:
    app = TapCheckApp()
    async with app.run_test() as pilot:
        await pilot.press("q")
    assert app.return_code == 0

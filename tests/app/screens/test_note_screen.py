"""A note takes anybody's words and anything that is pasted, and none of it acts."""

from at_desk import at_desk, press, settle, shown, type_in
from rig import Rig
from textual import events

from passcheck.app.screens.note import NoteScreen

HOSTILE = "[@click=app.quit]press[/] \x1b]52;c;cm0=\x07 \u202egnp.exe [/red]"


async def test_a_hostile_note_is_kept_as_it_came_and_nothing_in_it_acts() -> None:
    rig = Rig()
    bench = await rig.job()
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(NoteScreen(bench, bench.job.sequence.steps[0]))
        await settle(pilot)
        pilot.app.post_message(events.Paste(HOSTILE))
        await settle(pilot)
        assert "\x1b" not in shown(pilot)
        assert "\u202e" not in shown(pilot)
        await press(pilot, "f4")
        (note,) = bench.job.notes
        assert note.step == bench.job.sequence.steps[0].id
        assert "[@click=app.quit]press[/]" in note.text
        assert pilot.app.is_running


async def test_ten_thousand_characters_are_a_note() -> None:
    rig = Rig()
    bench = await rig.job()
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(NoteScreen(bench, None))
        await settle(pilot)
        pilot.app.post_message(events.Paste("x" * 10_000))
        await settle(pilot)
        await press(pilot, "f4")
        assert len(bench.job.notes[0].text) == 10_000


async def test_photos_are_paths_with_a_semicolon_between() -> None:
    rig = Rig()
    bench = await rig.job()
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(NoteScreen(bench, None))
        await settle(pilot)
        await type_in(pilot, "C7 leaks")
        await press(pilot, "tab")
        await type_in(pilot, "photos/c7.jpg; photos/r46.jpg")
        await press(pilot, "enter")
        assert bench.job.notes[0].photos == ("photos/c7.jpg", "photos/r46.jpg")


async def test_an_empty_note_is_refused_and_escape_keeps_nothing() -> None:
    rig = Rig()
    bench = await rig.job()
    async with at_desk(rig) as pilot:
        screen = NoteScreen(bench, None)
        await pilot.app.push_screen(screen)
        await settle(pilot)
        await press(pilot, "f4")
        assert "REFUSED" in shown(pilot)
        await press(pilot, "escape")
        assert bench.job.notes == ()
        assert pilot.app.screen is not screen

"""What a newcomer is told at each point of a job's life, walked with the practice sheet of the dash panel."""

from dataclasses import replace

import hand
import pytest
import soaking
from practising import PracticeRig, practice_bench, sheet_of

from passcheck.bench.bench import Bench
from passcheck.job.commands import (
    AddNote,
    CloseRun,
    Energise,
    FinishSoak,
    MapComplaint,
    ReturnUnrepaired,
    StartRun,
    UndoChange,
)
from passcheck.job.plan import plan
from passcheck.job.steps import present
from passcheck.practice import coach
from passcheck.practice.coach import Spot, Where, advice
from passcheck.practice.forward import Soaks

FITS = 68
"""Cells beside the word PRACTICE in a window of 80 columns."""


def at(bench: Bench, spot: Spot, step: str | None = None, act: str = "", *, again: bool = False) -> str:
    at_hand = bench.job.sequence.step(step) if step is not None else None
    return advice(bench.job, bench.moment(), Where(spot, at_hand, act, again))


async def arrived() -> tuple[PracticeRig, Bench]:
    rig = PracticeRig(sheet_of())
    bench = await rig.job()
    await rig.do(bench, MapComplaint("t1", ("restarts",)))
    return rig, bench


async def found() -> tuple[PracticeRig, Bench]:
    """The complaint was confirmed by ripple on the 5 V rail."""
    rig, bench = await arrived()
    await rig.make_safe(bench)
    await rig.do(bench, hand.start(bench.job, "as-found"))
    for step in ("a01", "a02", "a03", "a04-5v", "a04-3v3", "a05", "a06"):
        await rig.walk_step(bench, step)
    await rig.do(bench, hand.failing(bench.job, "a08"))
    return rig, bench


async def reworked() -> tuple[PracticeRig, Bench]:
    rig, bench = await found()
    await rig.make_safe(bench)
    await rig.do(bench, CloseRun("t1"), hand.rework("PWR", parts=("C1", "C2", "C7", "C11")))
    return rig, bench


def test_nobody_is_told_more_than_fits_beside_the_word() -> None:
    tables = (coach._SHEETS, coach._ACTS, coach._KINDS, coach._RACK, coach._NEXT_RUN)
    sentences = [words for table in tables for words in table.values()]
    assert sentences
    assert [words for words in sentences if len(words) > FITS] == []


async def test_a_job_just_opened_is_made_safe_first() -> None:
    rig, bench = await arrived()
    assert at(bench, "traveller").startswith("F8: make safe.")
    assert at(bench, "bench").startswith("F8: make safe.")
    assert "type what each display shows" in at(bench, "make safe").lower()
    await rig.make_safe(bench)
    assert at(bench, "traveller") == "Enter starts a run as found: is the owner's complaint there?"
    assert at(bench, "run start").startswith("Read the serial off the unit")


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("a06", "Probe as it says."),
        ("a05", "Type current and limit light"),
        ("a12", "Look at the lamps"),
        ("a01", "It asks for a photo"),
        ("a16", "F10"),
        ("a14-fuel", "Enter begins the taps"),
        ("a17-sw4", "type how many answered"),
        ("a18-plug", "type the codes"),
        ("a10", "type the class"),
    ],
)
async def test_each_kind_of_step_has_its_own_words(step: str, words: str) -> None:
    rig, bench = await arrived()
    await rig.make_safe(bench)
    await rig.do(bench, hand.start(bench.job, "as-found"))
    assert words in at(bench, "bench", step)


@pytest.mark.parametrize(
    ("act", "words"),
    [
        ("caution", "read the caution"),
        ("power on", "display shows now that it is on"),
        ("make safe", "F8"),
        ("read supply", "after the absence"),
        ("guard", "comes first"),
        ("put back", "take it off"),
        ("start soak", "start the soak"),
    ],
)
async def test_what_stands_before_a_step_is_named_with_its_key(act: str, words: str) -> None:
    rig, bench = await arrived()
    await rig.make_safe(bench)
    await rig.do(bench, hand.start(bench.job, "as-found"))
    assert words in at(bench, "bench", "a06", act)


async def test_a_caution_that_asks_for_no_fact_is_answered_by_its_key() -> None:
    _rig, bench = await arrived()
    assert "Press U" in at(bench, "caution")
    assert "Type what the display shows" in at(bench, "caution", act="fact")


async def test_a_fail_is_typed_again_and_then_closes_the_run() -> None:
    rig, bench = await found()
    assert "type it again; slips show so" in at(bench, "bench", "a08", again=True)
    assert at(bench, "bench", "a08") == f"The complaint is seen. {coach.CLOSE}"
    await rig.make_safe(bench)
    assert at(bench, "bench", "a08", act="power on") == "The complaint is seen. F12: close the run."
    await rig.do(bench, CloseRun("t1"))
    assert at(bench, "traveller") == "Which block? Ctrl+F weighs what failed. R: enter the rework you do."
    assert "then R: rework" in at(bench, "suspects")
    assert "what goes stale" in at(bench, "rework")


async def test_nothing_seen_yet_leads_to_the_conditions_and_to_time() -> None:
    rig, bench = await arrived()
    await rig.make_safe(bench)
    await rig.do(bench, hand.start(bench.job, "as-found"))
    assert at(bench, "bench") == "Not seen yet. Ctrl+N: try it warm or shaken; Ctrl+G: 10 min go by."


async def test_a_rework_is_followed_by_a_retest_and_that_by_the_acceptance() -> None:
    rig, bench = await reworked()
    assert at(bench, "traveller") == "Enter starts a retest: it walks what the rework reaches."
    begun = hand.start(bench.job, "retest")
    assert isinstance(begun, StartRun)
    await rig.do(bench, replace(begun, again=True))
    while steps := plan(bench.job):
        await rig.walk_step(bench, steps[0].step.id)
    await rig.make_safe(bench)
    await rig.do(bench, CloseRun("t1"))
    await put_back(rig, bench)
    assert at(bench, "traveller") == "Enter starts the acceptance: every step has to pass as left."


async def test_what_a_test_changed_is_put_back_first() -> None:
    rig, bench = await reworked()
    await rig.walk(bench, "acceptance")
    assert bench.job.fitted
    assert at(bench, "traveller") == "O: put back what was changed for a test, before it leaves."
    await put_back(rig, bench)
    assert at(bench, "traveller").startswith("Enter starts the burn-in")


async def test_a_soak_goes_by_with_ctrl_g_from_look_to_look() -> None:
    rig, bench = await reworked()
    await rig.walk(bench, "acceptance")
    await put_back(rig, bench)
    await start_soak(rig, bench)
    assert at(bench, "bench", "a23", "guard") == "Another step comes first. Enter goes there."
    await walk_look(rig, bench)
    assert at(bench, "bench", "a23", "look") == "It soaks. Ctrl+G lets time go by up to the next look."
    rig.clock.pass_time(minutes=10)
    assert at(bench, "bench", "a23", "look") == "A look is due. Enter: look at the unit."
    assert "Serial off the unit first" in at(bench, "look")


@pytest.mark.parametrize(
    ("soaks", "words"),
    [
        ("none", "Nothing soaks"),
        ("waiting", "Ctrl+G lets time go by"),
        ("due", "A look is due"),
        ("open", "walk its steps"),
        ("done", "end the soak"),
    ],
)
async def test_the_rack_says_what_its_units_wait_for(soaks: Soaks, words: str) -> None:
    rig = PracticeRig(sheet_of())
    assert words in advice(None, rig.clock(), Where("rack", soaks=soaks))


async def test_the_shelf_leads_to_the_unit_that_waits_or_to_the_rack() -> None:
    now = PracticeRig(sheet_of()).clock()
    assert advice(None, now, Where("shelf")).startswith("Down, then Enter")
    assert "F7" in advice(None, now, Where("shelf", soaks="waiting"))
    assert "passcheck practice" in advice(None, now, Where("shelf", units=0))


def test_over_a_unit_s_history_nobody_is_sent_to_the_shelf() -> None:
    said = advice(None, PracticeRig(sheet_of()).clock(), Where("history"))
    assert said == "Read what was found and done at earlier visits. Esc goes on."
    assert len(said) <= FITS


async def test_the_end_tells_what_was_wrong_and_nothing_tells_it_before() -> None:
    rig, bench = await found()
    fault = practice_bench().unit(bench.job).faults[0]
    said = [advice(bench.job, bench.moment(), Where("bench", step, over=fault.says)) for step in present(bench.job)] + [
        advice(bench.job, bench.moment(), Where("traveller", over=fault.says))
    ]
    assert all(fault.says not in words for words in said)
    await rig.make_safe(bench)
    await rig.do(bench, CloseRun("t1"), ReturnUnrepaired("t1", "the owner wants it back"))
    assert advice(bench.job, bench.moment(), Where("traveller", over=fault.says)) == fault.says


async def put_back(rig: PracticeRig, bench: Bench) -> None:
    for one in bench.job.fitted:
        await rig.do(bench, UndoChange("t1", one.change, "as it was"))


async def start_soak(rig: PracticeRig, bench: Bench) -> None:
    await rig.do(bench, hand.start(bench.job, "burn-in"))
    step = soaking.soak_of(bench.job)
    await rig.do(bench, *hand.answers_to_cautions(bench.job, step.id, moment=bench.moment()))
    energised = hand.energise(bench.job, step.id)
    assert isinstance(energised, Energise)
    await rig.do(bench, energised, soaking.start(bench.job))


async def walk_look(rig: PracticeRig, bench: Bench) -> None:
    for name in soaking.soak_of(bench.job).check:
        await rig.do(bench, *hand.answers_to_cautions(bench.job, name, moment=bench.moment()))
        await rig.do(bench, hand.passing(bench.job, name))


async def test_a_soak_with_its_hours_is_ended() -> None:
    rig, bench = await reworked()
    await rig.walk(bench, "acceptance")
    await put_back(rig, bench)
    await start_soak(rig, bench)
    await walk_look(rig, bench)
    for _ in range(4):
        rig.clock.pass_time(minutes=10)
        await rig.do(bench, soaking.check(bench.job, cycles=1))
        await walk_look(rig, bench)
    assert at(bench, "bench", "a23", "end soak") == "Hours and looks are there. Enter ends the soak."
    await rig.do(bench, FinishSoak("t1", "a23"))
    await rig.make_safe(bench)
    await rig.do(bench, CloseRun("t1"))
    await put_back(rig, bench)
    assert at(bench, "traveller") == "Enter starts the acceptance: only the final look is left."


async def test_a_photo_that_is_asked_for_is_called_for_on_the_bench_and_on_the_card() -> None:
    rig, bench = await arrived()
    await rig.make_safe(bench)
    await rig.do(bench, hand.start(bench.job))
    assert at(bench, "bench", "a01") == "It asks for a photo: F4 takes it, any words will do. Then answer."
    await rig.do(bench, AddNote("t1", "", "a01", ("front.jpg",)))
    assert "All as it says" in at(bench, "bench", "a01")
    assert "photo's path" in at(bench, "note")


async def test_a_step_that_is_measured_in_place_of_tapped_is_told_as_measured() -> None:
    rig, bench = await arrived()
    await rig.make_safe(bench)
    await rig.do(bench, hand.start(bench.job, "as-found"))
    step = bench.job.sequence.step("a14-fuel")
    measured = coach.advice(bench.job, bench.moment(), coach.Where("bench", step, by_hand=False))
    assert measured == "Watch the pointer on the unit panel (F10), type both times; Enter."

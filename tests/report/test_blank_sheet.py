"""Does a sheet for a pen hold everything that the bench would have said and asked, in the order to keep?"""

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import hand
import pytest
from fullest_note import sample_job
from page_count import page_count
from paper_source import cells, said, source_of, tables
from rig import settings
from story import Story

import sequences
from passcheck.errors import FileFault
from passcheck.job.commands import CallMakeSafe, CloseRun
from passcheck.job.fixed_words import HAND, LICENSED, REBOUND
from passcheck.job.plan import plan
from passcheck.job.state import Job
from passcheck.job.steps import is_powered
from passcheck.report.blank_safety import MADE_SAFE
from passcheck.report.blank_sheet import ORDER, WITHOUT_POWER, blank_sheet, still_to_walk
from passcheck.report.blank_step import LATE, READ, WALK_AGAIN
from passcheck.report.document import Box, Boxes, Heading, Outcome, Part, Said, Together, Words, flat, texts
from passcheck.report.typeset import typeset
from passcheck.sequence.load import read_sequence
from passcheck.sequence.model import LampsStep
from sequences import FAULT_CURRENT, GUARD, LAMPS, RAIL

BOARDS = Path(__file__).parents[2] / "sequences"
RAIL_HEADING = Heading("2. [L] 5 V logic rail (rail-5v)", 2)


def sheet_of(job: Job, **members: Any) -> tuple[Any, ...]:
    """The parts of the sheet, none inside another."""
    return flat(blank_sheet(job, source_of(job, **members)).parts)


def block_of(job: Job, step: str) -> tuple[Part, ...]:
    """What stands on the sheet for that step."""
    blocks = (part.parts for part in blank_sheet(job, source_of(job)).parts if isinstance(part, Together))
    return next(parts for parts in blocks if f"({step})" in texts(parts)[0])


def rows_of(parts: tuple[Any, ...]) -> list[list[str]]:
    """The rows of boxes, as texts."""
    return [list(texts((part,))) for part in parts if isinstance(part, Boxes)]


def headings(job: Job) -> list[str]:
    """The steps on the sheet, as numbered."""
    return [part.text for part in sheet_of(job) if isinstance(part, Heading) and part.level == 2]


def test_the_order_is_the_first_thing_said_because_paper_refuses_nothing() -> None:
    parts = sheet_of(Story().job)
    assert next(part for part in parts if isinstance(part, Outcome)).sentence == ORDER
    assert "Stop where a step fails." in ORDER


def test_without_a_run_every_step_of_acceptance_stands_on_it() -> None:
    story = Story(sequences.with_soak())
    assert [step.id for step in still_to_walk(story.job)] == [
        s.id for s in story.job.sequence.steps if s.kind != "soak"
    ]


def test_with_a_run_open_only_what_it_still_wants_stands_on_it_in_the_plans_order() -> None:
    story = Story().start("acceptance").passes(GUARD)
    assert [step.id for step in still_to_walk(story.job)] == [one.step.id for one in plan(story.job)] == [RAIL, LAMPS]


def test_what_a_failed_check_keeps_from_the_bench_is_kept_off_the_sheet() -> None:
    story = Story().start("as-found").fails(GUARD)
    assert still_to_walk(story.job) == ()
    shown = said(blank_sheet(story.job, source_of(story.job)))
    assert "Left out, because what they need has not passed\n5 V logic rail, Telltales, each alone" in shown


def test_each_step_says_what_to_do_where_within_what_and_with_what() -> None:
    shown = said(blank_sheet(Story().job, source_of(Story().job)))
    for words in (
        f"Only after {GUARD}. Probe TP3 against TP0 with the backlight full. Probe: TP3 to TP0.",
        "Power: battery. Limits: 4.85 V .. 5.15 V. Instrument: voltmeter, 0.5 % + 3 digits or better.",
    ):
        assert words in shown


def test_a_step_that_passed_already_is_named_by_its_title_where_another_needs_it() -> None:
    story = Story().start("acceptance").passes(GUARD)
    assert "Only after 5 V rail to 0 V, unpowered." in said(blank_sheet(story.job, source_of(story.job)))


def test_every_step_has_boxes_for_two_readings_the_instrument_the_time_and_initials() -> None:
    parts = sheet_of(Story().job)
    assert parts.count(Boxes(READ)) == 2
    assert [box.name for box in READ] == ["reading 1", "reading 2", "instrument", "time", "initials"]


def test_a_step_that_is_answered_line_by_line_has_two_boxes_for_each_line() -> None:
    lines, end = rows_of(block_of(Story().job, LAMPS))[-2:]
    lamps = [" ".join(filter(None, (one.ref, one.colour, one.shows))) for one in lamps_of(Story().job)]
    assert lines == [text for lamp in lamps for text in (lamp, "seen, 1", "seen, 2")]
    assert end == ["instrument", "note", "time", "initials"]


def lamps_of(job: Job) -> tuple[Any, ...]:
    step = job.sequence.step(LAMPS)
    assert isinstance(step, LampsStep)
    return step.lamps


def test_a_hazard_message_stands_in_full_before_its_powered_step_with_a_line_for_the_fact() -> None:
    parts = sheet_of(Story().job)
    assert parts.index(Heading("Make safe")) < parts.index(Heading("Cautions")) < parts.index(Heading("The steps"))
    assert parts[parts.index(Heading("Cautions")) + 1] == Words(
        "1. WARNING. The supply can push 0.30 A into a fault. Tracks and fingers burn. DO: Set the limit with the "
        "output off, then connect, then on. STOP IF the limit light stays on.",
        "notice",
    )
    assert parts[parts.index(RAIL_HEADING) + 1] == Boxes(
        (
            Said("WARNING 1: The supply can push 0.30 A into a fault.", 0.46),
            Box("Current limit on the display", 0.39),
            Box("initials", 0.15),
        )
    )


def test_every_message_stands_in_full_once_however_many_steps_it_belongs_to() -> None:
    job = Story(board("ov-24p")).job
    shown = said(blank_sheet(job, source_of(job)))
    for caution in job.sequence.cautions.values():
        assert shown.count(caution.harm) == 1
    notice = job.sequence.cautions["polarity"]
    assert shown.count(notice.hazard) == 2, "in full, and named at its first step"
    current = job.sequence.cautions["fault-current"]
    powered = [step for step in still_to_walk(job) if is_powered(step)]
    assert shown.count(f"CAUTION 2: {current.hazard}") == len(powered)


def test_danger_is_read_in_full_again_each_time_the_unit_comes_to_power() -> None:
    base = sequences.hazardous_live()
    again, last = (base.step("inlet").model_copy(update={"id": f"inlet-{n}"}) for n in (2, 3))
    rail = base.step(RAIL).model_copy(update={"id": "rail-again", "needs": ()})
    walked = (*base.steps, again, rail, last)
    job = replace(Story(base).job, sequence=base.model_copy(update={"steps": walked}))
    danger = "Contact kills."
    full = [at for at, text in enumerate(texts(sheet_of(job))) if danger in text]
    assert len(full) == 3, "under Cautions, and before each of two entries to power"


def test_what_a_display_has_to_show_is_asked_and_never_told() -> None:
    fact = {"ask": "Volts on the display", "limits": "23.987 V .. 24.013 V"}
    job = Story(sequences.sequence(cautions={"fault-current": {**FAULT_CURRENT, "confirm": fact}})).job
    shown = said(blank_sheet(job, source_of(job)))
    assert "Volts on the display" in shown
    assert "23.987" not in shown


def test_the_fact_that_is_asked_changes_from_time_to_time() -> None:
    rail = {**sequences.RAIL_STEP, "id": "rail-again", "title": "The same rail"}
    parts = sheet_of(Story(sequences.with_steps(rail)).job)
    facts = [text for text in texts(parts) if text.endswith("on the display")]
    assert facts[:2] == ["Current limit on the display", "Volts on the display"]


def test_a_step_of_mains_asks_for_the_person_within_call_and_says_who_may_do_it() -> None:
    job = Story(sequences.hazardous_live()).job
    shown = said(blank_sheet(job, source_of(job)))
    assert LICENSED in shown
    assert "DANGER. Parts left of the marked line are at mains potential. Contact kills." in shown
    assert "second person within call" in shown


def test_making_safe_stands_first_with_its_points_limits_waits_and_both_ways_round() -> None:
    job = Story(sequences.much_energy()).job
    paper = blank_sheet(job, source_of(job))
    (row,) = cells(tables(paper)[0])
    assert row == [
        "TP9 to TP0",
        "under 2 V both ways round",
        "10 s",
        "discharge it through a resistor; then measure again",
    ]
    shown = said(paper)
    for words in (REBOUND, *(f"{at}. {act}" for at, act in enumerate(HAND, start=1)), "9 V battery in the drawer"):
        assert words in shown
    boxes = "TP9 to TP0\nknown source before\none way round\nthe other way\nagain after 10 s\nknown source after"
    assert boxes in shown


def test_the_unit_is_proved_dead_on_paper_whenever_power_comes_off() -> None:
    final = {**sequences.FINAL_STEP}
    parts = sheet_of(Story(sequences.with_steps(final)).job)
    at = parts.index(Words(MADE_SAFE, "strong"))
    assert parts[at + 3] == Heading("4. [W] Last look (final)", 2)
    assert parts[at + 4] == Words(WITHOUT_POWER, "strong")
    assert sheet_of(Story().job).count(Words(MADE_SAFE, "strong")) == 1


def test_a_lead_that_forbids_power_is_told_of_before_any_step() -> None:
    story = Story(sequences.much_energy())
    story.do(CallMakeSafe("t1"), hand.proved_dead(story.job, shorting_lead=True))
    assert "No power while this is fitted: shorting lead at TP9 to TP0." in said(
        blank_sheet(story.job, source_of(story.job))
    )


def test_timed_steps_say_that_taps_cannot_be_entered_afterwards() -> None:
    job = Story(board("ov-24p")).job
    assert ". [T] " in texts(block_of(job, "a17-time"))[0]
    assert "T: as W; taps can't be entered afterwards" in said(blank_sheet(job, source_of(job)))


def test_a_plain_reading_can_be_typed_in_afterwards_and_the_sheet_says_by_which_key() -> None:
    job = Story().job
    marks = [text.partition("[")[2][:1] for text in headings(job)]
    assert marks == [LATE, LATE, WALK_AGAIN]
    assert "L: can be typed in afterwards as a late entry (Ctrl+S)." in said(blank_sheet(job, source_of(job)))
    assert "press Ctrl+S, then give what was read and when" in said(blank_sheet(job, source_of(job)))
    own = source_of(job, settings(keys={"bench.late": "f11"}))
    assert "press F11," in said(blank_sheet(job, own))


@pytest.mark.parametrize("name", ["ov-24p", "ek-8", "qm-48", "th-12", "pm-7"])
def test_every_step_of_the_demo_boards_has_words_and_boxes(name: str) -> None:
    job = Story(board(name)).job
    numbered = [text for text in headings(job) if re.match(r"\d+\. \[[LWT]\] ", text)]
    assert len(numbered) == len(still_to_walk(job))
    shown = said(blank_sheet(job, source_of(job)))
    for step in still_to_walk(job):
        assert f"{step.title} ({step.id})" in shown
        assert all(words in shown for words in step.do)


def board(name: str) -> Any:
    """A demo board."""
    path = BOARDS / f"{name}.yaml"
    return read_sequence(path.read_text(encoding="utf-8"), path.name)


def test_a_job_that_has_ended_gets_none() -> None:
    job = sample_job("A31-0001")
    with pytest.raises(FileFault, match="no blank sheet"):
        blank_sheet(job, source_of(job))


def test_a_run_of_burn_in_can_not_be_kept_on_paper() -> None:
    story = Story(sequences.with_soak())
    story.walk()
    story.start("burn-in")
    assert "A soak can't be kept on paper" in said(blank_sheet(story.job, source_of(story.job)))
    story.do(CloseRun("t1"))


def test_a_board_of_forty_steps_has_room_on_eight_pages() -> None:
    job = Story(board("ov-24p")).job
    paper = blank_sheet(job, source_of(job))
    assert page_count(typeset(paper, "a4")) <= 8
    assert page_count(typeset(paper, "letter")) <= 9

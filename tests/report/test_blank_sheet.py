"""Does a sheet for a pen hold everything that the bench would have said and asked, in the order to keep?"""

from pathlib import Path
from typing import Any

import hand
import pytest
from fullest_note import sample_job
from paper_source import cells, said, source_of, tables
from rig import settings
from story import Story

import sequences
from passcheck.errors import FileFault
from passcheck.job.commands import CallMakeSafe, CloseRun
from passcheck.job.fixed_words import HAND, LICENSED, REBOUND
from passcheck.job.plan import plan
from passcheck.job.state import Job
from passcheck.report.blank_sheet import BOXES, LATE, MADE_SAFE, ORDER, TIMED, WALK_AGAIN, blank_sheet, still_to_walk
from passcheck.report.document import Heading, Outcome, ToWrite, Words
from passcheck.sequence.load import read_sequence
from sequences import FAULT_CURRENT, GUARD, LAMPS, RAIL

BOARDS = Path(__file__).parents[2] / "sequences"
RAIL_HEADING = Heading("2. 5 V logic rail (rail-5v)", 2)


def sheet_of(job: Job, **members: Any) -> tuple[Any, ...]:
    """The parts of the sheet."""
    return blank_sheet(job, source_of(job, **members)).parts


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
        "Do\nProbe TP3 against TP0 with the backlight full.",
        "Probe\nTP3 to TP0",
        "Limits\n4.85 V .. 5.15 V",
        "Instrument\nvoltmeter, 0.5 % + 3 digits or better",
        "Only after\n5 V rail to 0 V, unpowered",
    ):
        assert words in shown


def test_every_step_has_boxes_for_two_readings_the_instrument_the_time_and_initials() -> None:
    parts = sheet_of(Story().job)
    assert parts.count(ToWrite(BOXES)) == 3
    assert [name for name, _share in BOXES] == ["reading 1", "reading 2", "instrument", "time", "initials"]


def test_a_hazard_message_stands_in_full_before_its_powered_step_with_a_line_for_the_fact() -> None:
    parts = sheet_of(Story().job)
    at = parts.index(RAIL_HEADING)
    message, line = parts[at + 1 : at + 3]
    assert message == Words(
        "WARNING. The supply can push 0.30 A into a fault. Tracks and fingers burn. DO: Set the limit with the output "
        "off, then connect, then on. STOP IF the limit light stays on.",
        "notice",
    )
    assert line.fields[0][0] == "Current limit on the display"


def test_what_a_display_has_to_show_is_asked_and_never_told() -> None:
    fact = {"ask": "Volts on the display", "limits": "23.987 V .. 24.013 V"}
    job = Story(sequences.sequence(cautions={"fault-current": {**FAULT_CURRENT, "confirm": fact}})).job
    shown = said(blank_sheet(job, source_of(job)))
    assert "Volts on the display" in shown
    assert "23.987" not in shown


def test_the_fact_that_is_asked_changes_from_time_to_time() -> None:
    rail = {**sequences.RAIL_STEP, "id": "rail-again", "title": "The same rail"}
    parts = sheet_of(Story(sequences.with_steps(rail)).job)
    facts = [part.fields[0][0] for part in parts if isinstance(part, ToWrite)]
    facts = [name for name in facts if name.endswith("on the display")]
    assert facts[:2] == ["Current limit on the display", "Volts on the display"]


def test_a_step_of_mains_asks_for_the_person_within_call_and_says_who_may_do_it() -> None:
    job = Story(sequences.hazardous_live()).job
    shown = said(blank_sheet(job, source_of(job)))
    assert LICENSED in shown
    assert "DANGER. Parts left of the marked line are at mains potential. Contact kills." in shown
    assert "Second person within call" in shown


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
    boxes = "known source before\none way round\nthe other way\nagain after 10 s\nknown source after"
    assert boxes in shown


def test_the_unit_is_proved_dead_on_paper_whenever_power_comes_off() -> None:
    final = {**sequences.FINAL_STEP}
    parts = sheet_of(Story(sequences.with_steps(final)).job)
    at = parts.index(Words(MADE_SAFE, "strong"))
    assert parts[at + 3] == Heading("4. Last look (final)", 2)
    assert sheet_of(Story().job).count(Words(MADE_SAFE, "strong")) == 1


def test_a_lead_that_forbids_power_is_told_of_before_any_step() -> None:
    story = Story(sequences.much_energy())
    story.do(CallMakeSafe("t1"), hand.proved_dead(story.job, shorting_lead=True))
    assert "No power while this is fitted: shorting lead at TP9 to TP0." in said(
        blank_sheet(story.job, source_of(story.job))
    )


def test_timed_steps_say_that_taps_cannot_be_entered_afterwards() -> None:
    job = Story(board("ov-24p")).job
    parts = sheet_of(job)
    at = next(n for n, part in enumerate(parts) if isinstance(part, Heading) and "(a17-time)" in part.text)
    after = parts[at : at + 12]
    assert Words(TIMED, "small") in after
    assert Words(WALK_AGAIN, "small") in after


def test_a_plain_reading_can_be_typed_in_afterwards_and_the_sheet_says_by_which_key() -> None:
    job = Story().job
    parts = sheet_of(job)
    assert parts.count(Words(LATE, "small")) == 2
    assert parts.count(Words(WALK_AGAIN, "small")) == 1
    assert "press Ctrl+S, then give what was read and when" in said(blank_sheet(job, source_of(job)))
    own = source_of(job, settings(keys={"bench.late": "f11"}))
    assert "press F11," in said(blank_sheet(job, own))


@pytest.mark.parametrize("name", ["ov-24p", "ek-8", "qm-48", "th-12", "pm-7"])
def test_every_step_of_the_demo_boards_has_words_and_boxes(name: str) -> None:
    job = Story(board(name)).job
    numbered = [text for text in headings(job) if text.endswith(")")]
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

"""A good unit lies on the bench in place of the one under repair: which rules keep the two apart?"""

import hand
import pytest
from story import Story

import sequences
from passcheck.job.commands import CallMakeSafe, CloseRun, LogRework, OpenCase, ReportIncident, StartRun
from passcheck.job.gate import blockers
from passcheck.job.plan import plan
from sequences import GUARD, LAMPS, RAIL

GOOD = "7Q22052"


def reading(story: Story | None = None) -> Story:
    return (story or Story()).start("good-unit")


def test_the_run_keeps_the_serial_of_the_unit_that_was_read() -> None:
    run = reading().job.open_run
    assert run is not None
    assert run.facts.serial_scanned == GOOD


def test_the_unit_under_repair_is_no_good_unit() -> None:
    refusal = Story().refused(StartRun("t1", "good-unit", "*7q22051*"))
    assert refusal.sentence == "7Q22051 is the unit under repair: a good-unit run reads another one."


@pytest.mark.parametrize("scanned", ["", "[b]", "x" * 50])
def test_what_is_no_serial_is_no_unit(scanned: str) -> None:
    assert "no serial number" in Story().refused(StartRun("t1", "good-unit", scanned)).sentence


def test_a_unit_of_another_board_is_refused_by_the_author_s_mask() -> None:
    story = Story(sequences.sequence(serial="9A99999"))
    assert "doesn't look like a LB-3 serial" in story.refused(StartRun("t1", "good-unit", "QQ-1")).sentence


@pytest.mark.parametrize("purpose", ["as-found", "retest", "acceptance"])
def test_every_other_run_still_asks_for_this_unit(purpose: str) -> None:
    story = Story()
    refusal = story.refused(StartRun("t1", purpose, GOOD))  # type: ignore[arg-type]
    assert refusal.sentence == "The unit in hand reads 7Q22052; this job is for unit 7Q22051."


def test_this_unit_is_off_and_dead_before_another_takes_its_place() -> None:
    story = Story().start("as-found").passes(GUARD).passes(RAIL)
    story.do(CloseRun("t1"))
    assert "has to be, before another one takes its place" in story.refused(hand.start(story.job, "good-unit")).sentence
    reading(story.make_safe())


def test_and_the_other_one_before_it_leaves_the_bench() -> None:
    story = reading().passes(GUARD).passes(RAIL)
    assert story.refused(CloseRun("t1")).sentence == "Unit 7Q22052 was not told off and proved dead."
    story.do(CallMakeSafe("t1"))
    assert story.refused(CloseRun("t1")).code == "power"
    story.make_safe().do(CloseRun("t1"))


def test_nothing_is_entered_as_done_to_this_unit_meanwhile() -> None:
    story = reading()
    for command in (LogRework("t1", ("PWR",), ("C1",), "replaced", "aged"), OpenCase("t1", "looked")):
        assert "Run 1 reads unit 7Q22052" in story.refused(command).sentence
    story.do(CloseRun("t1"), OpenCase("t1", "looked"))


def test_a_unit_whose_guard_fails_doesn_t_keep_a_good_one_from_power() -> None:
    story = Story().start("as-found").fails(GUARD)
    assert story.answer(RAIL).refused(hand.energise(story.job, RAIL)).code == "needs"
    reading(story).passes(GUARD).passes(RAIL)


def test_the_good_unit_s_own_guard_comes_before_its_power() -> None:
    story = reading(Story().start("as-found").passes(GUARD)).answer(RAIL)
    assert story.refused(hand.energise(story.job, RAIL)).code == "needs"


def test_a_doubt_about_this_unit_does_not_colour_the_other_s_reading() -> None:
    story = Story().start().passes(GUARD).reads(RAIL, "5.14 V").reads(RAIL, "5.14 V").make_safe()
    reading(story).passes(GUARD).reads(RAIL, "5.00 V")
    assert story.last_attempt().judgement.verdict == "pass"


def test_readings_of_another_unit_neither_release_this_one_nor_stand_in_its_way() -> None:
    story = reading(Story().walk()).passes(GUARD).fails(RAIL).make_safe()
    assert story.blockers() == ()
    fresh = reading().passes(GUARD).passes(RAIL).passes(LAMPS).make_safe()
    assert len(blockers(fresh.job, fresh.outside, fresh.now)) == 3
    assert not any("7Q22052" in one for one in fresh.blockers())


def test_after_an_incident_the_good_unit_is_walked_from_its_guard_again() -> None:
    story = reading().passes(GUARD)
    assert GUARD not in [one.step.id for one in plan(story.job)]
    story.do(ReportIncident("t1", ("PWR",), "probe slipped"))
    assert GUARD in [one.step.id for one in plan(story.job)]

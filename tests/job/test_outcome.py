"""With which words does a run close? The trade's table, row by row."""

import hand
from story import Story

import sequences
from passcheck.job.commands import CloseRun, MapComplaint, VoidAttempt
from passcheck.job.events import RunClosed
from sequences import GUARD, LAMPS, RAIL


def as_found(*, mapped: bool = True, conditions: tuple[str, ...] = ("warm",)) -> Story:
    story = Story(sequences.with_arrival_and_final())
    if mapped:
        story.do(MapComplaint("t1", ("rail-low",), conditions))
    return story.start("as-found").passes("arrival").passes(GUARD)


def closed(story: Story) -> str:
    (event,) = story.do(CloseRun("t1"))
    assert isinstance(event, RunClosed)
    return event.outcome


def test_reproduced() -> None:
    assert closed(as_found().fails(RAIL).passes(LAMPS)) == "complaint reproduced"


def test_reproduced_with_further_faults() -> None:
    assert closed(as_found().fails(RAIL).fails(LAMPS)) == "complaint reproduced; further faults found"


def test_not_reproduced_names_the_conditions() -> None:
    warm = as_found().passes(RAIL, under=("warm",)).passes(LAMPS)
    assert closed(warm) == "not reproduced under: warm"
    nothing_to_try = sequences.sequence(symptoms={"rail-low": {"says": "Everything dim", "steps": [RAIL]}})
    story = Story(nothing_to_try)
    story.do(MapComplaint("t1", ("rail-low",)))
    assert closed(story.start("as-found").passes(GUARD).passes(RAIL)) == (
        "not reproduced under: the conditions of the bench"
    )


def test_not_reproduced_is_not_said_before_every_listed_condition_was_tried() -> None:
    assert closed(as_found().passes(RAIL).passes(LAMPS)) == "inconclusive: 0 of 1 conditions tried"
    two = as_found(conditions=("warm", "vibration")).passes(RAIL, under=("warm",))
    assert closed(two) == "inconclusive: 1 of 2 conditions tried"


def test_the_author_s_conditions_can_t_be_shortened_when_the_complaint_is_mapped() -> None:
    assert closed(as_found(conditions=()).passes(RAIL)) == "inconclusive: 0 of 1 conditions tried"


def test_a_condition_counts_only_at_a_step_that_shows_the_complaint() -> None:
    assert closed(as_found().passes(RAIL).passes(LAMPS, under=("warm",))) == "inconclusive: 0 of 1 conditions tried"


def test_a_different_fault() -> None:
    story = as_found().passes(RAIL, under=("warm",)).fails(LAMPS)
    assert closed(story) == "complaint not reproduced; different fault found"


def test_a_fault_that_shows_warm_and_not_cold_is_no_intermittent_one() -> None:
    story = as_found().passes(RAIL).fails(RAIL, under=("warm",)).passes(RAIL)
    assert closed(story) == "complaint reproduced"


def test_one_symptom_that_shows_each_time_stands_beside_one_that_comes_and_goes() -> None:
    symptoms = {"dim": {"says": "Dim", "steps": [RAIL]}, "dark": {"says": "Dark", "steps": [LAMPS]}}
    story = Story(sequences.sequence(symptoms=symptoms))
    story.do(MapComplaint("t1", ("dim", "dark")))
    story.start("as-found").passes(GUARD).fails(RAIL).passes(RAIL).fails(LAMPS)
    assert closed(story) == "complaint reproduced; intermittent: 1 of 2"


def test_inconclusive_says_how_far_it_got() -> None:
    assert closed(as_found().passes(LAMPS)) == "inconclusive: 0 of 1 linked steps tried"


def test_inconclusive_names_the_other_fault_that_was_met() -> None:
    words = "inconclusive: 0 of 1 linked steps tried; different fault found"
    assert closed(as_found().fails(LAMPS)) == words


def test_a_doubt_is_no_try_that_shows_anything() -> None:
    assert closed(as_found().reads(RAIL, "5.14 V")) == "inconclusive: 0 of 1 linked steps tried"


def test_intermittent_counts_every_repeat() -> None:
    story = as_found()
    for verdict in ("pass", "fail", "pass", "fail", "pass"):
        story = story.passes(RAIL) if verdict == "pass" else story.fails(RAIL)
    assert closed(story) == "intermittent: 2 of 5"


def test_powered_confirmation_not_safe_gives_the_reading() -> None:
    story = as_found().make_safe().fails(GUARD)
    assert closed(story) == f"powered confirmation not safe: {story.last_attempt().judgement.sentence}"


def test_a_fault_seen_on_arrival_makes_nothing_unsafe() -> None:
    story = Story(sequences.with_arrival_and_final())
    story.do(MapComplaint("t1", ("rail-low",)))
    story.start("as-found").fails("arrival").passes(GUARD).fails(RAIL)
    assert closed(story) == "complaint reproduced; further faults found"


def test_a_complaint_that_was_not_mapped() -> None:
    assert closed(as_found(mapped=False).passes(RAIL)) == "complaint not mapped to a symptom"
    assert closed(as_found(mapped=False).fails(RAIL)) == "complaint not mapped to a symptom; 1 step(s) fail"


def test_a_withdrawn_try_is_no_evidence() -> None:
    story = as_found().fails(RAIL)
    story.do(VoidAttempt("t1", 3, "lead", "open lead", "0.2 Ω now"))
    assert closed(story.passes(RAIL, under=("warm",))) == "not reproduced under: warm"


def test_a_second_as_found_run_goes_on_where_the_first_was_closed() -> None:
    story = as_found().fails(RAIL).start("as-found").passes(RAIL)
    assert closed(story) == "intermittent: 1 of 2"


def test_what_a_rework_made_stale_says_nothing_in_a_later_run() -> None:
    story = as_found().fails(RAIL).make_safe()
    story.do(hand.rework("PWR"))
    assert closed(story.start("as-found").passes(GUARD).passes(RAIL, under=("warm",))) == "not reproduced under: warm"


def test_other_runs_close_with_how_far_they_got() -> None:
    story = Story().start().passes(GUARD).passes(GUARD).fails(RAIL)
    assert closed(story) == "1 of 3 steps passed"


def test_a_retest_counts_the_steps_that_it_asks_for() -> None:
    def reworked() -> Story:
        story = as_found().fails(RAIL).passes(LAMPS).make_safe()
        story.do(CloseRun("t1"), hand.rework("LAMP"))
        return story.start("retest")

    assert closed(reworked()) == "0 of 3 steps of this retest passed"
    assert closed(reworked().passes(GUARD).passes(RAIL)) == "2 of 3 steps of this retest passed"
    assert closed(reworked().passes(GUARD).passes(RAIL).passes(LAMPS)) == "3 of 3 steps of this retest passed"
    assert closed(reworked().passes(GUARD).fails(RAIL)) == "1 of 3 steps of this retest passed"


def test_a_condition_is_tried_at_a_step_of_its_own_symptom() -> None:
    symptoms = {
        "dim": {"says": "Dim", "steps": [RAIL], "try": ["warm"]},
        "dark": {"says": "Dark", "steps": [LAMPS], "try": ["damp"]},
    }
    story = Story(sequences.sequence(symptoms=symptoms))
    story.do(MapComplaint("t1", ("dim", "dark")))
    story.start("as-found").passes(GUARD).passes(RAIL, under=("warm", "damp")).passes(LAMPS)
    twin = story.twin()
    assert closed(story) == "inconclusive: 1 of 2 conditions tried", "damp was tried at the rail and not at the lamps"
    assert closed(twin.passes(LAMPS, under=("damp",))) == "not reproduced under: warm, damp"

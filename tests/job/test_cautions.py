"""Which hazard messages stand before a step, and what answers them?"""

import hand
import pytest
from hypothesis import given
from hypothesis import strategies as st
from story import Story

import sequences
from passcheck.job import cautions
from passcheck.job.cautions import Asked, accepts
from passcheck.job.commands import Acknowledge, HandOver, ReportIncident, TellPower
from passcheck.job.events import CautionAcknowledged
from passcheck.judge.limits import parse_limits
from passcheck.sequence.model import Confirm, Sequence
from sequences import FAULT_CURRENT, GUARD, LAMPS, RAIL


def asked(story: Story, step: str = RAIL, by: str = "t1") -> tuple[Asked, ...]:
    return cautions.outstanding(story.job, story.step(step), by, story.now)


def ready(board: Sequence | None = None) -> Story:
    return Story(board).start().passes(GUARD)


def test_a_notice_is_shown_and_asks_nothing() -> None:
    assert asked(ready(sequences.with_signal("NOTICE"))) == ()


def test_a_caution_asks_for_one_deliberate_key_and_no_fact() -> None:
    story = ready(sequences.with_signal("CAUTION"))
    assert [one.confirm for one in asked(story)] == [None]
    story.do(Acknowledge("t1", "fault-current"))
    assert asked(story) == ()


@pytest.mark.parametrize("signal", ["WARNING", "DANGER"])
def test_a_warning_and_a_danger_ask_for_a_fact(signal: str) -> None:
    story = ready(sequences.with_signal(signal))
    assert asked(story)[0].confirm is not None
    refusal = story.refused(Acknowledge("t1", "fault-current"))
    assert refusal.code == "fact"


def test_a_warning_is_answered_once_a_run() -> None:
    story = ready().power(RAIL)
    story.make_safe()
    assert asked(story) == ()
    assert asked(story.start()) != ()


def test_a_danger_is_answered_at_each_entry_to_the_powered_state() -> None:
    story = ready(sequences.with_signal("DANGER")).power(RAIL)
    assert asked(story) == ()
    story.do(TellPower("t1", "off"))
    assert asked(story) != ()


def test_the_answer_of_one_person_is_not_the_answer_of_another() -> None:
    story = ready().answer(RAIL, "t1")
    assert asked(story, by="t1") == ()
    assert asked(story, by="t2") != ()


def after_rework(story: Story) -> None:
    story.do(hand.rework("LAMP"))


def after_incident(story: Story) -> None:
    story.do(ReportIncident("t1", ("LAMP",), "slipped probe"))


def after_hand_over(story: Story) -> None:
    story.do(HandOver("t1", "t2"), HandOver("t2", "t1"))


def after_absence(story: Story) -> None:
    story.clock.pass_time(minutes=16)


def after_restart(story: Story) -> None:
    story.restart()


ALERTS = [after_rework, after_incident, after_hand_over, after_absence, after_restart]


@pytest.mark.parametrize("happens", ALERTS)
@pytest.mark.parametrize("signal", ["CAUTION", "WARNING"])
def test_every_answer_is_asked_for_again(happens: object, signal: str) -> None:
    assert callable(happens)
    story = ready(sequences.with_signal(signal)).answer(RAIL)
    assert asked(story) == ()
    happens(story)
    assert asked(story) != ()
    assert asked(story)[0].confirm is not None, "after an alert a CAUTION asks for its fact too"


def test_after_an_absence_the_new_answer_stands() -> None:
    story = ready(sequences.with_signal("CAUTION")).answer(RAIL)
    story.clock.pass_time(minutes=16)
    refusal = story.refused(Acknowledge("t1", "fault-current"))
    assert refusal.code == "fact", "one key doesn't do after an absence"
    story.answer(RAIL)
    assert asked(story) == ()


def test_a_caution_without_a_fact_to_ask_for_takes_the_key_after_an_alert_too() -> None:
    story = ready(sequences.with_signal("CAUTION", confirm=False)).answer(RAIL)
    after_hand_over(story)
    assert [one.confirm for one in asked(story)] == [None]


def test_which_fact_is_asked_varies() -> None:
    story = ready()
    first = asked(story)[0].confirm
    story.answer(RAIL).start()
    second = asked(story)[0].confirm
    story.answer(RAIL).start()
    assert first is not None
    assert second is not None
    assert first.ask != second.ask
    assert asked(story)[0].confirm == first


def test_the_worst_is_asked_first() -> None:
    board = sequences.sequence(
        cautions={
            "fault-current": FAULT_CURRENT,
            "hot": {**FAULT_CURRENT, "signal": "CAUTION"},
            "mains": sequences.MAINS_CAUTION,
        },
        steps=[
            sequences.GUARD_STEP,
            {**sequences.RAIL_STEP, "cautions": ["hot", "fault-current", "mains"]},
            sequences.LAMPS_STEP,
        ],
    )
    assert [one.caution.signal for one in asked(ready(board))] == ["DANGER", "WARNING", "CAUTION"]


def test_the_cautions_of_a_supply_stand_before_every_step_that_uses_it() -> None:
    board = sequences.sequence(supplies={"battery": {**sequences.BATTERY, "cautions": ["fault-current"]}})
    story = ready(board)
    assert [one.name for one in asked(story, LAMPS)] == ["fault-current"]
    assert asked(story, GUARD) == ()


def test_discharging_has_cautions_of_its_own() -> None:
    board = sequences.much_energy(cautions=["fault-current"])
    assert cautions.of_discharge(Story(board).job) == ("fault-current",)


def test_a_changed_wording_is_a_new_message() -> None:
    story = ready()
    story.happen(CautionAcknowledged("fault-current", "another text", 1))
    assert asked(story) != ()


CURRENT = Confirm(ask="Current limit on the display", limits=parse_limits("0.30 A ± 5 %"))


@pytest.mark.parametrize("given_fact", ["0.30 A", "0.30", "0,30", "0.300 A", "300 mA", "0.29", "0.31"])
def test_what_a_display_would_show_is_accepted(given_fact: str) -> None:
    assert accepts(CURRENT, given_fact)


@pytest.mark.parametrize(
    "given_fact", ["0.3", "0.3 A", "0.50", "", "ok", "yes", "OL", "0.30 V", "-0.30", "30", "> 0.30 A"]
)
def test_what_no_ready_bench_would_show_is_refused(given_fact: str) -> None:
    assert not accepts(CURRENT, given_fact)


@given(st.text(max_size=12))
def test_no_text_at_all_breaks_the_question(text: str) -> None:
    assert accepts(CURRENT, text) in (True, False)


@pytest.mark.parametrize("wrong", ["0.50 A", "0.3", "x", "", None])
def test_a_refusal_never_contains_the_expected_value(wrong: str | None) -> None:
    story = ready()
    refusal = story.refused(Acknowledge("t1", "fault-current", wrong))
    words = f"{refusal.sentence} {refusal.lift}"
    assert refusal.code == "fact"
    assert all(digits not in words for digits in ("0.30", "0.285", "0.315", "5 %", "23.5", "24.5"))


def test_a_caution_that_is_not_asked_takes_no_answer() -> None:
    story = ready().answer(RAIL)
    assert story.refused(Acknowledge("t1", "fault-current", "0.30 A")).code == "order"
    assert story.refused(Acknowledge("t1", "ghost")).code == "entry"


def test_without_a_run_no_caution_can_be_answered() -> None:
    assert Story().refused(Acknowledge("t1", "fault-current", "0.30 A")).code == "no run"


def test_the_record_holds_the_wording_the_question_and_the_fact() -> None:
    story = ready()
    (event,) = story.do(Acknowledge("t1", "fault-current", "0.30 A"))
    assert isinstance(event, CautionAcknowledged)
    assert (event.asked, event.given, event.run) == ("Current limit on the display", "0.30 A", 1)
    assert event.text_hash == cautions.text_hash(story.job.sequence.cautions["fault-current"])

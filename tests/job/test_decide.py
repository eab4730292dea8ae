"""What is refused, with which reason, and what is granted?"""

from dataclasses import replace

import hand
import pytest
from rig import settings
from story import Story

import sequences
from passcheck.job import commands as ask
from passcheck.job import events as happened
from passcheck.job.answers import CountAnswer, Departure, ListAnswer, ReadingAnswer
from passcheck.job.commands import Command
from passcheck.job.events import LeftOld
from passcheck.job.pin import pin_hash
from sequences import GUARD, LAMPS, RAIL

SALT = bytes(range(16))


def code(story: Story, command: Command) -> str:
    return story.refused(command).code


class TestEveryCommand:
    def test_an_ended_job_takes_nothing(self) -> None:
        story = Story()
        story.do(ask.ReturnUnrepaired("t1", "no parts"))
        refusal = story.refused(ask.AddNote("t1", "one more thing"))
        assert (refusal.code, refusal.sentence) == (
            "ended",
            "This job has ended: returned unrepaired. Nothing is added to it.",
        )

    def test_a_stranger_is_refused(self) -> None:
        assert code(Story(), ask.AddNote("x9", "hello")) == "person"


class TestRuns:
    def test_a_symptom_that_the_sequence_does_not_know(self) -> None:
        assert code(Story(), ask.MapComplaint("t1", ("rail-low", "ghost"))) == "entry"

    def test_one_run_at_a_time(self) -> None:
        story = Story().start()
        assert code(story, hand.start(story.job)) == "order"

    @pytest.mark.parametrize("scanned", ["7Q22052", "", "  "])
    def test_a_run_begins_with_the_right_unit_in_hand(self, scanned: str) -> None:
        refusal = Story().refused(ask.StartRun("t1", "acceptance", scanned))
        assert refusal.code == "unit"
        assert "7Q22051" in refusal.sentence

    @pytest.mark.parametrize("scanned", ["7Q22051", "7q22051 ", "*7Q22051*\r\n", "\x1d7Q22051"])
    def test_what_a_scanner_puts_around_the_serial_is_no_part_of_it(self, scanned: str) -> None:
        Story().do(ask.StartRun("t1", "acceptance", scanned))

    def test_a_purpose_without_steps(self) -> None:
        assert code(Story(), ask.StartRun("t1", "burn-in", "7Q22051")) == "order"

    def test_the_second_person_is_known(self) -> None:
        assert code(Story(), ask.StartRun("t1", "acceptance", "7Q22051", second="x9")) == "person"

    @pytest.mark.parametrize(
        ("role", "name", "words"),
        [
            ("voltmeter", "GHOST", "not an instrument in use"),
            ("scope", "M1", "does not serve as scope"),
            ("supply-display", "M1", "does not serve"),
        ],
    )
    def test_an_instrument_that_will_not_do(self, role: str, name: str, words: str) -> None:
        refusal = Story().refused(ask.StartRun("t1", "acceptance", "7Q22051", ((role, name),)))
        assert refusal.code == "instrument"
        assert words in refusal.sentence

    def test_an_instrument_worse_than_the_sequence_needs(self) -> None:
        story = Story(sequences.sequence(instruments={"voltmeter": {"accuracy": "0.1 % + 2 digits"}}))
        refusal = story.refused(ask.StartRun("t1", "acceptance", "7Q22051", (("voltmeter", "M1"),)))
        assert "0.5 % + 3 digits" in refusal.sentence
        story.do(ask.StartRun("t1", "acceptance", "7Q22051", (("voltmeter", "M9"),)))

    def test_a_withdrawn_instrument(self) -> None:
        bench = settings()
        meter = bench.instruments["M1"].model_copy(update={"withdrawn": True})
        story = Story(settings_now=bench.model_copy(update={"instruments": {**bench.instruments, "M1": meter}}))
        assert code(story, hand.start(story.job)) == "instrument"

    def test_closing_needs_an_open_run(self) -> None:
        assert code(Story(), ask.CloseRun("t1")) == "no run"

    def test_a_hand_over_goes_to_somebody_else_who_is_known(self) -> None:
        assert code(Story(), ask.HandOver("t1", "x9")) == "person"
        assert code(Story(), ask.HandOver("t1", "t1")) == "person"

    def test_a_newer_sequence_needs_a_unit_without_power_and_without_a_run(self) -> None:
        story = Story().start().passes(GUARD).power(LAMPS)
        newer = story.boards.put(sequences.sequence(revision=2))
        revise = ask.ReviseSequence("t1", newer.text, newer.digest, "new limits")
        assert code(story, revise) == "order"
        story.do(ask.CloseRun("t1"))
        assert code(story, revise) == "power"
        story.make_safe().do(revise)
        assert code(story, revise) == "order"


class TestPower:
    def test_no_run_no_power(self) -> None:
        story = Story()
        assert code(story, hand.energise(story.job, RAIL)) == "no run"

    def test_a_step_of_another_run(self) -> None:
        story = Story(sequences.with_soak()).start()
        assert code(story, ask.Energise("t1", "soak", "24 V", "0.30 A")) == "order"

    def test_an_unpowered_step_needs_no_power(self) -> None:
        assert code(Story().start(), ask.Energise("t1", GUARD, "24 V", "0.30 A")) == "order"

    def test_the_unpowered_guard_comes_before_power(self) -> None:
        story = Story().start().answer(RAIL)
        refusal = story.refused(hand.energise(story.job, RAIL))
        assert refusal.code == "needs"
        assert refusal.sentence == "5 V rail to 0 V, unpowered has not passed: it comes before power."

    def test_the_caution_comes_before_power(self) -> None:
        story = Story().start().passes(GUARD)
        refusal = story.refused(hand.energise(story.job, RAIL))
        assert refusal.code == "caution"
        assert refusal.sentence.startswith("WARNING: ")

    def test_a_fitted_shorting_lead_forbids_power(self) -> None:
        story = Story(sequences.much_energy())
        story.do(hand.proved_dead(story.job, shorting_lead=True))
        story.start().passes(GUARD).answer(RAIL)
        assert "shorting lead at TP9" in story.refused(hand.energise(story.job, RAIL)).sentence
        story.do(ask.UndoChange("t1", "shorting lead", "taken off"), hand.energise(story.job, RAIL))

    def test_unknown_power_forbids_power(self) -> None:
        story = Story().start().passes(GUARD).answer(RAIL)
        story.do(ask.CallMakeSafe("t1"))
        assert code(story, hand.energise(story.job, RAIL)) == "power"

    @pytest.mark.parametrize(
        ("volts", "limit", "why"),
        [("12 V", "0.30 A", "power"), ("24 V", "0.50 A", "power"), ("24 V", "0", "power"), ("x", "0.30 A", "entry")],
    )
    def test_a_supply_set_otherwise_than_the_sequence_asks(self, volts: str, limit: str, why: str) -> None:
        story = Story().start().passes(GUARD).answer(RAIL)
        refusal = story.refused(ask.Energise("t1", RAIL, volts, limit))
        assert refusal.code == why
        assert "0.3 " not in refusal.sentence.replace(limit, ""), "the sequence's own value is not given away"

    def test_nothing_to_switch(self) -> None:
        assert code(Story(), ask.TellPower("t1", "off")) == "order"

    def test_hazardous_live_needs_an_authorised_person(self) -> None:
        story = Story(sequences.hazardous_live()).make_safe().start(second="t2").passes(GUARD).answer("inlet")
        assert code(story, hand.energise(story.job, "inlet")) == "person"

    @pytest.mark.parametrize("second", [None, "k9"])
    def test_hazardous_live_needs_somebody_else_within_call(self, second: str | None) -> None:
        story = Story(sequences.hazardous_live()).make_safe("k9").start(by="k9", second=second)
        story.passes(GUARD, "k9").answer("inlet", "k9")
        assert "within call" in story.refused(hand.energise(story.job, "inlet", "k9")).sentence

    def test_one_supply_at_a_time(self) -> None:
        story = Story(sequences.hazardous_live()).make_safe("k9").start(by="k9", second="t2")
        story.passes(GUARD, "k9").power(LAMPS, "k9").answer("inlet", "k9")
        assert "battery is told on" in story.refused(hand.energise(story.job, "inlet", "k9")).sentence
        story.make_safe("k9").passes("inlet", "k9")

    @pytest.mark.parametrize("step", ["inlet", RAIL])
    def test_a_supply_that_soaks_is_not_off(self, step: str) -> None:
        story = Story(sequences.hazardous_live()).make_safe("k9").start(by="k9", second="t2").passes(GUARD, "k9")
        story.happen(happened.SoakStarted("soak", "battery", "24 V", "0.1 A"))
        story.answer(step, "k9")
        refusal = story.refused(hand.energise(story.job, step, "k9"))
        assert (refusal.code, refusal.sentence) == ("order", "The unit is on soak: it has power.")

    def test_a_step_of_another_supply_waits_until_the_soak_ended(self) -> None:
        story = Story(sequences.hazardous_live()).make_safe("k9").start(by="k9", second="t2").passes(GUARD, "k9")
        story.happen(happened.SoakStarted("soak", "battery", "24 V", "0.1 A"))
        story.answer("inlet", "k9")
        refusal = story.refused(hand.passing(story.job, "inlet", "k9"))
        assert (refusal.code, refusal.sentence) == ("power", "Supply battery is told soaking.")


class TestAttempts:
    def test_no_run(self) -> None:
        story = Story()
        assert code(story, hand.passing(story.job, GUARD)) == "no run"

    def test_a_step_that_is_not_there(self) -> None:
        assert code(Story().start(), ask.Attempt("t1", "ghost", CountAnswer(1))) == "order"

    def test_a_powered_step_needs_its_supply_told_on(self) -> None:
        story = Story().start().passes(GUARD).answer(RAIL)
        refusal = story.refused(hand.passing(story.job, RAIL))
        assert (refusal.code, refusal.sentence) == ("power", "Supply battery is not told on.")

    def test_a_probe_goes_near_an_unpowered_unit_only_when_it_is_off(self) -> None:
        story = Story().start().passes(GUARD).power(LAMPS)
        assert code(story, hand.passing(story.job, GUARD)) == "power"

    def test_and_only_when_it_was_proved_dead(self) -> None:
        story = Story().start().passes(GUARD).power(LAMPS)
        story.do(ask.TellPower("t1", "off"))
        assert "not proved dead" in story.refused(hand.passing(story.job, GUARD)).sentence

    def test_even_a_look_waits_until_the_supplies_are_known(self) -> None:
        board = sequences.with_arrival_and_final().model_copy(
            update={"stored_energy": sequences.much_energy().stored_energy}
        )
        story = Story(board).start()
        assert code(story, hand.passing(story.job, "arrival")) == "power"
        story.make_safe().do(hand.passing(story.job, "arrival"))

    def test_a_look_may_be_taken_at_a_powered_unit(self) -> None:
        story = Story(sequences.with_arrival_and_final()).start().passes(GUARD).power(LAMPS)
        story.do(hand.passing(story.job, "final"))

    def test_an_unpowered_step_waits_for_its_guard_and_its_caution(self) -> None:
        second = {**sequences.GUARD_STEP, "id": "short-3v", "needs": [GUARD], "cautions": ["fault-current"]}
        story = Story(sequences.with_steps(second)).start()
        assert code(story, hand.passing(story.job, "short-3v")) == "needs"
        story.passes(GUARD)
        assert code(story, hand.passing(story.job, "short-3v")) == "caution"
        story.passes("short-3v")

    def test_a_supply_that_has_to_be_out_is_told_off_first(self) -> None:
        bare = {**sequences.LOOK_STEP, "id": "bare", "role": None, "unplugged": ["battery"]}
        story = Story(sequences.with_steps(bare)).start().passes(GUARD).power(LAMPS)
        assert "has to be out" in story.refused(hand.passing(story.job, "bare")).sentence

    def test_what_lies_outside_its_limits_is_asked_for_twice(self) -> None:
        story = Story().start().passes(GUARD).ready(RAIL)
        once = ask.Attempt("t1", RAIL, ReadingAnswer(("6.00 V",)))
        refusal = story.refused(once)
        assert refusal.code == "type again"
        assert story.job.attempts[-1].step == GUARD, "nothing was kept"
        assert code(story, replace(once, again=ReadingAnswer(("6.01 V",)))) == "entry"
        (event,) = story.do(replace(once, again=once.answer))
        assert isinstance(event, happened.AttemptJudged)
        assert (event.judgement.verdict, event.typed_twice) == ("fail", True)

    def test_a_probe_that_never_touched_is_not_asked_for_twice(self) -> None:
        story = Story().start()
        (event,) = story.do(ask.Attempt("t1", GUARD, ReadingAnswer(("OL",))))
        assert isinstance(event, happened.AttemptJudged)
        assert event.judgement.verdict == "not measured"

    @pytest.mark.parametrize(
        "answer",
        [
            ReadingAnswer(()),
            ReadingAnswer(("abc",)),
            ReadingAnswer(("5.00 A",)),
            CountAnswer(5),
            ListAnswer(),
        ],
    )
    def test_an_answer_that_can_not_be_read_is_refused_with_its_reason(self, answer: ReadingAnswer) -> None:
        story = Story().start().passes(GUARD).ready(RAIL)
        assert code(story, ask.Attempt("t1", RAIL, answer)) == "entry"

    @pytest.mark.parametrize("departure", [Departure(0, "dark"), Departure(3, "dark"), Departure(1, " ")])
    def test_a_departure_names_a_line_of_the_list_and_what_was_seen(self, departure: Departure) -> None:
        story = Story().start().passes(GUARD).ready(LAMPS)
        assert code(story, ask.Attempt("t1", LAMPS, ListAnswer((departure,)))) == "entry"

    def test_a_step_whose_sequence_names_no_instrument(self) -> None:
        story = Story(sequences.changed_step(GUARD, instrument=None)).start()
        assert "names no instrument" in story.refused(hand.passing(story.job, GUARD)).sentence

    def test_a_run_that_took_up_no_such_instrument(self) -> None:
        story = Story()
        story.do(ask.StartRun("t1", "acceptance", "7Q22051"))
        assert "took up no ohmmeter" in story.refused(hand.passing(story.job, GUARD)).sentence
        story.do(hand.reading(GUARD, "300 Ω", instrument="M2"))

    def test_an_overdue_instrument_blocks_powered_measurements(self) -> None:
        story = Story().start().passes(GUARD).ready(RAIL)
        refusal = story.refused(hand.reading(RAIL, "5.00 V", instrument="OLD"))
        assert (refusal.code, refusal.sentence) == ("instrument", "OLD is overdue since 2031-04-01.")

    def test_the_record_keeps_the_instrument_as_it_stood(self) -> None:
        story = Story().start().passes(GUARD).passes(RAIL)
        used = story.last_attempt().instrument
        assert used is not None
        assert (used.instrument, used.accuracy, used.due) == ("M1", "0.5 % + 3 digits", "2031-12-01")

    def test_a_second_person_is_another_person_who_brings_the_pin(self) -> None:
        pins = settings().model_copy(update={"pin_hashes": {"t2": pin_hash("4711", SALT)}})
        story = Story(sequences.with_witness(), settings_now=pins).start().passes(GUARD).ready(LAMPS)
        seen = hand.passing(story.job, LAMPS)
        assert isinstance(seen, ask.Attempt)
        for second, pin in (("t1", ""), ("x9", ""), ("t2", ""), ("t2", "1234")):
            assert code(story, replace(seen, second=second, second_pin=pin)) == "person"
        story.do(replace(seen, second="t2", second_pin="4711"))


class TestLateEntries:
    def late(self, step: str, *, minutes: float, shown: str = "300 Ω", start: Story | None = None) -> Command:
        story = start or Story()
        then = story.now.utc.timestamp() - minutes * 60
        at = story.now.utc.fromtimestamp(then, story.now.utc.tzinfo)
        return replace(_attempt(step, shown), measured_at=at.isoformat())

    def test_a_reading_may_be_entered_late_and_is_marked(self) -> None:
        story = Story().start()
        story.clock.pass_time(minutes=10)
        (event,) = story.do(self.late(GUARD, minutes=5, start=story))
        assert isinstance(event, happened.AttemptJudged)
        assert event.measured_at == "2031-04-02T08:05:00+00:00"

    def test_only_readings_are(self) -> None:
        story = Story().start().passes(GUARD)
        lamps = hand.passing(story.job, LAMPS)
        assert isinstance(lamps, ask.Attempt)
        assert code(story, replace(lamps, measured_at=story.now.utc.isoformat())) == "entry"

    @pytest.mark.parametrize(
        "at", ["", "yesterday", "2031-04-02T08:01:00", "2031-04-02T07:00:00+00:00", "2031-04-03T00:00:00Z"]
    )
    def test_the_time_is_a_time_between_the_start_of_the_run_and_now(self, at: str) -> None:
        story = Story().start()
        story.clock.pass_time(minutes=10)
        assert code(story, replace(_attempt(GUARD, "300 Ω"), measured_at=at)) == "entry"

    def test_not_from_before_a_rework(self) -> None:
        story = Story().start()
        story.clock.pass_time(minutes=5)
        story.do(hand.rework("PWR"))
        story.clock.pass_time(minutes=5)
        assert code(story, self.late(GUARD, minutes=8, start=story)) == "order"

    def test_not_from_a_time_when_power_was_not_as_the_step_asks(self) -> None:
        story = Story().start().passes(GUARD)
        story.clock.pass_time(minutes=5)
        story.power(RAIL)
        story.clock.pass_time(minutes=5)
        assert code(story, self.late(RAIL, minutes=8, shown="5.00 V", start=story)) == "power"
        assert code(story, self.late(GUARD, minutes=2, start=story)) == "power"
        story.do(self.late(RAIL, minutes=2, shown="5.00 V", start=story))

    def test_not_before_its_guard(self) -> None:
        story = Story().start()
        story.happen(happened.Energised("battery", "24 V", "0.30 A", RAIL))
        story.clock.pass_time(minutes=5)
        assert code(story, self.late(RAIL, minutes=2, shown="5.00 V", start=story)) == "needs"


def _attempt(step: str, shown: str) -> ask.Attempt:
    return ask.Attempt("t1", step, ReadingAnswer((shown,)), again=ReadingAnswer((shown,)))


class TestVoids:
    def test_an_attempt_that_is_not_there(self) -> None:
        assert code(Story(), ask.VoidAttempt("t1", 1, "slip")) == "entry"

    def test_a_void_has_a_reason(self) -> None:
        assert code(Story().start().passes(GUARD), ask.VoidAttempt("t1", 1, " ")) == "entry"

    @pytest.mark.parametrize(("cause", "gone"), [("lead", None), (None, "swapped"), ("lead", "  "), (" ", "swapped")])
    def test_a_bench_cause_counts_only_when_shown_gone(self, cause: str | None, gone: str | None) -> None:
        assert code(Story().start().passes(GUARD), ask.VoidAttempt("t1", 1, "slip", cause, gone)) == "entry"

    def test_a_bench_cause_may_be_shown_later_but_not_twice(self) -> None:
        story = Story().start().passes(GUARD)
        story.do(ask.VoidAttempt("t1", 1, "slip"), ask.VoidAttempt("t1", 1, "lead", "open lead", "0.2 Ω now"))
        assert code(story, ask.VoidAttempt("t1", 1, "again")) == "order"


class TestWork:
    def test_a_note_says_something_about_a_step_that_is_there(self) -> None:
        assert code(Story(), ask.AddNote("t1", " ")) == "entry"
        assert code(Story(), ask.AddNote("t1", "x", "ghost")) == "entry"
        Story().do(ask.AddNote("t1", "", photos=("photos/1.jpg",)))

    def test_an_incident_names_its_blocks_and_what_happened(self) -> None:
        assert code(Story(), ask.ReportIncident("t1", (), "smoke")) == "entry"
        assert code(Story(), ask.ReportIncident("t1", ("GHOST",), "smoke")) == "entry"
        assert code(Story(), ask.ReportIncident("t1", ("PWR",), "")) == "entry"

    def test_an_incident_leaves_power_unknown(self) -> None:
        story = Story()
        story.do(ask.ReportIncident("t1", ("PWR",), "smoke"))
        assert story.told() == "unknown"

    @pytest.mark.parametrize(
        "command",
        [
            ask.LogRework("t1", (), (), "reflowed", "crack"),
            ask.LogRework("t1", ("GHOST",), (), "reflowed", "crack"),
            ask.LogRework("t1", ("PWR",), ("DS1",), "replaced", "dark"),
            ask.LogRework("t1", ("PWR",), ("C1",), "replaced", ""),
            ask.LogRework("t1", ("PWR",), (), "inspected", "slip", incident=1),
        ],
    )
    def test_a_rework_that_does_not_say_what_was_done(self, command: Command) -> None:
        assert code(Story(), command) == "entry"

    @pytest.mark.parametrize("command", [hand.rework("PWR"), ask.OpenCase("t1", "to look")])
    def test_hands_go_in_only_when_off_and_proved_dead(self, command: Command) -> None:
        story = Story().start().passes(GUARD).power(LAMPS)
        assert code(story, command) == "power"
        story.do(ask.TellPower("t1", "off"))
        assert code(story, command) == "power"
        story.make_safe().do(command)

    def test_a_jumper_is_a_repair(self) -> None:
        (event,) = Story().do(
            ask.LogRework("t1", ("PWR",), (), "jumper", "track burnt", left_old=(LeftOld("C2", "new"),))
        )
        assert isinstance(event, happened.ReworkLogged)
        assert event.repair

    def test_only_what_is_on_the_list_is_put_back(self) -> None:
        assert code(Story(), ask.UndoChange("t1", "ghost", "pulled")) == "entry"

    def test_an_agreement_and_a_jotting_are_whole(self) -> None:
        assert code(Story(), ask.AgreeOwner("t1", "", "owner")) == "entry"
        assert code(Story(), ask.AgreeOwner("t1", "rail only", " ")) == "entry"
        assert code(Story(), ask.Jot("t1", "TP7", "")) == "entry"

    @pytest.mark.parametrize(
        "lines",
        [(), ("",), ("C1 renewed", "  "), ("one more thing",) * 21, ("C" * 401,), ("C1 renewed\nC2 renewed",)],
        ids=["no line", "an empty one", "a blank one", "too many", "too long", "two in one"],
    )
    def test_a_proposal_is_a_few_lines_that_say_something(self, lines: tuple[str, ...]) -> None:
        assert code(Story(), ask.Propose("t1", lines)) == "entry"

    def test_a_proposal_is_kept_without_the_blanks_around_its_lines(self) -> None:
        lines = (" C1 and C2 renewed ", *("another thing",) * 19)
        (event,) = Story().do(ask.Propose("t1", lines))
        assert event == happened.WorkProposed(("C1 and C2 renewed", *("another thing",) * 19))

    def test_a_later_proposal_stands_beside_the_earlier(self) -> None:
        story = Story()
        story.do(ask.Propose("t1", ("C1 renewed",)), ask.Propose("t2", ("C1 and C2 renewed", "lens polished")))
        assert [(one.by, len(one.lines)) for one in story.job.proposed] == [("t1", 1), ("t2", 2)]

    def test_nothing_is_proposed_of_an_ended_job(self) -> None:
        story = Story()
        story.do(ask.ReturnUnrepaired("t1", "no parts"))
        assert code(story, ask.Propose("t1", ("C1 renewed",))) == "ended"


class TestEndings:
    def test_the_signer_is_who_the_pin_says(self) -> None:
        pins = settings().model_copy(update={"pin_hashes": {"t1": pin_hash("4711", SALT)}})
        story = Story(settings_now=pins).walk()
        assert code(story, ask.SignOff("t1", "7Q22051")) == "person"
        assert code(story, ask.ReturnUnrepaired("t1", "no parts", "1234")) == "person"
        assert code(story, ask.ReturnInPart("t1", "owner", "1234")) == "person"
        assert code(story, ask.SignOff("t1", "7Q22051", "4711", "x9")) == "person"
        story.do(ask.SignOff("t1", "7Q22051", "4711"))

    @pytest.mark.parametrize(
        "leave", [ask.ReturnUnrepaired("t1", "no parts"), ask.ReturnInPart("t1", "owner, by letter")]
    )
    def test_no_unit_leaves_powered_or_unproved(self, leave: Command) -> None:
        story = Story().start().passes(GUARD).power(LAMPS)
        assert code(story, leave) == "power"
        story.do(ask.TellPower("t1", "off"))
        assert code(story, leave) == "power"
        story.make_safe().do(leave)
        assert story.job.ended in ("returned unrepaired", "returned repaired in part")

    def test_a_return_says_why(self) -> None:
        assert code(Story(), ask.ReturnUnrepaired("t1", " ")) == "entry"
        assert code(Story(), ask.ReturnInPart("t1", " ")) == "entry"

    def test_a_return_in_part_lists_what_is_open(self) -> None:
        story = Story().start().passes(GUARD)
        (event,) = story.do(ask.ReturnInPart("t1", "owner, by letter"))
        assert event == happened.ReturnedInPart(("5 V logic rail", "Telltales, each alone"), "owner, by letter")

    def test_a_unit_that_passes_is_signed_off_and_not_returned_in_part(self) -> None:
        assert code(Story().walk(), ask.ReturnInPart("t1", "owner")) == "order"

"""Does the table of attempts tell of each try all that an outsider would ask of it?"""

import hand
from paper_parts import column, row, rows, said, section, text
from recorded_jobs import record_of, recorded, sample
from story import Story
from told_stories import story_of

from passcheck.job.commands import AddNote, Attempt, LogRework, VoidAttempt
from passcheck.report.document import Cell, Table
from sequences import GUARD, RAIL

TITLE = "Every attempt"
NUMBER, STEP, OBSERVED, VERDICT, MADE, REMARKS = range(6)


def _remarks(story: Story, number: int) -> str:
    return text(row(recorded(story.job, story.outside), TITLE, str(number))[REMARKS])


def test_an_attempt_has_run_step_what_was_observed_verdict_instrument_time_initials_and_reason() -> None:
    sixth = [text(it) for it in row(recorded(*sample("A31-0001")), TITLE, "6")]
    assert sixth[:3] == ["6", "Ripple on 5 V", "142 mVpp"]
    assert sixth[VERDICT] == "FAIL 142 mVpp; rework 1"
    assert sixth[MADE] == "S1, 2031-04-02 10:13, t1"
    assert sixth[REMARKS].startswith("142 mVpp is outside at most 60 mVpp, 82 mVpp beyond the limit; ")


def test_attempts_stand_under_their_run_and_its_purpose() -> None:
    (table,) = [it for it in section(recorded(*sample("A31-0001")), TITLE) if isinstance(it, Table)]
    assert [it for it in table.rows if isinstance(it, str)] == ["Run 1, as-found", "Run 2, retest", "Run 3, acceptance"]


def test_a_struck_attempt_is_struck_and_one_that_stands_is_not() -> None:
    paper = recorded(*sample("A31-0001"))
    verdicts = {text(it[NUMBER]): it[VERDICT] for it in rows(section(paper, TITLE))}
    struck = [number for number, box in verdicts.items() if isinstance(box, Cell) and box.struck]
    assert struck == ["2", "3", "4", "5", "6", "7"]


def test_a_repeat_says_which_try_it_is() -> None:
    story = Story().start("as-found").passes(GUARD).fails(RAIL).fails(RAIL)
    assert "repeat: try 2 at this step in run 1" in _remarks(story, 3)


def test_a_void_says_why_and_that_a_fail_stays_in_the_count() -> None:
    story = Story().start("as-found").passes(GUARD).fails(RAIL)
    story.do(VoidAttempt("t1", 2, "probe on the wrong pin"))
    assert "void: probe on the wrong pin; stays in the count: no cause at the bench" in _remarks(story, 2)


def test_a_void_with_a_cause_at_the_bench_says_the_cause_and_how_it_was_shown_gone() -> None:
    paper = record_of(story_of("PM-7"))
    (told,) = [text(it[REMARKS]) for it in rows(section(paper, TITLE)) if text(it[VERDICT]).endswith("; void")]
    assert "void: The bench's supply lead, not the panel" in told
    assert "bench cause: Supply lead drops 1.9 V at 0.17 A" in told
    assert "shown gone: New lead: 23.9 V at J1" in told


def test_conditions_notes_and_photos_stand_with_their_attempt() -> None:
    paper = record_of(story_of("OV-24P"))
    warm = [text(it[REMARKS]) for it in rows(section(paper, TITLE)) if text(it[STEP]) == "Fuel mark, warm"]
    assert "under: 20 min warm, vibration at the gauge" in warm[2]
    assert "note: third try, a knock beside the dial" in warm[2]
    assert "photos: photos/A31-0001-look-in.jpg" in said(recorded(*sample("A31-0001")), TITLE)


def test_a_late_entry_is_marked_with_both_times() -> None:
    story = Story().start("as-found").passes(GUARD)
    passed = hand.passing(story.job, RAIL)
    assert isinstance(passed, Attempt)
    story.ready(RAIL)
    story.clock.pass_time(minutes=5)
    late = Attempt("t1", RAIL, passed.answer, instrument=passed.instrument, measured_at="2031-04-02T08:02:00+00:00")
    story.do(late)
    made = text(row(recorded(story.job, story.outside), TITLE, "2")[MADE])
    assert "late entry: measured 2031-04-02 10:02, entered 2031-04-02 10:0" in made


def test_taps_that_were_broken_off_and_the_block_beside_them_are_told() -> None:
    told = said(recorded(*sample("A31-0015")), TITLE)
    assert "SW1 response: taps by t1 broken off (the telephone rang), void." in told
    assert "Block 1 of reference trials: t1, 2031-04-03 05:48, 20 trials around 0.5 s, run 1." in told
    assert "beside: block 1 of reference trials" in told


def test_an_attempt_under_an_older_revision_says_under_which() -> None:
    paper = recorded(*sample("A31-0012"))
    assert "sequence: revision 2" in text(row(paper, TITLE, "1")[REMARKS])
    assert "sequence:" not in text(row(paper, TITLE, column(paper, TITLE)[-1])[REMARKS])


def test_another_unit_that_was_measured_beside_is_named_with_its_serial() -> None:
    story = Story().start("good-unit").passes(GUARD)
    serial = story.job.runs[0].facts.serial_scanned
    assert f"another unit: {serial}" in _remarks(story, 1)
    assert f"{serial}, a good unit" in said(recorded(story.job, story.outside), "Runs")


def test_a_result_that_was_typed_twice_says_so() -> None:
    story = Story().start("as-found").passes(GUARD).fails(RAIL)
    assert "typed twice" in _remarks(story, 2)


def test_notes_and_loose_readings_stand_with_when_and_by_whom() -> None:
    paper = recorded(*sample("A31-0001"))
    assert said(paper, "Notes") == "2031-04-02 10:14, t1, on the job:\nC7 läuft aus — 85 °C part"
    loose = [text(it) for it in rows(section(paper, "Loose readings, kept and never counted"))[0]]
    assert loose == ["2031-04-02 10:14", "t1", "C7 top", "0.9 V", "M1"]


def test_a_note_on_a_step_names_it_with_its_photos() -> None:
    story = Story()
    story.do(AddNote("t1", "cold joint", RAIL, ("photos/joint.jpg",)))
    told = said(recorded(story.job, story.outside), "Notes")
    assert f"on {story.step(RAIL).title}:\ncold joint\nPhotos: photos/joint.jpg" in told


def test_what_struck_an_attempt_may_be_any_later_rework() -> None:
    story = Story().start("as-found").passes(GUARD)
    story.make_safe().do(LogRework("t1", ("PWR",), ("C1",), "replaced", "leaks"))
    story.do(LogRework("t1", ("PWR",), ("C2",), "replaced", "its like"))
    assert text(row(recorded(story.job, story.outside), TITLE, "1")[VERDICT]).endswith("; rework 1")

import hand
from story import Story

import sequences
from passcheck.job.answer_words import answer_words
from passcheck.job.attempts_table import HEADS, attempt_rows, limits_words
from passcheck.job.commands import CloseRun, VoidAttempt
from passcheck.job.csv_text import csv_text
from passcheck.judge.judgement import Judgement
from passcheck.sequence.model import ReadingStep


def table(story: Story) -> list[dict[str, str]]:
    names = [head.words for head in HEADS]
    return [dict(zip(names, row, strict=True)) for row in attempt_rows(story.job)]


def reworked() -> Story:
    """Found failing, reworked, and measured again."""
    story = Story(sequences.sequence())
    story.start("as-found")
    story.fails("short-5v")
    story.do(CloseRun("t1"), hand.rework("PWR"))
    story.start("acceptance")
    story.passes("short-5v")
    return story


def test_every_attempt_has_a_row_in_the_order_it_was_made_struck_ones_too() -> None:
    found, left = table(reworked())
    assert (found["attempt"], found["purpose"], found["verdict"], found["struck by"]) == (
        "1", "as-found", "fail", "rework 1",
    )  # fmt: skip
    assert (left["attempt"], left["purpose"], left["verdict"], left["struck by"]) == ("2", "acceptance", "pass", "")
    assert {row["serial"] for row in (found, left)} == {"7Q22051"}
    assert found["board"] == reworked().job.sequence.sequence
    assert found["step"] == "short-5v"
    assert found["title"] == reworked().job.sequence.step("short-5v").title


def test_a_row_says_when_by_whom_and_what_was_typed_beside_the_number() -> None:
    story = reworked()
    row, attempt = table(story)[1], story.job.attempts[1]
    assert row["entered (UTC)"] == attempt.moment.utc.strftime("%Y-%m-%d %H:%M:%S")
    assert row["by"] == "t1"
    assert row["observed"] == answer_words(attempt.answer)
    assert (row["value"], row["unit"]) == (attempt.judgement.value, attempt.judgement.unit)
    assert row["reason"] == attempt.judgement.sentence
    assert row["instrument"] == (attempt.instrument.instrument if attempt.instrument else "")


def test_a_voided_attempt_keeps_its_row_with_the_reason() -> None:
    story = reworked()
    story.do(VoidAttempt("t1", 2, "probe on the wrong pad"))
    row = table(story)[1]
    assert (row["void because"], row["struck by"], row["verdict"]) == ("probe on the wrong pad", "void", "pass")


def test_a_voided_fail_still_speaks_and_is_not_struck_by_its_void() -> None:
    story = Story(sequences.sequence())
    story.start("acceptance")
    story.fails("short-5v")
    story.do(VoidAttempt("t1", 1, "slipped"))
    (row,) = table(story)
    assert (row["void because"], row["struck by"]) == ("slipped", "")


def test_what_people_typed_acts_in_no_cell() -> None:
    story = Story(sequences.sequence())
    story.start("acceptance")
    story.do(hand.failing(story.job, "short-5v", note="=cmd|' /C calc'!A0\n+1"))
    text = csv_text(HEADS, attempt_rows(story.job))
    assert table(story)[0]["note"].startswith("=cmd"), "the row is as the record has it"
    assert ",'=cmd|' /C calc'!A0 / +1," in text


def judged(low: str | None, high: str | None, unit: str = "V") -> Judgement:
    return Judgement("pass", "inside", "5", unit, None, low, high, "guarded", outside=False)


def test_limits_are_written_as_people_write_them() -> None:
    assert limits_words(judged("4.85", "5.15")) == "4.85 V .. 5.15 V"
    assert limits_words(judged(None, "0.0605")) == "at most 60.5 mV"
    assert limits_words(judged("150", None, "Ω")) == "at least 150 Ω"
    assert limits_words(judged("10", "10", "")) == "10"
    assert limits_words(judged(None, None)) == ""


def test_limits_that_the_sequence_still_has_are_in_its_author_s_words() -> None:
    story = reworked()
    row, step = table(story)[1], story.step("short-5v")
    assert isinstance(step, ReadingStep)
    assert step.limits is not None
    assert row["limits"] == step.limits.words()
    assert limits_words(judged("1", None, "Ω"), step) == "at least 1 Ω"


def test_limits_of_a_record_from_elsewhere_that_are_no_numbers_stay_as_they_are() -> None:
    assert limits_words(judged("NaN", "=1+1")) == "NaN V .. =1+1 V"
    assert limits_words(judged("1E999999999", None)) == "at least 1E999999999 V"

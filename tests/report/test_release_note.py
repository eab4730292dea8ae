"""Does an owner read on one page what was found, done and shown, and who let the unit go?"""

import math
import re
from dataclasses import replace

import pytest
from fullest_note import LONG, WIDE, fullest, sample_job
from hypothesis import given, settings
from hypothesis import strategies as st
from page_count import page_count
from paper_source import cells, said, source_of, tables
from rig import COMPLAINT

from passcheck.errors import FileFault
from passcheck.job.fixed_words import CLEARING, LICENSED, NO_CERTIFICATE
from passcheck.job.state import Job
from passcheck.report.bounded import LINE, room
from passcheck.report.document import Facts, Outcome, Part, Size, Table, Words
from passcheck.report.owners_part import NO_WORDS
from passcheck.report.plain_work import ALL_REWORK, NOTHING_DONE, SOME_REPAIR
from passcheck.report.release_note import CUT_COMPLAINT, release_note
from passcheck.report.typeset import typeset

NEVER = re.compile(r"\b(safe|certified|calibrated|guaranteed|OK)\b")
REPAIRED, SOAKED, NO_FAULT = "A31-0001", "A31-0002", "A31-0006"
VALUES_LINE = 70
"""Characters on a line of the column that stands beside a name."""
MOST_LINES = 45
"""The fullest that was set and had room on the smaller of the two sheets, above what closes every paper."""


def lines_of(parts: tuple[Part, ...]) -> int:
    """About how many lines of a page the sections take; what closes every paper is left out."""
    return sum(map(_lines, parts))


def _lines(part: Part) -> int:
    match part:
        case Words(text):
            return math.ceil(room(text) / LINE)
        case Facts(rows, wide):
            found = sum(
                max(1, math.ceil(room(value) / (VALUES_LINE if not wide else VALUES_LINE // 2))) for _, value in rows
            )
            return math.ceil(found / 2) if wide else found
        case Outcome(_, sentence):
            return 2 + math.ceil(room(sentence) / LINE)
        case Table(_, rows):
            return 1 + len(rows)
        case _:
            return 0


def own_parts(job: Job) -> tuple[Part, ...]:
    """What this paper says before what every paper says at its end."""
    people = (("t1", "Technician " * 10), ("k9", "Lead " * 20))
    parts = release_note(job, source_of(job, warranty_months=240, people=people)).parts
    end = next(at for at, part in enumerate(parts) if "What this paper rests on" in str(part))
    return parts[:end]


def test_it_says_who_released_the_unit_and_when() -> None:
    job = sample_job(REPAIRED)
    outcome = next(part for part in release_note(job, source_of(job)).parts if isinstance(part, Outcome))
    assert (outcome.word, outcome.good) == ("Released", True)
    assert outcome.sentence.endswith("by t1 (First technician).")
    assert f"{job.last.local():%Y-%m-%d %H:%M}" in outcome.sentence


def test_a_second_person_who_saw_it_is_named() -> None:
    job = fullest()
    assert "seen by k9 (The lead)" in said(release_note(job, source_of(job)))


def test_the_owner_reads_their_words_the_finding_the_work_and_the_steps_before_and_after() -> None:
    job = sample_job(REPAIRED)
    paper = release_note(job, source_of(job))
    shown = said(paper)
    assert "What the owner said\nPanel restarts when the engine cranks" in shown
    assert "Failed as it came in: Ripple on 5 V." in shown
    assert "Replaced: C1, C2, C7, C11 (Supply). Why: C7 leaks." in shown
    (row,) = cells(tables(paper)[0])
    assert row[:2] == ["Ripple on 5 V", "FAIL 142 mVpp"]
    assert row[2].startswith("PASS")
    assert row[3] == "at most 60 mVpp"


def test_rework_and_repair_are_told_apart_in_plain_words() -> None:
    job = sample_job(REPAIRED)
    repaired = replace(job, reworks=tuple(replace(one, repair=True) for one in job.reworks))
    assert ALL_REWORK in said(release_note(job, source_of(job)))
    shown = said(release_note(repaired, source_of(repaired)))
    assert SOME_REPAIR in shown
    assert "(Supply), a repair, not as drawn. Why" in shown


def test_a_unit_on_which_nothing_was_done_is_released_with_those_words() -> None:
    job = sample_job(NO_FAULT)
    shown = said(release_note(job, source_of(job)))
    assert NOTHING_DONE in shown
    assert "Not reproduced under: cold. Failed as it came in: no step." in shown


def test_hours_at_power_are_those_that_count() -> None:
    job = sample_job(SOAKED)
    assert "Burn-in\n2 h 00 min counted, 2 h asked for" in said(release_note(job, source_of(job)))
    assert "Burn-in\nthis sequence asks for none" in said(release_note(sample_job(REPAIRED), source_of(job)))


def test_the_warranty_is_the_shops_own_and_runs_to_a_day() -> None:
    job = sample_job(REPAIRED)
    day = job.last.local().date()
    words = f"12 months, to the end of {day.year + 1}-{day:%m-%d}, by the terms of this shop."
    assert words in said(release_note(job, source_of(job, warranty_months=12)))
    assert "Warranty" not in said(release_note(job, source_of(job)))


def test_no_warranty_is_given_on_a_unit_that_does_not_exist() -> None:
    job = sample_job("P31-0001")
    assert "Warranty" not in said(release_note(job, source_of(job, warranty_months=12)))


def test_variants_that_the_unit_does_not_have_are_named_as_not_part_of_it() -> None:
    assert "Not part of it\nnothing of the sequence was left out" in said(
        release_note(sample_job(REPAIRED), source_of(sample_job(REPAIRED)))
    )
    shown = said(release_note(fullest("beeper ", twice=1), source_of(sample_job(REPAIRED))))
    assert "Not part of it\n0 beeper (1 step), 1 beeper (1 step) and 3 more, see the test record" in shown


def test_it_says_what_it_is_not_and_defers_to_those_who_may() -> None:
    job = fullest()
    shown = said(release_note(job, source_of(job)))
    for words in (NO_CERTIFICATE, LICENSED, CLEARING, "Cleared on the bench, after they were written down: F0, F1"):
        assert words in shown


@pytest.mark.parametrize("job_id", [REPAIRED, SOAKED, NO_FAULT, "A31-0013"])
def test_no_word_on_it_promises_more_than_was_shown(job_id: str) -> None:
    job = sample_job(job_id)
    assert not NEVER.search(said(release_note(job, source_of(job, warranty_months=6))))


@pytest.mark.parametrize("number", [3, 4, 5, 7, 8, 12, 16])
def test_a_unit_that_was_not_released_gets_none(number: int) -> None:
    job = sample_job(f"A31-{number:04d}")
    with pytest.raises(FileFault, match="no release note, because the job"):
        release_note(job, source_of(job))


def test_long_words_are_cut_and_the_page_says_where_the_rest_is() -> None:
    job = fullest()
    shown = said(release_note(job, source_of(job)))
    assert CUT_COMPLAINT in shown
    assert "And 8 more, see the test record." in shown
    assert CUT_COMPLAINT not in said(release_note(sample_job(REPAIRED), source_of(job)))


def test_without_any_words_of_the_owner_it_says_so() -> None:
    job = sample_job(REPAIRED)
    job = replace(job, facts=replace(job.facts, complaint="\n "))
    assert NO_WORDS in said(release_note(job, source_of(job)))


@pytest.mark.parametrize("text", [LONG, WIDE, "W" * 60, "m ", "a\n", "الإبرة تسقط ", "\u202e\u0301x"])
def test_the_fullest_job_keeps_to_one_page_in_any_script(text: str) -> None:
    parts = own_parts(fullest(text, twice=200))
    assert lines_of(parts) <= MOST_LINES
    assert max(len(part.rows) for part in parts if isinstance(part, Table)) == 6


@pytest.mark.parametrize("size", ["a4", "letter"])
@pytest.mark.parametrize("practice", [False, True], ids=["a unit", "practice"])
@pytest.mark.parametrize("text", [LONG, WIDE, "W" * 60, "m ", "a\n", "الإبرة تسقط ", "\u202e\u0301x"])
def test_the_fullest_job_is_set_on_one_page(text: str, size: Size, *, practice: bool) -> None:
    full = fullest(text, twice=200)
    job = replace(full, facts=replace(full.facts, practice=practice))
    people = (("t1", "Technician " * 10), ("k9", "Lead " * 20))
    paper = release_note(job, source_of(job, warranty_months=240, people=people))
    assert page_count(typeset(paper, size)) == 1


@given(st.text(min_size=1, max_size=40))
@settings(max_examples=40, deadline=None)
def test_no_text_makes_a_second_page(text: str) -> None:
    assert lines_of(own_parts(fullest(text, twice=100))) <= MOST_LINES


def test_the_owners_words_are_not_changed_where_they_have_room() -> None:
    job = sample_job(REPAIRED)
    job = replace(job, facts=replace(job.facts, complaint=COMPLAINT))
    assert f"What the owner said\n{COMPLAINT}\n" in said(release_note(job, source_of(job)))

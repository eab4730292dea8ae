"""Does the full record say at once what it amounts to, and does it hold the whole job, whatever became of it?"""

import re

import pytest
from hypothesis import given
from hypothesis import settings as examples
from hypothesis import strategies as st
from paper_parts import column, facts, outcome, said, section
from recorded_jobs import record_of, recorded, sample
from sample_set import sample_set
from story import Story
from told_stories import BOARDS, story_of

import sequences
from passcheck.job.commands import AddNote, LogRework, VoidAttempt
from passcheck.job.fixed_words import MORE_ASKED
from passcheck.report.document import Heading, texts
from sequences import GUARD, LAMPS, RAIL

SAMPLES = tuple(sample_set("set-1").about)
CLAIMS = re.compile(r"\b(calibrated|certified|certificate|accredited|guaranteed|approved|as new|is safe)\b", re.I)


def test_a_released_unit_s_record_says_released_by_whom_when_and_what_that_means() -> None:
    paper = record_of(story_of("OV-24P"))
    assert (outcome(paper).word, outcome(paper).good) == ("RELEASED", True)
    assert "every step of the sequence passed as left" in outcome(paper).sentence
    top = "\n".join(texts(paper.parts[:4]))
    assert "t1 (First technician)" in top
    assert "2031-04-03 05:21 (UTC+02:00)" in top
    assert "7Q22051" in top


def test_the_second_person_of_a_sign_off_stands_beside_the_signer() -> None:
    top = record_of(story_of("EK-8")).parts[1]
    assert ("Second person", "t2 (Second technician)") in getattr(top, "rows", ())


def test_an_open_job_s_record_says_plainly_that_it_is_no_release_and_why() -> None:
    story = Story().start("as-found").passes(GUARD).fails(RAIL)
    paper = recorded(story.job, story.outside)
    assert (outcome(paper).word, outcome(paper).good) == ("OPEN", False)
    assert outcome(paper).sentence.startswith("This is not a release. The job is open, and ")
    assert column(paper, "What stands against a release") == list(story.blockers())


def test_an_open_job_that_nothing_stands_against_is_still_no_release() -> None:
    paper = recorded(*sample("A31-0016"))
    assert outcome(paper).sentence == "This is not a release. The job is open: nobody has signed."


def test_a_unit_returned_unrepaired_says_so_at_the_top_with_the_reason() -> None:
    paper = recorded(*sample("A31-0004"))
    assert (outcome(paper).word, outcome(paper).good) == ("RETURNED UNREPAIRED", False)
    assert outcome(paper).sentence.startswith("This is not a release.")
    assert "The board is burnt through under D1." in texts(paper.parts[:3])


def test_a_unit_returned_in_part_says_so_at_the_top_with_its_open_points_and_what_the_owner_agreed_to() -> None:
    paper = recorded(*sample("A31-0005"))
    assert (outcome(paper).word, outcome(paper).good) == ("RETURNED REPAIRED IN PART", False)
    top = texts(paper.parts[:5])
    assert [top[place + 1] for place, it in enumerate(top) if it == "Open point"] == ["As it came in", "Final look"]
    assert "Owner: leave the screw, 2 April" in top


def test_the_record_counts_the_steps_that_stand_as_passed() -> None:
    assert "44 of 44 steps that a release needs stand as passed as left." in said(record_of(story_of("QM-48")))
    part = said(recorded(*sample("A31-0005")))
    assert (
        "3 of 5 steps that a release needs stand as passed as left; 1 passed, which doesn't count yet; 1 failed."
        in part
    )


def test_a_refused_sign_off_is_told_with_what_stood_against_it() -> None:
    paper = recorded(*sample("A31-0001"))
    assert "· Ripple on 5 V: blank as left; an as-found result never counts." in said(paper, "Refused sign-off")


def test_the_unit_its_arrival_its_dates_and_its_people_are_named() -> None:
    told = story_of("OV-24P")
    found = facts(record_of(told), "Unit and arrival")
    assert found["Unit"] == "Street-sweeper dash panel, 24 V, four gauges, serial 7Q22051"
    assert found["Received"] == "2031-04-02 10:00 (UTC+02:00)"
    assert found["Condition on arrival"] == "seal broken"
    assert found["Tested from"] == "2031-04-02 10:05 (UTC+02:00)"
    assert found["Tested to"] == "2031-04-03 05:21 (UTC+02:00)"
    assert found["Tested by"] == "t1 (First technician), t2 (Second technician)"
    assert told.job.sequence_digest in found["Sequence"]


def test_a_unit_that_came_in_with_another_says_with_which() -> None:
    assert facts(recorded(*sample("A31-0014")), "Unit and arrival")["Came in together with"] == "A31-0013"


def test_a_job_that_went_on_under_another_text_names_the_one_it_was_opened_under() -> None:
    job, source = sample("A31-0012")
    digest = facts(recorded(job, source), "Unit and arrival")["Opened under another text of the sequence"]
    assert digest == f"SHA-256 {job.facts.sequence_digest}"


@pytest.mark.parametrize("board", BOARDS)
def test_every_board_s_record_has_title_head_code_and_fixed_sentences(board: str) -> None:
    told = story_of(board)
    paper = record_of(told)
    assert (paper.kind, paper.title) == ("test-record", "Test record")
    assert (paper.job, paper.serial) == (told.job.id, told.job.serial)
    assert paper.shop == "Brackwater Electronics, Hollin Quay"
    assert f"revision {told.job.sequence.revision}" in paper.footer
    assert MORE_ASKED in said(paper, "What this paper rests on")


def test_practice_is_marked_before_anything_else() -> None:
    paper = recorded(*sample("P31-0001"))
    assert paper.practice
    assert texts(paper.parts)[0].startswith("PRACTICE.")


@pytest.mark.parametrize("job_id", SAMPLES)
def test_every_attempt_of_a_journal_is_on_its_paper_by_number(job_id: str) -> None:
    job, source = sample(job_id)
    paper = recorded(job, source)
    assert [it for it in column(paper, "Every attempt") if it.isdigit()] == [str(one.number) for one in job.attempts]


@given(st.lists(st.sampled_from(("pass", "fail", "rework", "void", "note", "retest", "acceptance")), max_size=12))
@examples(max_examples=40, deadline=None)
def test_whatever_happens_to_a_unit_no_attempt_and_no_word_of_it_is_left_out(acts: list[str]) -> None:
    story = Story().start("as-found").passes(GUARD)
    for number, act in enumerate(acts):
        match act:
            case "pass":
                story.passes(GUARD, note=f"said {number}")
            case "fail":
                story.fails(GUARD, note=f"said {number}")
            case "rework":
                story.make_safe().do(LogRework("t1", ("PWR",), ("C1",), "replaced", f"said {number}"))
            case "void" if story.last_attempt().void is None:
                story.do(VoidAttempt("t1", story.last_attempt().number, f"said {number}"))
            case "note":
                story.do(AddNote("t1", f"said {number}"))
            case "retest" | "acceptance":
                story.make_safe().start("retest" if act == "retest" else "acceptance")
    paper = recorded(story.job, story.outside)
    assert column(paper, "Every attempt") == [str(one.number) for one in story.job.attempts]
    told = said(paper)
    spoken = [number for number, act in enumerate(acts) if act in ("pass", "fail", "rework", "note")]
    assert all(re.search(rf"\bsaid {number}\b", told) for number in spoken)


@pytest.mark.parametrize("board", BOARDS)
def test_nothing_is_claimed_that_a_bench_test_can_t_show(board: str) -> None:
    paper = record_of(story_of(board))
    assert [it for it in texts(paper.parts) if CLAIMS.search(it)] == []


def test_a_job_that_was_just_opened_has_a_record_that_says_so_in_every_section() -> None:
    story = Story(sequences.with_soak())
    paper = recorded(story.job, story.outside)
    assert said(paper, "Runs") == "No run was made."
    assert said(paper, "Every attempt") == "No attempt was made at any step."
    assert said(paper, "Instruments") == "No instrument was taken up."
    assert said(paper, "Work").startswith("Nothing was done to the unit.")
    assert "not begun" in said(paper, "Burn-in")
    heads = [it.text for it in paper.parts if isinstance(it, Heading) and it.level == 1]
    assert [head for head in heads if not section(paper, head)] == []
    assert facts(paper, "What was not tested")[story.step(LAMPS).title] == "blank as left"


def test_the_same_job_gives_the_same_paper_twice() -> None:
    told = story_of("OV-24P")
    assert record_of(told) == record_of(told)

"""What does the owner get to read of a unit that was tried as it came in, and where do they answer?"""

import re
from dataclasses import replace

import pytest
from fullest_note import sample_job
from paper_source import cells, said, source_of, tables
from story import Story

import sequences
from passcheck.job.commands import AgreeOwner, CloseRun, LogRework, MapComplaint
from passcheck.job.fixed_words import LICENSED, REBOUND
from passcheck.job.state import Proposal
from passcheck.report.bounded import MORE
from passcheck.report.document import NumberLine, Outcome, ToWrite, Words, flat, texts
from passcheck.report.findings import NOTHING_PROPOSED, findings, proposed_parts
from passcheck.report.suggested import MARKED, suggested_parts, suggestions
from sequences import GUARD, LAMPS, RAIL

NEVER = re.compile(r"\b(safe|certified|calibrated|guaranteed|OK|released)\b")
ARABIC = "الإبرة تسقط إلى الصفر"
JAPANESE = "暖機後に針が落ちる"


def found(*failing: str, under: tuple[str, ...] = ()) -> Story:
    """The complaint is matched, the unit is tried as it came in, and these steps fail."""
    story = Story()
    story.do(MapComplaint("t1", ("rail-low",)))
    story.start("as-found")
    for step in (GUARD, RAIL, LAMPS):
        if step in failing:
            story.fails(step, under=under)
        else:
            story.passes(step, under=under)
    story.make_safe().do(CloseRun("t1"))
    return story


def test_the_owners_words_stand_there_as_they_came_with_what_they_were_matched_to() -> None:
    for words in ("Fuel goes to nothing", f"{ARABIC}\n{JAPANESE}", "<b>#strike[x]</b> \x1b[31m"):
        story = found(RAIL)
        job = replace(story.job, facts=replace(story.job.facts, complaint=words))
        paper = findings(job, source_of(job))
        assert Words(words, "quote") in paper.parts
        assert "Matched to: Everything dim." in said(paper)


def test_a_complaint_that_showed_is_told_with_its_reading_between_its_limits() -> None:
    job = found(RAIL).job
    paper = findings(job, source_of(job))
    outcome = next(part for part in paper.parts if isinstance(part, Outcome))
    assert outcome.word == "Complaint reproduced"
    assert outcome.good is None
    (row,) = tables(paper)[0].rows
    line = row[-1]
    assert isinstance(line, NumberLine)
    assert (line.low, line.high) == (4.85, 5.15)
    assert not 4.85 <= line.value <= 5.15
    assert 0 < line.within < 0.2
    assert "Of the other 2 steps: 2 passed." in said(paper)


def test_conditions_are_told_apart_into_tried_and_not_tried() -> None:
    cold, warm = found(), found(under=("warm",))
    assert "none of those listed\nListed and not tried\nwarm" in said(findings(cold.job, source_of(cold.job)))
    shown = said(findings(warm.job, source_of(warm.job)))
    assert "Tried\nwarm\nListed and not tried\nnone" in shown
    assert "Not reproduced under" in shown


def test_a_linked_step_that_was_not_walked_is_shown_as_that_and_not_left_out() -> None:
    story = Story()
    story.do(MapComplaint("t1", ("rail-low",)))
    story.start("as-found").passes(GUARD)
    paper = findings(story.job, source_of(story.job))
    assert cells(tables(paper)[0])[0][:2] == ["5 V logic rail", "not walked"]
    assert "The as-found run is still open." in said(paper)


def test_what_fails_without_power_stands_as_the_evidence_for_what_was_left() -> None:
    story = Story()
    story.do(MapComplaint("t1", ("rail-low",)))
    story.start("as-found").fails(GUARD)
    story.make_safe().do(CloseRun("t1"))
    shown = said(findings(story.job, source_of(story.job)))
    assert "Powered confirmation not safe" in shown
    assert "Not walked because of it: 2 powered steps. This finding stands as the evidence." in shown
    assert story.last_attempt().judgement.sentence in shown


def test_a_fail_that_came_and_went_is_shown_with_how_often() -> None:
    story = Story()
    story.do(MapComplaint("t1", ("rail-low",)))
    story.start("as-found").passes(GUARD).fails(RAIL).passes(RAIL)
    paper = findings(story.job, source_of(story.job))
    seen = cells(tables(paper)[0])[0][1]
    assert seen.startswith("FAIL")
    assert "Failed 1 of 2 tries" in seen


def test_the_sequence_suggests_what_the_failed_steps_prove_and_what_is_renewed_together() -> None:
    job = found(RAIL).job
    paper = findings(job, source_of(job))
    assert MARKED in said(paper)
    assert cells(tables(paper)[1]) == [["Supply (PWR)", "5 V logic rail", "C1, C2"]]


def test_what_most_failed_steps_prove_is_suggested_first_and_never_more_than_a_handful() -> None:
    job = found(RAIL).job
    block = next(iter(job.sequence.blocks.values()))
    blocks = {f"B{n}": block.model_copy(update={"title": f"Area {n}"}) for n in range(12)}
    job = replace(job, sequence=job.sequence.model_copy(update={"blocks": blocks}))
    steps = [one.model_copy(update={"proves": tuple(blocks)[at:]}) for at, one in enumerate(job.sequence.steps)]
    rows = suggestions(job, steps)
    assert [row[0] for row in rows[:2]] == ["Area 2 (B2)", "Area 3 (B3)"]
    assert len(rows) == 12
    assert f"And 4 more, {MORE}." in texts(suggested_parts(job, steps))


def test_each_proposed_line_gets_a_yes_or_no_of_its_own() -> None:
    job = found(RAIL).job
    proposal = Proposal(("Renew C1 and C2", "Clean J4"), "t2", job.last, 9)
    parts = proposed_parts(job, source_of(job), proposal)
    assert [text for text in texts(parts) if text[:2] in ("1.", "2.")] == ["1. Renew C1 and C2", "2. Clean J4"]
    written = [part.fields[0][0] for part in flat(parts) if isinstance(part, ToWrite)]
    assert written == ["yes or no", "yes or no", "Owner's name"]
    assert any(text.startswith("Proposed by t2 (Second technician)") for text in texts(parts))


def test_without_a_proposal_it_says_so_and_still_takes_an_answer() -> None:
    job = found(RAIL).job
    paper = findings(job, source_of(job))
    assert NOTHING_PROPOSED in said(paper)
    assert paper.parts.count(ToWrite((("Owner's name", 0.4), ("signature", 0.35), ("date", 0.25)))) == 1


def test_what_was_agreed_stands_with_who_said_it_and_who_noted_it() -> None:
    story = found(RAIL)
    story.do(AgreeOwner("t2", "C1 and C2 renewed", "Owner, by telephone"))
    assert "C1 and C2 renewed (Owner, by telephone; noted by t2 (Second technician))" in said(
        findings(story.job, source_of(story.job))
    )


def test_nothing_was_repaired_is_said_only_while_it_is_so() -> None:
    story = found(RAIL)
    assert "Nothing was repaired yet." in said(findings(story.job, source_of(story.job)))
    story.do(LogRework("t1", ("PWR",), ("C1", "C2"), "replaced", "dried out"))
    later = said(findings(story.job, source_of(story.job)))
    assert "Nothing was repaired" not in later
    assert "Work was begun on this unit" in later
    assert "for 2031-04-02 and for the conditions named here" in later


def test_hazardous_live_parts_and_stored_energy_bring_their_fixed_sentences() -> None:
    plain, charged = Story().job, Story(sequences.much_energy()).job
    live = Story(
        sequences.sequence(supplies={"battery": sequences.BATTERY, "mains": {**sequences.MAINS, "cautions": []}})
    )
    assert LICENSED in said(findings(live.job, source_of(live.job)))
    assert f"TP9 to TP0. On discharging it: {REBOUND}" in said(findings(charged, source_of(charged)))
    assert LICENSED not in said(findings(plain, source_of(plain)))
    assert REBOUND not in said(findings(plain, source_of(plain)))


def test_a_unit_of_which_nothing_is_known_gets_a_paper_that_says_so() -> None:
    story = Story()
    job = replace(story.job, facts=replace(story.job.facts, complaint=" ", condition=""))
    shown = said(findings(job, source_of(job)))
    for words in ("No words of the owner", "Not matched to any symptom", "was not tried as it came in", "no day yet"):
        assert words in shown


@pytest.mark.parametrize("number", range(1, 19))
def test_no_sample_jobs_findings_claim_more_than_was_found(number: int) -> None:
    job = sample_job(f"A31-{number:04d}")
    paper = findings(job, source_of(job))
    assert paper.kind == "findings"
    assert not NEVER.search(said(paper).replace("not safe", "").replace(job.facts.complaint, ""))

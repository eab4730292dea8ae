"""Is it told what was done to the unit, by whom, what that made worthless, and what the owner agreed to?"""

from paper_parts import facts, said, section
from recorded_jobs import record_of, recorded, sample
from story import Story
from told_stories import story_of

import sequences
from passcheck.job.commands import LogRework, Propose, ReportIncident, UndoChange
from passcheck.job.events import LeftOld
from passcheck.report.document import Facts, Heading, Part, Words
from sequences import GUARD, RAIL

TITLE = "Work"


def _entry(parts: tuple[Part, ...], name: str) -> tuple[str, dict[str, str]]:
    """What is said of one entry: its sentence and its facts."""
    place = parts.index(Heading(name, 2))
    words, beside = parts[place + 1], parts[place + 2]
    assert isinstance(words, Words)
    assert isinstance(beside, Facts)
    return words.text, dict(beside.rows)


def test_a_rework_has_its_blocks_designators_action_part_number_reason_time_and_person() -> None:
    words, beside = _entry(section(record_of(story_of("QM-48")), TITLE), "rework 1")
    assert words.startswith("rework 1: replaced C1, C2, C3,")
    assert "9.1 mF and 22 mΩ, dried out; polarity ticked, 12 of 12" in words
    assert "part number 1000 µF 100 V, lot 3107" in words
    assert beside["Blocks"].startswith("CAPS (")
    assert (beside["When"], beside["By"]) == ("2031-04-02 12:06", "t1 (First technician)")


def test_each_rework_says_how_many_results_it_made_worthless() -> None:
    parts = section(record_of(story_of("OV-24P")), TITLE)
    assert [_entry(parts, f"rework {number}")[1]["Made worthless"] for number in (1, 2, 3)] == [
        "40 results",
        "3 results",
        "5 results",
    ]


def test_a_repair_that_is_not_as_drawn_is_told_from_a_rework() -> None:
    parts = section(record_of(story_of("TH-12")), TITLE)
    assert _entry(parts, "rework 1")[1]["Entered as"] == "rework"
    words, beside = _entry(parts, "rework 2")
    assert beside["Entered as"] == "a repair, not as drawn"
    assert words.startswith("rework 2, a repair, not as drawn: jumper R40 (RAIN).")


def test_a_part_that_was_left_old_says_why() -> None:
    story = Story()
    left = (LeftOld("C2", "not to be had before May"),)
    story.do(LogRework("t1", ("PWR",), ("C1",), "replaced", "leaks", left_old=left))
    assert "C2 left old: not to be had before May" in said(recorded(story.job, story.outside), TITLE)


def test_a_part_from_a_donor_names_its_serial_and_an_opened_case_its_reason() -> None:
    told = said(recorded(*sample("A31-0016")), TITLE)
    assert "rework 2: swapped in DS1 from unit 7Q10001 (LAMP). tried another lamp" in told
    assert "case opened 1: to see D1" in told


def test_an_incident_has_its_blocks_and_the_rework_that_answers_it() -> None:
    story = Story()
    story.do(ReportIncident("t1", ("PWR",), "probe slipped at F1"))
    parts = section(recorded(story.job, story.outside), TITLE)
    words, beside = _entry(parts, "incident 1")
    assert words == "incident 1 (PWR): probe slipped at F1"
    assert beside["Answered"] == "still open"
    story.make_safe().do(LogRework("t1", ("PWR",), ("F1",), "inspected", "F1 is whole", incident=1))
    answered = section(recorded(story.job, story.outside), TITLE)
    assert _entry(answered, "incident 1")[1]["Answered"] == "rework 1"


def test_blocks_that_hands_were_on_and_those_that_stayed_as_they_came_are_listed() -> None:
    found = facts(record_of(story_of("OV-24P")), TITLE)
    assert found["Blocks worked on"] == "PWR (Supply), GAUGE (Gauge drivers and motors), KEY (Membrane buttons)"
    assert "BEEP (Beeper)" in found["Blocks not worked on"]


def test_what_was_put_back_says_how_when_and_by_whom_and_what_is_still_fitted_too() -> None:
    story = Story(sequences.with_restore()).start().passes(GUARD).passes(RAIL)
    assert facts(recorded(story.job, story.outside), TITLE)["Still to be put back"] == "dummy plug out of J5"
    story.do(UndoChange("t2", RAIL, "pulled, looked at"))
    found = facts(recorded(story.job, story.outside), TITLE)
    (back,) = [(name, value) for name, value in found.items() if name.startswith("Put back")]
    assert back[0].endswith(", t2")
    assert back[1] == "dummy plug out of J5: pulled, looked at"


def test_every_proposal_to_the_owner_stands_line_by_line_with_when_and_by_whom() -> None:
    story = Story()
    story.do(Propose("t1", ("C1 to C11 renewed", "R46 reflowed")))
    story.do(Propose("t2", ("C1 to C11 renewed",)))
    told = said(recorded(story.job, story.outside), TITLE).splitlines()
    heads = [line for line in told if line.startswith("Proposed ")]
    assert [head.rpartition(", ")[2] for head in heads] == ["t1", "t1", "t2"]
    assert told.count("C1 to C11 renewed") == 2
    assert "R46 reflowed" in told


def test_what_the_owner_agreed_to_stands_with_who_took_the_word() -> None:
    told = said(record_of(story_of("EK-8")), TITLE)
    assert "K1 to K8 renewed, U5 checked (the owner, by telephone; entered by t1)" in told
    assert "Nothing is recorded that the owner agreed to." in said(record_of(story_of("OV-24P")), TITLE)


def test_going_on_under_a_new_revision_is_told_with_its_reason() -> None:
    words, beside = _entry(section(recorded(*sample("A31-0012")), TITLE), "new revision 3")
    assert "F1 is read closer since revision 3" in words
    assert beside["Made worthless"] == "1 result"

"""Does the record say on what its results rest: complaint, runs, instruments, surroundings, cautions, rules, gaps?"""

from dataclasses import replace
from datetime import date

from paper_parts import column, facts, row, rows, said, section, text
from recorded_jobs import record_of, recorded, sample, source_of
from rig import settings
from story import Story
from told_stories import story_of

import sequences
from passcheck.job.outside import Outside
from passcheck.report.document import Words
from sequences import GUARD, LAMPS, RAIL


def test_the_complaint_stands_in_the_owner_s_own_words() -> None:
    parts = section(record_of(story_of("QM-48")), "Complaint")
    assert Words("Dies on the ramp, comes back after a cup of tea.", "quote") in parts


def test_the_symptoms_it_was_taken_for_stand_with_their_steps_and_conditions() -> None:
    found = facts(record_of(story_of("QM-48")), "Complaint")
    assert found["Taken for the symptom"].startswith("Cuts out when hot (shown by: Phase currents, heatsink at 60 °C,")
    assert found["To be tried under"] == "heatsink warm at 60 °C"


def test_a_complaint_that_nobody_matched_says_so() -> None:
    assert "was not matched to a symptom" in said(recorded(*sample("A31-0003")), "Complaint")


def test_the_as_found_outcome_stands_beside_the_complaint_with_what_was_tried() -> None:
    found = facts(record_of(story_of("OV-24P")), "Complaint")
    assert found["As found, run 1"] == "complaint reproduced; intermittent: 2 of 3"
    assert "20 min warm" in found["Run 1 tried under"]


def test_a_job_without_an_as_found_run_says_that_the_complaint_was_not_looked_for() -> None:
    assert "No as-found run was made" in said(recorded(*sample("A31-0013")), "Complaint")


def test_every_run_has_purpose_time_people_ambient_serial_revision_and_outcome() -> None:
    told = story_of("QM-48")
    paper = record_of(told)
    digest = told.job.sequence_digest[:8]
    assert [text(it) for it in row(paper, "Runs", "1")] == [
        *("1", "as-found", "2031-04-02 10:00", "t1 (First technician); within call: t2 (Second technician)"),
        *("22 °C", "48K0312", f"2 ({digest})", "complaint reproduced; further faults found"),
    ]
    assert column(paper, "Runs") == [str(run.number) for run in told.job.runs]


def test_a_run_on_another_serial_says_that_it_is_not_this_unit() -> None:
    story = Story().start("as-found").passes(GUARD)
    run = story.job.runs[0]
    strange = replace(run, facts=replace(run.facts, serial_scanned="7Q99999"))
    paper = recorded(replace(story.job, runs=(strange,)), story.outside)
    assert "7Q99999, not this unit" in said(paper, "Runs")


def test_every_instrument_in_use_has_own_id_title_serial_role_accuracy_and_due_date() -> None:
    paper = record_of(story_of("OV-24P"))
    used = [[text(it) for it in one] for one in rows(section(paper, "Instruments"))]
    assert ["M1", "Hand multimeter", "M-4711", "voltmeter", "0.5 % + 3 digits", "2031-12-01"] in [it[:6] for it in used]
    scope = next(it for it in used if it[0] == "S1" and it[3] == "scope")
    assert scope[2] == "not in the register"
    assert scope[6].startswith("1, 2")


def test_an_instrument_that_turned_out_doubtful_later_is_marked() -> None:
    story = Story().start("as-found").passes(GUARD)
    known = settings().instruments
    doubted = {**known, "M1": known["M1"].model_copy(update={"doubtful_since": date(2031, 3, 1)})}
    outside = Outside(settings().model_copy(update={"instruments": doubted}))
    assert "doubtful since 2031-03-01" in said(recorded(story.job, outside), "Instruments")


def test_ambient_and_supplies_as_told_stand_under_environment() -> None:
    found = facts(record_of(story_of("OV-24P")), "Environment")
    assert found["Ambient temperature"] == "22 °C"
    (told,) = [value for name, value in found.items() if name.endswith(", as told")]
    assert "24.0 V, limit 0.30 A" in told
    assert "passcheck sees no supply" in said(record_of(story_of("OV-24P")), "Environment")


def test_cautions_stand_with_how_many_answers_and_whose_and_as_no_proof_of_competence() -> None:
    told = said(record_of(story_of("EK-8")), "Cautions answered")
    assert "It is no proof that anybody is competent" in told
    assert "DANGER" in told
    answered = [text(it[2]) for it in rows(section(record_of(story_of("EK-8")), "Cautions answered"))]
    assert all("k9 (The lead)" in one for one in answered)


def test_the_rule_is_stated_and_every_rule_that_was_used_is_told_in_words() -> None:
    told = said(record_of(story_of("OV-24P")), "How it was judged")
    assert "by the rule 'guarded' unless another is named there" in told
    assert "pass at a probability of conformity of 0.95 or more" in told
    assert "one miss fails" in told
    taps = said(recorded(*sample("A31-0015")), "How it was judged")
    assert "taps of a hand beside its own reference trials" in taps


def test_the_words_of_the_verdicts_are_explained() -> None:
    told = facts(record_of(story_of("OV-24P")), "How it was judged")
    assert {"in doubt", "not measured", "unexplained", "struck", "void"} <= told.keys()


def test_cleared_codes_are_listed_and_clearing_repairs_nothing() -> None:
    paper = record_of(story_of("OV-24P"))
    cleared = [text(it[4]) for it in rows(section(paper, "Fault codes"))]
    assert cleared[:2] == ["nothing cleared", "F35"]
    assert Words("Clearing a code repairs nothing.", "notice") in section(paper, "Fault codes")


def test_a_step_of_another_variant_is_named_as_not_tested() -> None:
    optional = {**sequences.BASE["steps"][2], "variant": "beeper"}
    steps = [*sequences.BASE["steps"][:2], optional]
    story = Story(sequences.sequence(steps=steps, variants={"beeper": "Panel with the optional beeper"}))
    found = facts(recorded(story.job, story.outside), "What was not tested")
    why = "not of this unit: belongs to the variant 'Panel with the optional beeper'"
    assert found[story.step(LAMPS).title] == why


def test_what_nothing_counts_for_is_named_with_the_reason() -> None:
    story = Story().start("as-found").passes(GUARD).passes(RAIL)
    found = facts(recorded(story.job, story.outside), "What was not tested")
    assert found[story.step(RAIL).title] == "tried as found only, which never counts for a release"
    assert found[story.step(LAMPS).title] == "blank as left"


def test_what_the_records_say_of_a_job_stands_among_the_remarks() -> None:
    job, source = sample("A31-0001")
    marked = replace(source, outside=replace(source.outside, records_marks=("A ledger was closed over this job.",)))
    assert "A ledger was closed over this job." in said(recorded(job, marked), "Remarks")


def test_a_fault_of_the_records_is_told_of_an_ended_job_too() -> None:
    job, source = sample("A31-0001")
    wrong = replace(source, outside=replace(source.outside, records_faults=("A31-0001.jsonl, line 4: altered.",)))
    assert "A31-0001.jsonl, line 4: altered." in said(recorded(job, wrong), "Remarks")


def test_a_repair_and_the_owner_s_word_are_remarks() -> None:
    assert "rework 2: a repair, not as drawn." in said(record_of(story_of("TH-12")), "Remarks")
    assert "Owner agreed: K1 to K8 renewed" in said(record_of(story_of("EK-8")), "Remarks")


def test_the_bench_s_own_name_stands_where_bench_yaml_has_one() -> None:
    story = Story()
    assert recorded(story.job, replace(source_of(story.job), place="")).shop == "Brackwater Electronics"

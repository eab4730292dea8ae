"""What does a job become, event by event?"""

import pytest
from story import Story

import sequences
from passcheck.errors import FileFault
from passcheck.job import events as happened
from passcheck.job.fold import SHORTING_LEAD, fold, opened
from passcheck.job.state import Agreement, Proposal, Recorded
from passcheck.sequence.model import Sequence
from sequences import GUARD, LAMPS, RAIL


def test_a_journal_without_an_event_holds_no_job() -> None:
    with pytest.raises(FileFault, match="no event"):
        fold([], Story().boards.read)


def test_a_journal_that_does_not_begin_with_an_opening_is_refused() -> None:
    story = Story()
    with pytest.raises(FileFault, match="doesn't begin"):
        opened(Recorded(0, story.now, "t1", happened.NoteAdded("x")), story.boards.read)


def test_a_second_opening_is_refused() -> None:
    story = Story()
    with pytest.raises(FileFault, match="second job"):
        story.happen(story.job.facts)


def test_a_unit_without_stored_energy_opens_off_and_proved_dead() -> None:
    story = Story()
    assert story.told() == "off"
    assert story.job.made_safe_line == 0


@pytest.mark.parametrize("board", [sequences.little_energy(), sequences.much_energy()])
def test_a_unit_with_stored_energy_opens_with_power_unknown(board: Sequence) -> None:
    story = Story(board)
    assert story.told() == "unknown"
    assert story.job.made_safe_line is None


def test_a_step_that_changes_the_unit_puts_its_change_on_the_list_once() -> None:
    story = Story(sequences.with_restore()).start().passes(GUARD).passes(RAIL).passes(RAIL)
    assert [it.words for it in story.job.fitted] == ["dummy plug out of J5"]


def test_a_shorting_lead_is_on_the_list_and_forbids_power() -> None:
    story = Story(sequences.much_energy())
    story.happen(happened.MadeSafe("M1", (), shorting_lead=True), happened.MadeSafe("M1", (), shorting_lead=True))
    assert [(it.change, it.forbids_power) for it in story.job.fitted] == [(SHORTING_LEAD, True)]


def test_putting_it_back_takes_it_off_the_list() -> None:
    story = Story(sequences.with_restore()).start().passes(GUARD).passes(RAIL)
    story.happen(happened.ChangeUndone(RAIL, "pulled"))
    assert story.job.fitted == ()


def test_what_was_put_back_stays_told_with_who_and_how() -> None:
    story = Story(sequences.with_restore()).start().passes(GUARD).passes(RAIL)
    story.happen(happened.ChangeUndone(RAIL, "pulled"), by="t2")
    (back,) = story.job.put_back
    assert (back.words, back.how, back.by, back.moment) == ("dummy plug out of J5", "pulled", "t2", story.job.last)


def test_a_void_stays_with_its_attempt() -> None:
    story = Story().start().passes(GUARD).passes(LAMPS)
    story.happen(happened.AttemptVoided(1, "slip"))
    assert [one.void is not None for one in story.job.attempts] == [True, False]


def test_an_attempt_takes_its_purpose_from_its_run() -> None:
    story = Story().start("as-found").passes(GUARD).start("retest").passes(GUARD)
    assert [one.purpose for one in story.job.attempts] == ["as-found", "retest"]


def test_a_rework_that_answers_an_incident_closes_it() -> None:
    story = Story()
    story.happen(happened.IncidentReported(1, ("PWR",), "smoke"), happened.IncidentReported(2, ("LAMP",), "slip"))
    story.happen(happened.ReworkLogged(1, ("PWR",), (), "inspected", "no damage", incident=1))
    assert story.job.open_incidents == (2,)


def test_a_firmware_change_is_told_apart_from_other_work() -> None:
    story = Story()
    story.happen(happened.ReworkLogged(1, ("PWR",), (), "firmware", "new version"))
    assert story.job.changes[0].firmware


def test_a_hand_over_changes_who_has_the_job() -> None:
    story = Story()
    story.happen(happened.HandedOver("t2", "lunch"))
    assert (story.job.holder, story.job.alerts) == ("t2", (1,))


def test_an_interrupted_soak_leaves_power_unknown() -> None:
    story = Story(sequences.with_soak())
    story.happen(happened.SoakStarted("soak", "battery", "24.0 V", "0.16 A"))
    assert story.told() == "soaking"
    story.happen(happened.SoakChecked("soak", story.job.serial, "24.0 V", "0.16 A", "4.0 h", True))
    assert story.told() == "soaking"
    story.happen(happened.SoakInterrupted("soak", "mains dip"))
    assert story.told() == "unknown"
    (leg,) = story.job.soaks
    assert (len(leg.looks), leg.ended, story.job.open_soak) == (2, "mains dip", None)


def test_what_the_records_did_to_their_own_file_changes_nothing_else() -> None:
    story = Story().start()
    before = story.job
    story.happen(happened.Mended(10, 5, "ab"), happened.Moved("cd", "disk error"))
    assert story.job.lines == before.lines + 2
    assert (story.job.runs, story.job.attempts, story.job.power) == (before.runs, before.attempts, before.power)


def test_an_event_of_a_later_version_is_kept() -> None:
    story = Story()
    story.happen(happened.Unrecognised("lamp dimmed", {"by": 3}))
    assert [it.tag for it in story.job.unrecognised] == ["lamp dimmed"]


def test_words_and_loose_readings_are_kept() -> None:
    story = Story()
    story.happen(
        happened.ComplaintMapped(("rail-low",), ("warm",)),
        happened.NoteAdded("flux", None, ("photos/1.jpg",)),
        happened.Jotted("TP7", "1.2 V", "M1"),
        happened.WorkProposed(("C1 and C2 renewed", "lens polished")),
        happened.OwnerAgreed("rail only", "Ms Orme, by telephone"),
        happened.SignOffRefused(("blank",)),
    )
    job = story.job
    assert (job.symptoms, job.conditions) == (("rail-low",), ("warm",))
    assert (job.notes[0].photos, job.jottings[0].value) == (("photos/1.jpg",), "1.2 V")
    assert job.proposed == (Proposal(("C1 and C2 renewed", "lens polished"), "t1", story.now, line=4),)
    assert job.agreed == (Agreement("rail only", "Ms Orme, by telephone", "t1", story.now, line=5),)
    assert job.refused == ("blank",)


def test_a_run_that_closed_is_no_longer_open() -> None:
    story = Story().start()
    assert [run.outcome for run in story.job.runs] == [None]
    story.happen(happened.RunClosed(1, "0 of 3 steps passed"))
    assert story.job.open_run is None
    assert story.job.runs[0].outcome == "0 of 3 steps passed"


@pytest.mark.parametrize(
    ("event", "ending"),
    [
        (happened.SignedOff("7Q22051", "released"), "signed off"),
        (happened.ReturnedUnrepaired("no parts"), "returned unrepaired"),
        (happened.ReturnedInPart(("rail",), "owner"), "returned repaired in part"),
    ],
)
def test_an_ending_names_who_ended_it_and_keeps_what_was_said(event: happened.Event, ending: str) -> None:
    story = Story()
    story.happen(event, by="k9")
    assert (story.job.ended, story.job.ended_by, story.job.left) == (ending, "k9", event)


def test_a_new_revision_brings_its_own_steps() -> None:
    story = Story()
    newer = story.boards.put(sequences.with_soak().model_copy(update={"revision": 2}))
    story.happen(happened.SequenceRevised(newer.text, newer.digest, "soak added"))
    assert story.job.sequence.revision == 2
    assert story.job.sequence_digest == newer.digest
    assert [step.id for step in story.job.sequence.steps][-1] == "soak"


@pytest.mark.parametrize(
    ("event", "ended"),
    [
        (happened.SignedOff("7Q22051", "released", "k9"), "signed off"),
        (happened.ReturnedUnrepaired("no parts"), "returned unrepaired"),
        (happened.ReturnedInPart(("5 V logic rail",), "owner, 2 April"), "returned repaired in part"),
    ],
)
def test_a_job_that_ended_keeps_why_and_what_was_agreed(
    event: happened.SignedOff | happened.ReturnedUnrepaired | happened.ReturnedInPart, ended: str
) -> None:
    story = Story()
    story.happen(event, by="t2")
    assert (story.job.ended, story.job.ended_by, story.job.left) == (ended, "t2", event)

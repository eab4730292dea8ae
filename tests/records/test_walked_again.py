"""Do honest endings stand when their journals are walked again, and does one written past the gate say so itself?"""

from collections.abc import Callable, Iterable
from dataclasses import replace

import pytest
from sample_set import logs_of, sample_set, sets
from standings import written

from passcheck.job.decide_ending import MEANING
from passcheck.job.ending import is_failure, is_seal
from passcheck.job.events import ReturnedUnrepaired, SignedOff
from passcheck.job.journal_line import Line
from passcheck.job.tags import encode
from passcheck.records.agreement import Kept
from passcheck.records.board_folder import BoardFolder
from passcheck.records.journal_file import examine
from passcheck.records.line_codec import encode_line
from passcheck.records.walked_again import Walked, walk_again

NEWEST = sets()[-1]
JOBS = [(name, job) for name in sets() for job in sample_set(name).about]
REPAIRED, GIVEN_BACK, MENDED = "A31-0001", "A31-0004", "A31-0010"


def kept(job: str, name: str = NEWEST) -> Kept:
    """A sample journal."""
    logs = logs_of(sample_set(name).folder, job)
    data = logs.journal_bytes(job)
    assert data is not None
    return logs.kept(job, data)


def lines_of(job: str) -> list[Line]:
    """The lines of a sample journal."""
    return list(kept(job).file.lines)


def walked(lines: Iterable[Line], job: str = REPAIRED) -> Walked:
    """What comes of a journal of these lines, whose numbers and hashes are as passcheck would have given them."""
    data = written(*(replace(line, number=number) for number, line in enumerate(lines)))
    found = walk_again(Kept(job, False, data, examine(data)), BoardFolder.read)
    assert found is not None
    return found


def sealed_after(lines: list[Line], event: SignedOff | ReturnedUnrepaired, by: str = "t1") -> list[Line]:
    """The lines with a seal below them that the bench didn't write."""
    tag, data = encode(event)
    return [*lines, replace(lines[-1], by=by, event=tag, data=data)]


@pytest.mark.parametrize(("name", "job"), JOBS, ids=[f"{name}-{job}" for name, job in JOBS])
def test_every_honest_ending_of_the_samples_stands_and_what_is_open_has_none(name: str, job: str) -> None:
    sample = kept(job, name)
    found = walk_again(sample, BoardFolder.read)
    assert (found is not None) == sample.file.sealed
    assert found is None or (found.against, found.not_walked) == ((), "")


def test_a_sign_off_written_under_a_fail_is_told_with_its_line_the_attempt_and_what_to_do() -> None:
    lines = lines_of(REPAIRED)
    fail = next(number for number, line in enumerate(lines) if is_failure(line))
    found = walked(sealed_after(lines[: fail + 1], SignedOff("7Q22051", MEANING)))
    where = f"A31-0001.jsonl, line {fail + 2}: signed off by t1 although this stood against it: "
    ask = " Ask t1 how it came about; have the unit back, and walk it as a new job."
    assert all(one.startswith(where) and one.endswith(ask) for one in found.against)
    attempt = lines[fail].data["attempt"]
    of_the_step = [one for one in found.against if "Ripple on 5 V" in one]
    assert found.against[: len(of_the_step)] == tuple(of_the_step), "what failed comes first"
    assert len(of_the_step) == 2
    assert all(f" (last try: attempt {attempt}, fail). Ask t1" in one for one in of_the_step)
    assert f"{where}Supply battery: told on.{ask}" in found.against


def test_a_line_below_torn_ones_is_counted_as_an_editor_counts_it() -> None:
    mended = kept(MENDED)
    tag, data = encode(SignedOff("7Q22051", MEANING))
    seal = replace(mended.file.lines[-1], number=len(mended.file.lines), event=tag, data=data)
    bytes_of = mended.data + written_below(mended, seal)
    found = walk_again(Kept(MENDED, False, bytes_of, examine(bytes_of)), BoardFolder.read)
    assert found is not None
    torn = mended.data.count(b"\n") - len(mended.file.lines)
    assert torn > 0
    line = len(mended.file.lines) + 1 + torn
    assert found.against
    assert all(one.startswith(f"{MENDED}.jsonl, line {line}: signed off") for one in found.against)


def written_below(sample: Kept, line: Line) -> bytes:
    """One more line of a journal."""
    return encode_line(line, sample.file.running)


def test_a_return_that_somebody_wrote_is_asked_what_a_return_is_asked_and_no_more() -> None:
    lines = lines_of(GIVEN_BACK)
    assert is_seal(lines[-1])
    safe = next(number for number, line in enumerate(lines) if line.event == "made safe")
    assert walked(sealed_after(lines[: safe + 1], ReturnedUnrepaired("burnt through")), GIVEN_BACK).against == ()
    (found,) = walked(sealed_after(lines[: safe + 1], ReturnedUnrepaired(" ")), GIVEN_BACK).against
    assert ": returned unrepaired by t1 although this stood against it: Say why the unit goes back" in found


def test_a_journal_of_a_later_version_is_not_walked_and_that_is_said() -> None:
    lines = lines_of(REPAIRED)
    strange = replace(lines[1], event="weighed", data={"grams": "412.5"})
    assert walked([*lines[:1], strange, *lines[1:]]) == Walked(
        not_walked="A31-0001.jsonl: not walked through the gate again: it holds 'weighed', which this version doesn't "
        "know. Ask the version of passcheck that wrote it."
    )


def test_a_known_event_with_facts_of_a_later_version_is_not_walked_either() -> None:
    lines = [
        replace(line, data={**line.data, "purpose": "weighing"}) if line.event == "run started" else line
        for line in lines_of(REPAIRED)
    ]
    found = walked(lines)
    assert found.against == ()
    assert found.not_walked.startswith("A31-0001.jsonl: not walked through the gate again: 'run started' can't be read")


def test_a_sequence_that_todays_loader_refuses_is_not_walked() -> None:
    first, *lines = lines_of(REPAIRED)
    text = str(first.data["sequence_text"]).replace("kind: reading", "kind: smelling")
    found = walked([replace(first, data={**first.data, "sequence_text": text}), *lines])
    assert found.against == ()
    assert "the sequence that it keeps can't be read by this version" in found.not_walked


def test_who_ended_it_in_which_program_is_kept_for_who_wonders() -> None:
    lines = lines_of(REPAIRED)
    resumed = {"boot_id": "boot-1", "offset_min": 120, "tool": "passcheck 9.1", "away_ms": 1}
    taken_up = replace(lines[0], event="resumed", data=resumed)
    assert walked(lines).tool == "passcheck, sample journals"
    assert walked([*lines[:-1], taken_up, lines[-1]]).tool == "passcheck 9.1"


@pytest.mark.parametrize(
    ("spoil", "line"),
    [
        (lambda lines: [*lines[:3], lines[0], *lines[3:]], 4),
        (lambda lines: [one for one in lines if one.event != "run started"], 5),
    ],
    ids=["a second opening", "attempts without a run"],
)
def test_lines_that_cannot_follow_one_another_speak_against_the_ending(
    spoil: Callable[[list[Line]], list[Line]], line: int
) -> None:
    spoilt = spoil(lines_of(REPAIRED))
    (said,) = walked(spoilt).against
    where = f"A31-0001.jsonl, line {len(spoilt)}: signed off by t1"
    assert said.startswith(f"{where}, and line {line} can't follow on those before it. Ask t1 ")


def test_a_date_that_no_clock_wrote_speaks_against_the_ending() -> None:
    lines = lines_of(REPAIRED)
    (said,) = walked([*lines[:2], replace(lines[2], at="2031-13-45T08:00:00.000Z"), *lines[3:]]).against
    assert "a line before it has a date that no clock wrote" in said


def test_whatever_line_is_left_out_or_moved_the_walk_comes_to_an_answer() -> None:
    for job in (REPAIRED, GIVEN_BACK):
        lines = lines_of(job)
        for number in range(1, len(lines) - 1):
            without = [*lines[:number], *lines[number + 1 :]]
            walked(without, job)
            walked([*without[:-1], lines[number], without[-1]], job)

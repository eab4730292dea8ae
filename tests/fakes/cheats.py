"""Ways to cheat in a small shop, each done as well as its case allows.

Each function spoils the copy of a shop that it is given. Who sits at the bench may write every file of the bench's
folder, set its clock, and run passcheck's own code, so every hash that can be made anew is made anew. Nobody has
another's key or writes what lies outside the bench, but where the sentence says so.
"""

import shutil
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from small_shop import (
    COLLEAGUES,
    FAILED_FIRST,
    FUSE,
    GIVEN_BACK,
    INPUT,
    NEWEST_SEALED,
    REPAIRED,
    STILL_OPEN,
    SmallShop,
    judgement,
)
from standings import written

from passcheck.job.answers import ReadingAnswer
from passcheck.job.decide_ending import MEANING
from passcheck.job.ending import is_failure
from passcheck.job.events import AttemptJudged, SignedOff
from passcheck.job.journal_line import Line
from passcheck.records.agreement import OPENED, Entry, due
from passcheck.records.journal import Journal
from passcheck.records.journal_file import examine, read_journal
from passcheck.records.signed import signature_path

# The list.


def a_verdict_is_edited_in_an_editor(shop: SmallShop) -> None:
    """Turn the fail in a sealed journal into a pass, in an editor."""
    path = shop.journal(REPAIRED)
    path.write_bytes(path.read_bytes().replace(b'"verdict":"fail"', b'"verdict":"pass"'))


def a_verdict_is_edited_and_every_hash_made_anew(shop: SmallShop) -> None:
    """The same, and every hash of the journal made anew."""
    _judge_anew(shop, REPAIRED)


def ones_own_job_is_edited_and_signed_again(shop: SmallShop) -> None:
    """The same on a job of one's own, and signed again."""
    _judge_anew(shop, REPAIRED)
    shop.sign(REPAIRED, "t1")


def the_ledger_is_written_anew_as_well(shop: SmallShop) -> None:
    """The same, and the ledger written anew without the fail."""
    _judge_anew(shop, REPAIRED)
    shop.sign(REPAIRED, "t1")
    _tell_ledger_anew(shop)


def a_colleagues_job_is_edited_and_the_ledger_with_it(shop: SmallShop) -> None:
    """The same on a colleague's job, signed with one's own key."""
    _judge_anew(shop, COLLEAGUES)
    shop.sign(COLLEAGUES, "t1")
    _tell_ledger_anew(shop)


def a_failed_jobs_files_are_deleted(shop: SmallShop) -> None:
    """Delete every file of a job that failed."""
    _delete(shop, GIVEN_BACK)


def the_newest_failed_job_is_deleted_with_the_ledgers_end(shop: SmallShop) -> None:
    """Delete the newest job, which failed, and cut its lines off the ledger's end."""
    _delete(shop, STILL_OPEN)
    ledger = shop.ledger.read_bytes()
    first = ledger.index(f'"job":"{STILL_OPEN}"'.encode())
    shop.ledger.write_bytes(ledger[: ledger.rindex(b"\n", 0, first) + 1])


def the_failing_lines_are_cut_off_an_open_job(shop: SmallShop) -> None:
    """Cut the failing line off the end of an open journal, and go on."""
    start, _ = _failing_line(shop, STILL_OPEN)
    path = shop.journal(STILL_OPEN)
    path.write_bytes(path.read_bytes()[:start])
    _append_pass(shop, STILL_OPEN)


def a_failing_line_is_made_to_look_torn(shop: SmallShop) -> None:
    """Make the failing line look as if a crash had torn it, let it be mended, and go on."""
    start, end = _failing_line(shop, STILL_OPEN)
    path = shop.journal(STILL_OPEN)
    path.write_bytes(path.read_bytes()[: (start + end) // 2])
    _append_pass(shop, STILL_OPEN)


def another_units_pass_is_put_under_a_failed_jobs_name(shop: SmallShop) -> None:
    """Copy another unit's pass into a failed job: number, serial and place in the ledger put right, every hash anew."""
    failed, passed = _lines(shop, GIVEN_BACK), _lines(shop, FAILED_FIRST)
    kept = {name: failed[0].data[name] for name in ("job", "serial", "ledger_bytes", "ledger_digest")}
    passes = [line for line in passed[1:] if not is_failure(line)]
    _put(shop, GIVEN_BACK, [replace(passed[0], data={**passed[0].data, **kept}), *passes])
    shop.sign(GIVEN_BACK, "t1")


def two_jobs_files_are_swapped(shop: SmallShop) -> None:
    """Swap the files of two jobs, with their signatures."""
    one, other = shop.journal(REPAIRED), shop.journal(NEWEST_SEALED)
    for first, second in ((one, other), (signature_path(one), signature_path(other))):
        kept = first.read_bytes()
        first.write_bytes(second.read_bytes())
        second.write_bytes(kept)


def a_job_is_walked_by_a_loosened_sequence(shop: SmallShop) -> None:
    """Walk a job by a sequence with loosened limits, and put the good one back."""
    good = shop.board.read_text(encoding="utf-8")
    shop.board.write_text(good.replace("at most 0.50 Ω", "at most 50 Ω"), encoding="utf-8")
    _walk(shop, "t1", fuse="12.5")
    shop.board.write_text(good, encoding="utf-8")


def a_job_is_walked_with_the_clock_a_day_back(shop: SmallShop) -> None:
    """Set the clock a day back for one job, and right again."""
    shop.clock.set_wall(hours=-24)
    _walk(shop, "t1")
    shop.clock.set_wall(hours=24)


def a_job_is_walked_with_the_clock_a_month_ahead(shop: SmallShop) -> None:
    """Set the clock a month ahead for one job, and right again before the next."""
    shop.clock.set_wall(hours=30 * 24)
    _walk(shop, "t1")
    shop.clock.set_wall(hours=-30 * 24)
    _walk(shop, "t2")


def a_job_is_signed_off_as_a_colleague_without_the_key(shop: SmallShop) -> None:
    """Sign a job off as a colleague, with one's own key, and enter that key as theirs in a list on the bench."""
    _walk(shop, "t2", signed_by="t1")
    own = (shop.outside / "homes" / "t1" / "id_ed25519.pub").read_text(encoding="utf-8")
    (shop.logs / "allowed_signers").write_text(f"t2 {own}", encoding="utf-8")


def the_whole_folder_is_put_back_to_yesterday(shop: SmallShop) -> None:
    """Put the whole folder of records back to yesterday's copy."""
    shutil.rmtree(shop.logs)
    shutil.copytree(shop.yesterday, shop.logs)


def a_job_is_repeated_on_a_copy_and_only_the_pass_brought_back(shop: SmallShop) -> None:
    """Repeat a job on a copy of the records from before it failed, and bring back only the pass."""
    _repeat_on_a_copy(shop)
    for path in (shop.journal(FAILED_FIRST), signature_path(shop.journal(FAILED_FIRST))):
        shutil.copy(_elsewhere(shop) / path.relative_to(shop.logs), path)


def a_job_is_repeated_on_a_copy_and_brought_back_with_its_ledger(shop: SmallShop) -> None:
    """The same, with the copy's ledger."""
    a_job_is_repeated_on_a_copy_and_only_the_pass_brought_back(shop)
    shutil.copy(_elsewhere(shop) / shop.ledger.name, shop.ledger)


def a_job_is_signed_with_a_passphrase_that_two_people_share(shop: SmallShop) -> None:
    """Sign a job off as a colleague, with their key and the passphrase that they told."""
    _walk(shop, "t2", signed_by="t2")


def another_units_readings_are_typed_again(shop: SmallShop) -> None:
    """Walk a job with the readings of another unit."""
    lines = _lines(shop, NEWEST_SEALED)
    _walk(shop, "t1", fuse=_ohms_read(lines, FUSE), input_ohm=_ohms_read(lines, INPUT))


def readings_are_invented(shop: SmallShop) -> None:
    """Walk a job with readings that nobody took."""
    _walk(shop, "t1", fuse="0.19", input_ohm="4711")


def the_sequence_file_is_swapped_after_the_run(shop: SmallShop) -> None:
    """Put another sequence in the place of the one that jobs were walked by."""
    text = shop.board.read_text(encoding="utf-8")
    shop.board.write_text(text.replace("at most 0.50 Ω", "at most 50 Ω"), encoding="utf-8")


# What goes further than the list.


def everything_after_an_edit_is_written_anew(shop: SmallShop) -> None:
    """Edit a job of one's own, and write anew the ledger and every later journal that stands on it."""
    _judge_anew(shop, REPAIRED)
    _tell_ledger_anew(shop, and_what_stands_on_it=True)
    for job in (REPAIRED, GIVEN_BACK, FAILED_FIRST):
        shop.sign(job, "t1")


def the_signatures_that_this_breaks_are_taken_away(shop: SmallShop) -> None:
    """The same, and take the colleague's signatures away."""
    everything_after_an_edit_is_written_anew(shop)
    for job in (COLLEAGUES, NEWEST_SEALED):
        signature_path(shop.journal(job)).unlink()


def ones_newest_job_is_written_anew_before_anybody_signs_again(shop: SmallShop) -> None:
    """Write a job of one's own anew, and the ledger, while nobody has signed a later one."""
    lines = _lines(shop, NEWEST_SEALED)
    at = next(number for number, line in enumerate(lines) if line.data.get("step") == FUSE)
    other = replace(lines[at], data={**lines[at].data, "judgement": {**_judgement(lines[at]), "value": "0.01"}})
    _put(shop, NEWEST_SEALED, [*lines[:at], other, *lines[at + 1 :]])
    _tell_ledger_anew(shop, and_what_stands_on_it=True)
    shop.sign(NEWEST_SEALED, "t2")


def a_sign_off_is_written_past_the_gate(shop: SmallShop) -> None:
    """Write a sign-off under an open job that failed, with passcheck's own code."""
    journal, (opened, *_) = shop.folder().open_job(STILL_OPEN)
    seal = SignedOff(str(opened.data["serial"]), MEANING)
    journal.append([shop.line(journal.next_number, "t1", seal)], seal=True)
    journal.close()
    shop.sign(STILL_OPEN, "t1")


# What they are done with.


def _lines(shop: SmallShop, job: str) -> tuple[Line, ...]:
    return read_journal(shop.journal(job)).lines


def _put(shop: SmallShop, job: str, lines: Iterable[Line]) -> None:
    """Write a journal anew: numbers and hashes are those that passcheck would have given."""
    numbered = (replace(line, number=number) for number, line in enumerate(lines))
    shop.journal(job).write_bytes(written(*numbered))


def _judgement(line: Line) -> dict[str, object]:
    judged = line.data["judgement"]
    assert isinstance(judged, dict)
    return judged


def _judge_anew(shop: SmallShop, job: str) -> None:
    """Make a pass of every fail of a journal."""
    _put(
        shop,
        job,
        (
            replace(line, data={**line.data, "judgement": {**_judgement(line), "verdict": "pass"}})
            if is_failure(line)
            else line
            for line in _lines(shop, job)
        ),
    )


def _tell_ledger_anew(shop: SmallShop, *, and_what_stands_on_it: bool = False) -> None:
    """Make every line of the ledger say what the journals are now, and leave out what they don't hold any more.

    `and_what_stands_on_it` writes the later journals anew as well, each on the new ledger's place.
    """
    told: list[Line] = []
    left: dict[str, list[Entry]] = {}
    for line in read_journal(shop.ledger).lines:
        job = line.data.get("job")
        if not isinstance(job, str):
            told.append(line)
            continue
        if line.event == OPENED:
            if and_what_stands_on_it:
                _stand_on(shop, job, written(*told))
            data = shop.journal(job).read_bytes()
            left[job] = list(due(job, examine(data), data, ()))
        entry = next((entry for entry in left[job] if entry.event == line.event), None)
        if entry is not None:
            left[job].remove(entry)
            told.append(replace(line, number=len(told), data=entry.facts(late=False)))
    shop.ledger.write_bytes(written(*told))


def _stand_on(shop: SmallShop, job: str, ledger: bytes) -> None:
    first, *lines = _lines(shop, job)
    file = examine(ledger)
    place = {"ledger_bytes": file.size, "ledger_digest": file.digest}
    _put(shop, job, [replace(first, data={**first.data, **place}), *lines])


def _delete(shop: SmallShop, job: str) -> None:
    for path in shop.journal(job).parent.glob(f"{job}.*"):
        path.unlink()


def _failing_line(shop: SmallShop, job: str) -> tuple[int, int]:
    """The first byte of a journal's failing line, and the byte after it."""
    file = read_journal(shop.journal(job))
    number = next(number for number, line in enumerate(file.lines) if is_failure(line))
    return file.ends[number - 1], file.ends[number]


def _append_pass(shop: SmallShop, job: str) -> None:
    """Go on in a journal with its own writer, which asks no ledger."""
    journal = Journal.open(shop.journal(job), stamp=shop.stamp)
    event = AttemptJudged(1, 1, FUSE, ReadingAnswer(("0.20 Ω",)), judgement("0.20", "pass"))
    journal.append([shop.line(journal.next_number, "t1", event)])
    journal.close()


def _walk(
    shop: SmallShop, by: str, *, fuse: str = "0.20", input_ohm: str = "4690", signed_by: str | None = None
) -> None:
    """A new unit is walked to the sign-off, and signed by the one who signed it off where nobody else is named."""
    hand = shop.take_in(by, "7Q22131").accepts().reads(FUSE, fuse).reads(INPUT, input_ohm).signs_off()
    shop.sign(hand.let_go(), signed_by or by)


def _ohms_read(lines: Iterable[Line], step: str) -> str:
    """What was typed of a step, its unit left out."""
    answers = (line.data["answer"] for line in lines if line.data.get("step") == step)
    answer = next(answer for answer in answers if isinstance(answer, dict))
    return str(answer["readings"][0]).split()[0]


def _repeat_on_a_copy(shop: SmallShop) -> None:
    root = _elsewhere(shop)
    shutil.copytree(shop.before_the_fail, root)
    hand = shop.take_up("t1", FAILED_FIRST, root=root).accepts().reads(FUSE, "0.20").reads(INPUT, "4690")
    hand.signs_off().let_go()
    shop.sign(FAILED_FIRST, "t1", root=root)


def _elsewhere(shop: SmallShop) -> Path:
    return shop.bench.with_name(f"{shop.bench.name}-elsewhere")

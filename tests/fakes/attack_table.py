"""Which check tells of which cheat: what is expected, what really comes, and the table that the README shows.

Four levels, each with all that the one before it has: the journals alone; the ledger beside them; the signatures, by
the list that the lead keeps; and the head of the ledger that somebody outside the bench noted.
"""

import contextlib
import io
import json
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Any

import cheats
from small_shop import SmallShop

from passcheck.cli.main import main
from passcheck.records.journal_file import State, read_journal

STATUS_OF_SOUND = 10
"""One job is open."""
BROKEN = ("torn", "altered", "unknown to the ledger")
"""Standings that no sound record has."""


class Word(Enum):
    """What a check makes of a cheat."""

    CAUGHT = "caught"
    """A journal or the ledger is called torn, altered or unknown, something stood against a job's ending, or a noted
    head is gone; the exit status says so."""
    REMARK = "remark"
    """A sentence that the sound shop doesn't have; the exit status is what it was."""
    NOTHING = "–"
    NOT_BUILT = "not built"


CAUGHT, REMARK, NOTHING, NOT_BUILT = Word
Words = tuple[Word, Word, Word, Word]
LEVELS = ("journal", "+ ledger", "+ signatures", "+ noted head")
Attack = Callable[[SmallShop], None]


@dataclass(frozen=True)
class Row:
    """A cheat, and what each level makes of it."""

    attack: Attack | None
    """None for one on something that passcheck doesn't have."""
    words: Words
    why: str = ""
    """What the reader of the table is told besides."""

    @property
    def says(self) -> str:
        """The cheat in a sentence."""
        return (self.attack.__doc__ or "").split("\n")[0].rstrip(".") if self.attack else "Forge the approved list"


@dataclass(frozen=True)
class Seen:
    """What a level makes of a cheat, and the first sentence that says so."""

    word: Word
    sentence: str = ""


BY_ALL = (CAUGHT, CAUGHT, CAUGHT, CAUGHT)
BY_LEDGER = (NOTHING, CAUGHT, CAUGHT, CAUGHT)
BY_HEAD = (NOTHING, NOTHING, NOTHING, CAUGHT)
TOLD_BY_LEDGER = (NOTHING, REMARK, REMARK, REMARK)
BY_NONE = (NOTHING, NOTHING, NOTHING, NOTHING)

THE_LIST: Sequence[Row] = (
    Row(cheats.a_verdict_is_edited_in_an_editor, BY_ALL),
    Row(cheats.a_verdict_is_edited_and_every_hash_made_anew, BY_LEDGER),
    Row(cheats.ones_own_job_is_edited_and_signed_again, BY_LEDGER),
    Row(cheats.the_ledger_is_written_anew_as_well, BY_LEDGER),
    Row(cheats.a_colleagues_job_is_edited_and_the_ledger_with_it, BY_LEDGER),
    Row(cheats.a_failed_jobs_files_are_deleted, BY_LEDGER),
    Row(cheats.the_newest_failed_job_is_deleted_with_the_ledgers_end, BY_HEAD),
    Row(cheats.the_failing_lines_are_cut_off_an_open_job, BY_LEDGER),
    Row(cheats.a_failing_line_is_made_to_look_torn, BY_LEDGER),
    Row(cheats.another_units_pass_is_put_under_a_failed_jobs_name, BY_LEDGER),
    Row(cheats.two_jobs_files_are_swapped, BY_LEDGER),
    Row(cheats.a_job_is_walked_by_a_loosened_sequence, TOLD_BY_LEDGER, "the text differs from today's file"),
    Row(None, (NOT_BUILT, NOT_BUILT, NOT_BUILT, NOT_BUILT), "no list of approved sequences is kept"),
    Row(cheats.a_job_is_walked_with_the_clock_a_day_back, TOLD_BY_LEDGER, "a line dated before the one above it"),
    Row(cheats.a_job_is_walked_with_the_clock_a_month_ahead, TOLD_BY_LEDGER, "from the next line on"),
    Row(cheats.a_job_is_signed_off_as_a_colleague_without_the_key, (NOTHING, NOTHING, REMARK, REMARK)),
    Row(cheats.the_whole_folder_is_put_back_to_yesterday, BY_HEAD),
    Row(cheats.a_job_is_repeated_on_a_copy_and_only_the_pass_brought_back, BY_LEDGER),
    Row(cheats.a_job_is_repeated_on_a_copy_and_brought_back_with_its_ledger, BY_LEDGER),
    Row(cheats.a_job_is_signed_with_a_passphrase_that_two_people_share, BY_NONE),
    Row(cheats.another_units_readings_are_typed_again, BY_NONE),
    Row(cheats.readings_are_invented, BY_NONE),
    Row(cheats.the_sequence_file_is_swapped_after_the_run, TOLD_BY_LEDGER, "harmless: a job keeps its own text"),
)
FURTHER: Sequence[Row] = (
    Row(cheats.everything_after_an_edit_is_written_anew, (NOTHING, NOTHING, CAUGHT, CAUGHT)),
    Row(cheats.the_signatures_that_this_breaks_are_taken_away, (NOTHING, NOTHING, REMARK, CAUGHT), "unsigned"),
    Row(cheats.ones_newest_job_is_written_anew_before_anybody_signs_again, BY_HEAD),
    Row(cheats.a_sign_off_is_written_past_the_gate, BY_LEDGER, "with `--gate`, or when the job is named"),
)


def seen_at_each_level(spoilt: SmallShop, sound: SmallShop) -> tuple[Seen, Seen, Seen, Seen]:
    """Look at a spoilt copy as each level does, beside a sound one."""
    return (
        _journals_alone(spoilt),
        _by_verify(_without_signatures(spoilt), _without_signatures(sound)),
        _by_verify(spoilt, sound, "--signers", str(spoilt.signers)),
        _by_verify(spoilt, sound, "--signers", str(spoilt.signers), "--head", spoilt.noted_head),
    )


def as_markdown(rows: Sequence[Row], *, counted: bool = False) -> str:
    """A table for the README, with a row of counts at its end where that is wanted."""
    table = [["cheat", *LEVELS, ""], ["---"] * 6]
    table += [[row.says, *(word.value for word in row.words), row.why] for row in rows]
    if counted:
        table.append([f"**caught, of {len(rows)}**", *_counts(rows, CAUGHT), ""])
        table.append(["**told in a remark**", *_counts(rows, REMARK), ""])
    return "\n".join(f"| {' | '.join(cells)} |".replace("|  |", "| |") for cells in table)


def readme_tables(the_list: Sequence[Row] = THE_LIST, further: Sequence[Row] = FURTHER) -> str:
    """Both tables, as the README has them between its two marks."""
    return f"{as_markdown(the_list, counted=True)}\n\nAnd what goes further:\n\n{as_markdown(further)}"


def _counts(rows: Iterable[Row], word: Word) -> list[str]:
    return [f"**{sum(row.words[level] is word for row in rows)}**" for level in range(len(LEVELS))]


def _journals_alone(shop: SmallShop) -> Seen:
    """Each journal by its own hashes; nothing else is looked at."""
    for path in sorted(shop.logs.glob("jobs/*/*.jsonl")):
        file = read_journal(path)
        if file.state is not State.WHOLE:
            return Seen(CAUGHT, f"{path.name}, {file.fault}")
    return Seen(NOTHING)


def _by_verify(spoilt: SmallShop, sound: SmallShop, *how: str) -> Seen:
    """What `passcheck verify` says of the spoilt shop and not of the sound one."""
    status, found = _verify(spoilt, how)
    faults = [fault for one in found["verify"] if one["standing"] in BROKEN for fault in one["faults"]]
    faults += [sentence for one in found["verify"] for sentence in one["against"] or ()]
    faults += found["ledger"]["faults"]
    faults += [head["sentence"] for head in found.get("heads", ()) if not head["held"]]
    assert bool(faults) == (status > STATUS_OF_SOUND), (status, faults)
    if faults:
        return Seen(CAUGHT, faults[0])
    usual = {_of_any_job(remark) for remark in _remarks(_verify(sound, how)[1])}
    new = [remark for remark in _remarks(found) if _of_any_job(remark) not in usual]
    return Seen(REMARK, new[0]) if new else Seen(NOTHING)


def _verify(shop: SmallShop, how: Iterable[str]) -> tuple[int, dict[str, Any]]:
    """Exit status and answer of the command itself."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        status = main(["--logs", str(shop.logs), "--sequences", str(shop.boards), "verify", "--json", "--gate", *how])
    found: dict[str, Any] = json.loads(out.getvalue())
    return status, found


def _remarks(found: dict[str, Any]) -> list[str]:
    return [*(remark for one in found["verify"] for remark in one["remarks"]), *found["remarks"]]


def _of_any_job(sentence: str) -> str:
    """A sentence without the number of the job: of a job that the sound shop hasn't got it is the same one."""
    return re.sub(r"A31-\d{4}", "JOB", sentence)


def _without_signatures(shop: SmallShop) -> SmallShop:
    """The same bench in a shop that doesn't sign."""
    copy = shop.copied(shop.bench.with_name(f"{shop.bench.name}-unsigned"))
    for path in (*copy.logs.glob("jobs/*/*.sig"), copy.logs / "allowed_signers"):
        path.unlink(missing_ok=True)
    return copy

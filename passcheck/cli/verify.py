"""Can the records of these jobs still be believed?"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from passcheck.cli.clock import now
from passcheck.cli.folders import Folders
from passcheck.cli.say import complain, practice_mark, say, say_json, say_practice
from passcheck.cli.wire import board_folder, log_folder
from passcheck.errors import BenchFailed, FileFault
from passcheck.records.board_folder import BoardFolder
from passcheck.records.clock_order import set_back
from passcheck.records.journal_file import State
from passcheck.records.ledger import HEAD_CODE_DIGITS
from passcheck.records.noted_head import Asked, NotedHead, ask_ledgers
from passcheck.records.shop import JOURNAL, LogFolder
from passcheck.records.signed import Kind, signature_remark
from passcheck.records.signers import ALLOWED
from passcheck.records.verified import (
    Looked,
    Standing,
    Verified,
    VerifiedLedger,
    Verifier,
    remarks_on_folder,
    verify_ledger,
)
from passcheck.sequence.load import digest

if TYPE_CHECKING:  # the gate is loaded where it is asked
    from passcheck.cli.verify_gate import GateAgain

STATUS = {Standing.SEALED: 0, Standing.OPEN: 10, Standing.TORN: 11, Standing.ALTERED: 12, Standing.UNKNOWN: 13}
LEDGER_STATUS = {None: 0, State.WHOLE: 0, State.TORN: STATUS[Standing.TORN], State.ALTERED: STATUS[Standing.ALTERED]}
WRONG_USE, UNREADABLE = 2, 3
COLUMN = 2 + max(len(standing.value) for standing in Standing)
NO_LEDGER = "none yet"
UNSIGNED = "Nobody signed it."
ANY_LETTER = "A"
"""A ledger is begun with the bench's letter, and nothing is begun here: records are looked at without a bench.yaml."""


def verify(
    asked: Sequence[str],
    folders: Folders,
    *,
    practice: bool,
    as_json: bool,
    signers: str | None = None,
    heads: Sequence[NotedHead] = (),
    gate: bool = False,
) -> int:
    """Print how each job and the ledger stand; give the exit status. Nothing is written, locked or mended.

    Args:
        asked: job numbers; none stands for every job of the folder.
        folders: where records and sequences lie.
        practice: look at the jobs of practice.
        as_json: print one JSON object.
        signers: the list of who may sign; else `allowed_signers` of the logs folder, where there is one.
        heads: what somebody noted of the ledger.
        gate: walk every sealed job through the gate again; jobs that are named are in any case.

    Raises:
        FileFault: that list isn't there.
        BenchFailed: the ledger or a folder can't be read.
    """
    keys = _signers(folders, signers)
    logs = log_folder(folders, ANY_LETTER, now, practice=practice)
    verifier = Verifier(logs)
    wanted = tuple(dict.fromkeys(job.upper() for job in asked)) or verifier.jobs()
    wrong = [job for job in wanted if not verifier.knows(job)]
    for job in wrong:
        complain(f"passcheck verify: there is no job {job[:40]!a} here. 'passcheck jobs' lists them.")
    if wrong:
        return WRONG_USE
    # Practice walks short sheets of a board, and no file holds those.
    todays, signatures = None if practice else TodaysFiles(board_folder(folders)), Signatures(logs, keys)
    again = _gate(logs) if gate or asked else None
    looks = _looks(verifier, wanted, todays, Clocks(logs, named=bool(asked)), signatures, again)
    found = list(looks) if as_json else list(_told(looks, practice=practice))
    ledger, kept = verify_ledger(logs), logs.ledger.read() if heads else ()
    answers = [ask_ledgers(kept, head) for head in heads]
    dates = set_back(logs.ledger.path.name, logs.ledger.read_bytes())
    remarks = (*signatures.slips, *dates, *(() if asked else remarks_on_folder(logs)))
    if as_json:
        beside = {"ledger": _ledger_item(ledger), "remarks": list(remarks)} | _heads_item(answers)
        items = [_item(one) | (_gate_item(one) if again is not None else {}) for one in found]
        say_json("verify", items, **beside, **practice_mark(practice))
    else:
        counts = () if asked else (_counts(found), *((again.counted(found),) if again is not None else ()))
        _say_whole((*remarks, *counts), ledger, answers)
    if len(found) < len(wanted):
        return UNREADABLE
    gone = [STATUS[Standing.ALTERED] for answer in answers if answer.size is None]
    return max(LEDGER_STATUS[ledger.state], *gone, *map(_status, found), 0)


def _status(one: Verified) -> int:
    """A release that its own events don't bear out costs a customer what an altered record does."""
    return max(STATUS[one.standing], STATUS[Standing.ALTERED] if one.against else 0)


def _gate(logs: LogFolder) -> "GateAgain":
    from passcheck.cli.verify_gate import GateAgain

    return GateAgain(logs)


class TodaysFiles:
    """The sequences of the folder as they are today, beside those that jobs keep."""

    def __init__(self, folder: BoardFolder) -> None:
        """Read the folder. Raises BenchFailed when it can't be read."""
        boards = [board for board in folder.listed() if board.sequence is not None]
        self._read = folder.read
        self._digests = {board.digest for board in boards}
        self._revisions = {board.name: board.sequence.revision for board in boards if board.sequence is not None}

    def remarks(self, text: str) -> tuple[str, ...]:
        """Whether today's file is another than this text of a job; the job goes by its own, so that harms nothing."""
        if digest(text) in self._digests:
            return ()
        try:
            kept = self._read(text)
        except FileFault:
            return ("The sequence that the job keeps can't be read by this version of passcheck.",)
        board, today = f"{kept.sequence} rev {kept.revision}", self._revisions.get(kept.sequence)
        if today is None:
            return (f"{board}: there is no file of this board today to compare with.",)
        if today != kept.revision:
            return (f"{board}: today's file is rev {today}.",)
        return (f"{board}: today's file differs from the text that this job was walked by.",)


class Clocks:
    """Where the dates within a journal go back."""

    def __init__(self, logs: LogFolder, *, named: bool) -> None:
        """Args: logs: where the journals lie; named: the jobs were asked for by name."""
        self._logs, self._named = logs, named

    def remarks(self, one: Verified) -> tuple[str, ...]:
        """A sealed journal costs one pass of SHA-256, and a shop has thousands: its lines are walked for who names it.

        The ledger is looked at in any case, and it has a line of every opening, every fail and every seal.
        """
        if one.standing is Standing.ALTERED or (one.standing is Standing.SEALED and not self._named):
            return ()
        return set_back(f"{one.job}{JOURNAL}", self._logs.journal_bytes(one.job) or b"")


class Signatures:
    """What the signatures beside the journals are worth."""

    def __init__(self, logs: LogFolder, signers: Path | None) -> None:
        """Args: logs: where the journals lie; signers: who may sign, None where no list says so."""
        self._logs, self._signers = logs, signers
        self.slips: tuple[str, ...] = ()
        """What is wrong in the lists of keys, known once a signature was looked at."""

    def added(self, looked: Looked) -> Verified:
        """The job with what its signature says: a broken one takes the trust from it, any other is a remark."""
        one = looked.verified
        if not one.digest:
            return one
        journal = self._logs.journal_path(one.job)
        signed = signature_remark(journal, self._signers, looked.sealed_at, person=looked.sealed_by)
        self.slips = signed.slips or self.slips
        if signed.kind is Kind.UNSIGNED:
            return replace(one, remarks=(*one.remarks, UNSIGNED)) if one.standing is Standing.SEALED else one
        if signed.altered:
            return replace(one, standing=Standing.ALTERED, faults=(*one.faults, signed.sentence))
        return replace(one, remarks=(*one.remarks, signed.sentence))


def _signers(folders: Folders, named: str | None) -> Path | None:
    """The list of who may sign. Raises FileFault when one was named and isn't there."""
    if named is None:
        own = folders.logs / ALLOWED
        return own if own.exists() else None
    if not Path(named).is_file():
        raise FileFault(f"{named}: there is no such list of signers. Name the file that the lead keeps.")
    return Path(named)


def _looks(
    verifier: Verifier,
    jobs: Sequence[str],
    todays: TodaysFiles | None,
    clocks: Clocks,
    signatures: Signatures,
    gate: "GateAgain | None",
) -> Iterator[Verified]:
    """Each job with the remarks on it; one whose files can't be read is told and left out, and hides no other."""
    for job in jobs:
        try:
            looked = verifier.look(job)
            dates = clocks.remarks(looked.verified)
            one = looked.verified if gate is None else gate.asked(looked)
            beside = todays.remarks(looked.sequence) if todays is not None and looked.sequence is not None else ()
            one = replace(one, remarks=(*one.remarks, *dates, *beside))
            signed = signatures.added(replace(looked, verified=one))
        except BenchFailed as fault:
            complain(str(fault))
        else:
            yield signed


def _told(looks: Iterator[Verified], *, practice: bool) -> Iterator[Verified]:
    """Print each job when it was looked at: a large shop takes its time."""
    if practice:
        say_practice()
    for one in looks:
        _say_line(one.job, one.standing.value, one.digest, (*one.faults, *(one.against or ()), *one.remarks))
        yield one


def _say_line(what: str, stands: str, digest: str, sentences: Sequence[str]) -> None:
    say(f"{what:<11}{stands:<{COLUMN}}{digest[:HEAD_CODE_DIGITS]}")
    for sentence in sentences:
        say(sentence, indent=4)


def _say_whole(sentences: Sequence[str], ledger: VerifiedLedger, answers: Sequence[Asked]) -> None:
    for sentence in sentences:
        say(sentence)
    state, digest = (NO_LEDGER, "") if ledger.state is None else (ledger.state.value, ledger.digest)
    _say_line("ledger", state, digest, (*ledger.faults, *(answer.sentence for answer in answers)))


def _counts(found: Sequence[Verified]) -> str:
    if not found:
        return "No jobs yet."
    counts = Counter(one.standing for one in found)
    told = ", ".join(f"{counts[standing]} {standing.value}" for standing in Standing if counts[standing])
    return f"{len(found)} job{'s' if len(found) > 1 else ''}: {told}."


def _item(one: Verified) -> dict[str, object]:
    return {
        "job": one.job,
        "standing": one.standing.value,
        "digest": one.digest or None,
        "faults": list(one.faults),
        "remarks": list(one.remarks),
    }


def _gate_item(one: Verified) -> dict[str, object]:
    """A member that is there when the gate was asked; null for a job that has not ended, or that can't be walked."""
    return {"against": None if one.against is None else list(one.against)}


def _ledger_item(ledger: VerifiedLedger) -> dict[str, object]:
    return {
        "standing": NO_LEDGER if ledger.state is None else ledger.state.value,
        "bytes": ledger.size,
        "digest": ledger.digest,
        "head": ledger.digest[:HEAD_CODE_DIGITS],
        "faults": list(ledger.faults),
    }


def _heads_item(answers: Sequence[Asked]) -> dict[str, object]:
    """A member that is there when heads were asked about."""
    told = [
        {"head": str(answer.head), "bytes": answer.size, "held": answer.size is not None, "sentence": answer.sentence}
        for answer in answers
    ]
    return {"heads": told} if answers else {}

"""Was anything lost of a small job that was walked on a disk whose power failed?

A `Teller` tells a story to the records and counts what they acknowledged. `found_after` opens a job as the next start
of the program does, says what is missing or wrong, and tells the rest of the story.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from crashing_disk import CrashingDisk, State
from journal_lines import AT, stamp

from passcheck.errors import PasscheckError
from passcheck.job.ending import is_failure, is_seal
from passcheck.job.journal_line import Line
from passcheck.records.agreement import entries
from passcheck.records.job_journal import JobJournal
from passcheck.records.shop import LogFolder
from passcheck.records.stamp import RECORDS

JOB = "A31-0001"

Happened = tuple[str, Mapping[str, object]]
"""An event's tag and its facts."""
Batch = tuple[Happened, ...]
"""What is handed to the records in one call."""


def attempt(number: int, step: str, value: str, verdict: str) -> Happened:
    """A reading and what was said of it."""
    return "attempt judged", {"attempt": number, "step": step, "judgement": {"value": value, "verdict": verdict}}


SMALL_JOB: Sequence[Batch] = (
    (("job opened", {"serial": "7Q22051", "sequence_text": "sequence: OV-24P\nsteps: []\n"}),),
    (("run started", {"purpose": "as-found", "instruments": [["voltmeter", "M1"]]}),),
    (("caution acknowledged", {"caution": "fault-current", "fact": "0.50 A"}), ("energised", {"supply": "battery"})),
    (attempt(1, "rail-5v", "4.98 V", "pass"),),
    (attempt(2, "ripple-5v", "142 mV", "fail"),),
    (("made safe", {"points": [["C3", "0.02 V"]]}), ("run closed", {})),
    (("rework logged", {"blocks": ["PWR"], "parts": ["C3"], "action": "replaced"}),),
    (("run started", {"purpose": "acceptance", "instruments": [["voltmeter", "M1"]]}),),
    (attempt(3, "ripple-5v", "18 mV", "pass"), ("note added", {"text": "gemessen an TP4, 20 MHz, warm: häß \u2028"})),
    (("signed off", {"by": "t7", "serial": "7Q22051"}),),
)

BRIEF_JOB: Sequence[Batch] = (SMALL_JOB[0], SMALL_JOB[4], SMALL_JOB[-1])
"""An opening, a fail and the sign-off: all that the ledger has to know."""


@dataclass
class Teller:
    """Who tells a story to the records, batch by batch, and counts the events that were acknowledged."""

    story: Sequence[Batch]
    acknowledged: int = 0
    writer: JobJournal | None = None
    events: tuple[Happened, ...] = field(init=False)

    def __post_init__(self) -> None:
        self.events = tuple(event for batch in self.story for event in batch)

    def begin(self, logs: LogFolder) -> None:
        """Open the job. Raises what the records raise."""
        event, facts = self.events[0]

        def first(job: str, position: tuple[int, str]) -> Line:
            where = {"job": job, "ledger_bytes": position[0], "ledger_digest": position[1]}
            return told(0, event, {**facts, **where})

        _, self.writer = logs.new_job(first)
        self.acknowledged = 1

    def go_on(self, kept: int) -> None:
        """Tell all that comes after so many events. Raises what the records raise."""
        writer = self.writer
        assert writer is not None
        before = 0
        for batch in self.story:
            rest = batch[max(0, kept - before) :]
            before += len(batch)
            lines = [told(number, *one) for number, one in enumerate(rest, writer.next_number)]
            if lines:
                fails, seals = any(is_failure(line) for line in lines), is_seal(lines[-1])
                writer.append(lines, fail=fails, seal=seals)
                self.acknowledged = max(self.acknowledged, before)

    def tell(self, logs: LogFolder) -> None:
        """The whole story. Raises what the records raise."""
        self.begin(logs)
        self.go_on(1)

    def stop(self) -> None:
        """Let go of the job."""
        if self.writer is not None:
            self.writer.close()


def told(number: int, event: str, facts: Mapping[str, object]) -> Line:
    """An event as a line by technician t7."""
    return Line(number, AT, "t7", 1_575_552 + number, event, facts)


@dataclass(frozen=True)
class Found:
    """How a job was found: events lost of those acknowledged, and what else is wrong; "" when nothing is."""

    lost: int
    wrong: str

    @property
    def well(self) -> bool:
        """Whether nothing is lost and nothing is wrong."""
        return not self.lost and not self.wrong


@dataclass(frozen=True)
class Moment:
    """The disk before one call, and how many events were acknowledged by then."""

    call: str
    state: State
    acknowledged: int


def moments_of(disk: CrashingDisk, teller: Teller, act: Callable[[], object]) -> list[Moment]:
    """Do something, and give the moments before each call that changes the disk, and the one after the last."""
    moments: list[Moment] = []

    def note(call: str) -> None:
        moments.append(Moment(call, disk.state, teller.acknowledged))

    disk.watch = note
    act()
    note("the end")
    disk.watch = None
    return moments


def moments_of_a_walk(root: Path, story: Sequence[Batch] = SMALL_JOB) -> list[Moment]:
    """The moments of a whole job that nothing disturbs."""
    disk, teller = CrashingDisk(root), Teller(story)
    moments = moments_of(disk, teller, lambda: teller.tell(LogFolder(root, "A", disk=disk, stamp=stamp)))
    teller.stop()
    return moments


class Recovery:
    """The next start of the program: it opens the job, looks at it, and goes on to its end."""

    def __init__(
        self,
        root: Path,
        disk: CrashingDisk,
        acknowledged: int,
        story: Sequence[Batch] = SMALL_JOB,
        logs: LogFolder | None = None,
    ) -> None:
        """Nothing is opened yet.

        Args:
            root: the logs folder.
            disk: what the start finds.
            acknowledged: so many events of the story were acknowledged before.
            story: the whole of it.
            logs: the folder as the program before knows it, where the program itself lives on.
        """
        self.disk = disk
        self.teller = Teller(story, acknowledged)
        self.seen = Found(acknowledged, "nobody has looked yet")
        self._root = root
        self._first = logs

    def look(self) -> Found:
        """Open, look, go on, look again; what is wrong on the way is said and not raised."""
        before = self.teller.acknowledged
        try:
            self.seen = self._found()
        except PasscheckError as refusal:
            self.seen = Found(before, str(refusal))
        finally:
            self.teller.stop()
        return self.seen

    def _found(self) -> Found:
        logs, teller = self._first or self._logs(), self.teller
        before = teller.acknowledged
        if before or JOB in logs.job_ids():
            teller.writer, lines = logs.open_job(JOB)
            kept = [_without_place(line) for line in lines if line.by != RECORDS]
            same = sum(one == other for one, other in zip(kept, teller.events, strict=False))
            if same < max(before, len(kept)):
                return Found(max(0, before - same), f"{len(kept)} events are there, {same} of them as they were told")
            teller.acknowledged = len(kept)
        else:
            teller.begin(logs)
        if wrong := self._wrong(logs):
            return Found(0, wrong)
        teller.go_on(teller.acknowledged)
        return Found(0, self._wrong(logs) or self._wrong(self._logs()))

    def _wrong(self, logs: LogFolder) -> str:
        if faults := logs.intact(JOB):  # a torn journal or ledger is among them
            return " ".join(faults)
        ledger = logs.ledger.file()
        named = {entry.job for entry in entries(ledger.lines if ledger else ())}
        if without := named - set(logs.job_ids()):
            return f"the ledger names {', '.join(sorted(without))}, which has no journal"
        return ""

    def _logs(self) -> LogFolder:
        return LogFolder(self._root, "A", disk=self.disk, stamp=stamp)


def found_after(root: Path, image: State, acknowledged: int, story: Sequence[Batch] = SMALL_JOB) -> Found:
    """How the next start of the program finds a job on this disk."""
    return Recovery(root, CrashingDisk(root, image), acknowledged, story).look()


def _without_place(line: Line) -> Happened:
    """The event alone: lines after a mended or moved place have other numbers, and the place in the ledger is told."""
    told_by_records = ("job", "ledger_bytes", "ledger_digest")
    return line.event, {name: fact for name, fact in line.data.items() if name not in told_by_records}

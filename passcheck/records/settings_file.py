"""Who and what is at this bench, as its files have it now?

`bench.yaml` is for people: written once, then edited by hand or entry by entry. `bench.json` is the program's own.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

from passcheck.errors import FileFault
from passcheck.job.carried import Carried
from passcheck.job.kept_block import KeptBlock
from passcheck.job.kept_latency import KeptLatency
from passcheck.job.settings import BenchSettings
from passcheck.records.bench_edit import Section, with_due, with_entry
from passcheck.records.bench_memory import WAIT_FOR_OTHERS_S, Memory, MemoryFile, carried_on
from passcheck.records.bench_starter import FIRST_LETTER, starter_text
from passcheck.records.bench_text import settings_of
from passcheck.records.disk import Disk, FileFacts
from passcheck.records.lock import take_lock
from passcheck.records.remedy import ask_disk
from passcheck.records.whole_file import write_whole

MOST_BLOCKS = 40
"""More blocks than the people of a bench tap in a day."""
BY_HAND = "Write it by hand, then look at it with 'passcheck bench show'."


class BenchFiles:
    """bench.yaml and bench.json of one logs folder."""

    def __init__(self, folder: Path, today: date, *, disk: Disk | None = None) -> None:
        """Nothing is read or made yet; `today` dates the examples of a file that has to be made."""
        self.path = folder / "bench.yaml"
        self._today = today
        self._disk = disk or Disk()
        self._memory = MemoryFile(folder / "bench.json", self._disk)
        self._read: tuple[FileFacts, BenchSettings] | None = None

    def make(self, letter: str = FIRST_LETTER) -> bool:
        """Write bench.yaml with its examples where there is none; True when it was written.

        `letter` begins the bench's job numbers.

        Raises:
            BenchFailed: the disk refuses.
        """
        if ask_disk(lambda: self._disk.facts_behind(self.path), self.path) is not None:
            return False
        write_whole(self.path, starter_text(self._today, letter).encode(), self._disk)
        return True

    def read(self) -> BenchSettings:
        """The settings as they are now; those of the first day where no file was made yet.

        Raises:
            FileFault: one of the two files can't be used; the text says where and why.
            BenchFailed: it can't be read.
        """
        facts = ask_disk(lambda: self._disk.facts_behind(self.path), self.path)
        if facts is None:
            settings = settings_of(starter_text(self._today), str(self.path))
        elif self._read is not None and self._read[0] == facts:
            settings = self._read[1]
        else:
            settings = settings_of(self._text(), str(self.path))
            self._read = facts, settings
        memory = self._memory.read()
        measured = {"pin_hashes": dict(memory.pins), "latency": memory.latency, "tap_key": memory.tap_key}
        return settings.model_copy(update=measured)

    def carried(self, day: date) -> Carried:
        """What was carried over on that day; nothing on another."""
        return carried_on(self._memory.read(), day)

    def carry(self, day: date, carried: Carried) -> None:
        """Keep what the next run of the day starts with."""
        self._memory.change(lambda memory: replace(memory, day=day.isoformat(), carried=carried))

    def keep_pin(self, person: str, kept: str) -> None:
        """Keep the hash of a person's PIN in place of an earlier one.

        Raises:
            FileFault: there is no such person.
        """
        if person not in self.read().people:
            raise FileFault(f"'{person}' is not among the people in {self.path}. 'passcheck bench show' lists them.")
        self._memory.change(lambda memory: replace(memory, pins={**memory.pins, person: kept}))

    def keep_latency(self, kept: KeptLatency) -> None:
        """Keep what was filmed, in place of an earlier figure."""
        self._memory.change(lambda memory: replace(memory, latency=kept))

    def keep_tap_key(self, key: str) -> None:
        """Keep which key or pedal taps, in place of an earlier one."""
        self._memory.change(lambda memory: replace(memory, tap_key=key))

    def blocks(self) -> tuple[KeptBlock, ...]:
        """The blocks of reference trials that were kept, the oldest first."""
        return self._memory.read().blocks

    def keep_block(self, block: KeptBlock) -> None:
        """Keep a block beside the others of its day; those of other days go."""

        def kept(memory: Memory) -> Memory:
            same_day = (one for one in memory.blocks if one.day == block.day)
            return replace(memory, blocks=(*same_day, block)[-MOST_BLOCKS:])

        self._memory.change(kept)

    def add(self, section: Section, key: str, members: Mapping[str, object]) -> None:
        """Put an entry into bench.yaml and leave the rest of its text as it stands.

        Raises:
            FileFault: the file would not be good with it; it stays as it was.
        """
        self._edit(section, key, lambda text: with_entry(text, section, key, members))

    def set_due(self, instrument: str, due: date) -> None:
        """Enter another calibration due date.

        Raises:
            FileFault: there is no such instrument.
        """
        self._edit("instruments", instrument, lambda text: with_due(text, instrument, due))

    def _edit(self, section: Section, key: str, change: Callable[[str], str]) -> None:
        """Change the text of one entry, and make sure that the file says the same of everything else."""
        self.make()
        refusal = f"{self.path} is being edited by another passcheck. Try again."
        lock = take_lock(self.path.with_suffix(".lock"), refusal, wait_s=WAIT_FOR_OTHERS_S)
        try:
            text = self._text()
            before = settings_of(text, str(self.path))
            changed = change(text)
            if _without(self._good(changed), section, key) != _without(before, section, key):
                raise FileFault(f"{self.path} stays as it was: the change would touch its neighbours. {BY_HAND}")
            write_whole(self.path, changed.encode(), self._disk)
        finally:
            lock.release()

    def _good(self, changed: str) -> BenchSettings:
        try:
            return settings_of(changed, "the new entry")
        except FileFault as wrong:
            raise FileFault(
                f"{self.path} stays as it was; with the new entry it would not be good:\n{wrong}"
            ) from wrong

    def _text(self) -> str:
        raw = ask_disk(lambda: self._disk.read_behind(self.path), self.path)
        try:
            return raw.decode("utf-8")
        except UnicodeDecodeError:
            settings_of(raw, str(self.path))  # names the place
            raise


def _without(settings: BenchSettings, section: Section, key: str) -> BenchSettings:
    """The settings with one entry left out, to compare what is around it."""
    entries: Mapping[str, object] = getattr(settings, section)
    return settings.model_copy(update={section: {name: it for name, it in entries.items() if name != key}})

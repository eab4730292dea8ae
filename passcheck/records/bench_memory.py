"""What does the program itself keep beside bench.yaml?

`bench.json`: PIN hashes, what today's runs hand on, and what was measured of the machine. Members that this
version doesn't know are kept. A damaged file is a loud error, because PINs must not vanish without a word.
"""

import json
import math
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from passcheck.errors import FileFault
from passcheck.job.carried import Carried
from passcheck.job.kept_block import KeptBlock
from passcheck.job.kept_latency import KeptLatency
from passcheck.records.disk import Disk, FileFacts
from passcheck.records.lock import take_lock
from passcheck.records.remedy import ask_disk
from passcheck.records.whole_file import make_room, write_whole

MEMORY_FORMAT = 1
LARGEST = 1024 * 1024
WAIT_FOR_OTHERS_S = 5.0
"""Another passcheck holds the file for one small write."""
NOTHING = Carried({})


@dataclass(frozen=True, slots=True)
class Memory:
    """What bench.json holds.

    PIN hashes by person, what was carried over and on which day, the latency, the tap key, blocks of reference trials,
    and what this version doesn't know.
    """

    pins: Mapping[str, str] = field(default_factory=dict)
    day: str = ""
    carried: Carried = NOTHING
    latency: KeptLatency | None = None
    tap_key: str | None = None
    blocks: tuple[KeptBlock, ...] = ()
    rest: Mapping[str, Any] = field(default_factory=dict)


class MemoryFile:
    """bench.json, read again only when it looks different."""

    def __init__(self, path: Path, disk: Disk) -> None:
        """Nothing is read or made before it is needed."""
        self.path = path
        self._disk = disk
        self._read: tuple[FileFacts | None, Memory] = (None, Memory())

    def read(self) -> Memory:
        """What the file holds; nothing where there is none.

        Raises:
            FileFault: it can't be read.
        """
        facts = ask_disk(lambda: self._disk.facts_behind(self.path), self.path)
        if facts != self._read[0]:
            self._read = facts, self._decoded(facts)
        return self._read[1]

    def change(self, change: Callable[[Memory], Memory]) -> None:
        """Change what is kept, on what is there now and not on what was read earlier.

        Raises:
            FileFault: what is there can't be read, so it is not overwritten.
            BenchFailed: the disk refuses.
        """
        make_room(self.path.parent, self._disk)
        refusal = f"{self.path} is held by another passcheck. Look for one that hangs, then try again."
        lock = take_lock(self.path.with_suffix(".lock"), refusal, wait_s=WAIT_FOR_OTHERS_S)
        try:
            write_whole(self.path, _encoded(change(self.read())), self._disk)
        finally:
            lock.release()

    def _decoded(self, facts: FileFacts | None) -> Memory:
        if facts is None:
            return Memory()
        try:
            if facts.size > LARGEST:
                raise ValueError("it is larger than 1 MiB")
            return _memory(json.loads(ask_disk(lambda: self._disk.read_behind(self.path), self.path)))
        except (ValueError, KeyError, TypeError, AttributeError, RecursionError) as wrong:
            raise FileFault(
                f"{self.path}: it can't be read, and it keeps the PINs of this bench, so nothing goes on without it. "
                "Put it back from a backup; or move it away and set each PIN again with 'passcheck bench pin PERSON'."
            ) from wrong


def _memory(content: dict[str, Any]) -> Memory:
    if content.pop("format") != MEMORY_FORMAT:
        raise ValueError("written by another version")
    pins, carried, latency = content.pop("pins", {}), content.pop("carried", {}), content.pop("latency", None)
    tap_key, blocks = content.pop("tap_key", None), content.pop("blocks", [])
    return Memory(
        pins={_text(person): _text(kept) for person, kept in pins.items()},
        day=_text(carried.get("day", "")),
        carried=Carried(
            {_text(role): _text(instrument) for role, instrument in carried.get("instruments", {}).items()},
            None if carried.get("ambient_c") is None else _text(carried["ambient_c"]),
        ),
        latency=None if latency is None else _latency(latency),
        tap_key=None if tap_key is None else _text(tap_key),
        blocks=_blocks(blocks) if blocks else (),
        rest=content,
    )


def _latency(kept: dict[str, Any]) -> KeptLatency:
    found = KeptLatency(
        value_s=_text(kept["value_s"]),
        u_s=_text(kept["u_s"]),
        frames=tuple(_text(each) for each in kept["frames"]),
        fps=_text(kept["fps"]),
        day=_text(kept["day"]),
        terminal=_text(kept["terminal"]),
    )
    date.fromisoformat(found.day)
    if not (0 <= float(found.value_s) < 10 and 0 <= float(found.u_s) < 10):
        raise ValueError("no latency of a bench")
    return found


def _blocks(kept: list[Any]) -> tuple[KeptBlock, ...]:
    from pydantic import TypeAdapter  # slow to load, and most starts need no block

    found = TypeAdapter(tuple[KeptBlock, ...]).validate_python(kept)
    if not all(0 < float(block.middle_s) < math.inf for block in found):
        raise ValueError("no delay of a block")
    return found


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError("text is wanted")
    return value


def _encoded(memory: Memory) -> bytes:
    carried = {
        "day": memory.day,
        "instruments": dict(memory.carried.instruments),
        "ambient_c": memory.carried.ambient_c,
    }
    content = {"format": MEMORY_FORMAT, "pins": dict(memory.pins), "carried": carried} | dict(memory.rest)
    if memory.latency is not None:
        content["latency"] = asdict(memory.latency)
    if memory.tap_key is not None:
        content["tap_key"] = memory.tap_key
    if memory.blocks:
        content["blocks"] = [asdict(block) for block in memory.blocks]
    return (json.dumps(content, ensure_ascii=True, indent=2) + "\n").encode()


def carried_on(memory: Memory, day: date) -> Carried:
    """What was carried over on that day; nothing on another."""
    return memory.carried if memory.day == day.isoformat() else NOTHING

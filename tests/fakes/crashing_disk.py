"""A disk in memory whose power may fail at any call: what can be on the medium then?

Bytes and names go to a cache first. `fsync` puts a file's bytes on the medium, `fsync_dir` a folder's names; until then
a power cut keeps any of the sectors that were written and any of the name changes. A *failed* sync forgets which
sectors it was to write, as Linux does: the cache still shows them, and no later sync writes them.

disk = CrashingDisk(folder)
disk.watch = lambda call: points.append(disk.state)    # before every call that changes something
for image in power_cuts(points[7], most=64, chance=random.Random(7)):
    CrashingDisk(folder, image)                         # the disk as the next start of the machine finds it
"""

import errno
import itertools
import random  # noqa: TID251 - handed in, seeded
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from failing_disk import FailingDisk

from passcheck.records.disk import Disk, FileFacts

SECTOR = 64
"""Bytes that a power cut keeps or loses together. Real ones are larger and leave fewer states."""
LEFTOVER = b'"text":"old"},"event":"note added","hash":"4e1f00c2aa7\n"at":"203'
"""What a sector that was never written may still hold of a deleted file: the end of one line and some of the next.
Nothing in it can begin or complete a line. A file system that shows old blocks (none does so by itself) could
leave what looks like a whole line with the wrong hash; such a file counts as altered and is not opened.
"""
FOLDER = 0
"""Stands for a folder where a file has its number."""


@dataclass(frozen=True, slots=True)
class Content:
    """One file: its bytes as programs see them, those on the medium, and the sectors written since the last sync."""

    cached: bytes = b""
    medium: bytes = b""
    unsynced: Mapping[int, int] = field(default_factory=dict)
    """By sector: when it was written, in turns of the disk."""
    changed: int = 0
    """The turn of the last write; stands for the time of the file."""

    def after(self, kept: Iterable[int], size: int, fill: bytes = b"\0") -> bytes:
        """The bytes on the medium when these sectors reached it and the file's length is `size`."""
        room = fill * (size // len(fill) + 1)
        found = bytearray(self.medium[:size] + room[len(self.medium) : size])
        for sector in kept:
            found[sector * SECTOR : (sector + 1) * SECTOR] = self.cached[sector * SECTOR : (sector + 1) * SECTOR]
        return bytes(found)


@dataclass(frozen=True, slots=True)
class NameChange:
    """Names that came, moved or went in one step, with the files they stand for; None where a name went."""

    turn: int
    folder: Path
    names: Mapping[Path, int | None]


@dataclass(frozen=True, slots=True)
class State:
    """Cache and medium at one moment."""

    names: Mapping[Path, int]
    on_medium: Mapping[Path, int]
    changes: tuple[NameChange, ...]
    files: Mapping[int, Content]
    turn: int


class CrashingDisk(Disk):
    """The records' disk in memory, at the same names as a real folder, in which only the lock files are real."""

    def __init__(self, root: Path, state: State | None = None) -> None:
        """An empty disk, or one in a state: after `power_cuts` a new start of the machine, else of the program."""
        self.watch: Callable[[str], None] | None = None
        """Called with the name of each call that changes something, before it does."""
        self._root = root
        self._handles: dict[int, int] = {}
        nothing = State({root: FOLDER}, {root: FOLDER}, (), {}, 1)
        self.state = nothing if state is None else state

    # Names

    def make_folder(self, folder: Path) -> None:
        folder.mkdir(parents=True, exist_ok=True)  # for lock files, which no disk of ours carries
        super().make_folder(folder)

    def is_folder(self, path: Path) -> bool:
        return self.state.names.get(path) == FOLDER

    def make_one_folder(self, folder: Path) -> None:
        self._before("make_one_folder")
        self._name(folder.parent, {folder: FOLDER})

    def names(self, folder: Path) -> tuple[str, ...]:
        return tuple(sorted(path.name for path in self.state.names if path.parent == folder and path != folder))

    def replace(self, source: Path, target: Path) -> None:
        self._before("replace")
        self._name(target.parent, {source: None, target: self._inode(source)})

    def keep(self, path: Path, under: Path) -> None:
        self._before("keep")
        if under in self.state.names:
            raise FileExistsError(errno.EEXIST, "File exists", str(under))
        self._name(under.parent, {under: self._inode(path)})

    def remove(self, path: Path) -> None:
        self._before("remove")
        if path in self.state.names:
            self._name(path.parent, {path: None})

    def fsync_dir(self, folder: Path) -> None:
        self._before("fsync_dir")
        on_medium = dict(self.state.on_medium)
        for change in self.state.changes:
            if change.folder == folder:
                _carry_out(change, on_medium)
        rest = tuple(change for change in self.state.changes if change.folder != folder)
        self.state = replace(self.state, on_medium=on_medium, changes=rest)

    # Bytes

    def create(self, path: Path) -> int:
        self._before("create")
        if not self.is_folder(path.parent):
            raise FileNotFoundError(errno.ENOENT, "No such file or directory", str(path))
        inode = 1 + max(self.state.files, default=FOLDER)
        self._put(inode, Content(changed=self.state.turn))
        self._name(path.parent, {path: inode})
        return self._handle(inode)

    def open(self, path: Path) -> int:
        return self._handle(self._inode(path))

    def write(self, handle: int, data: bytes) -> int:
        self._before("write")
        inode, turn = self._handles[handle], self.state.turn
        file = self.state.files[inode]
        size = len(file.cached)
        touched = range(size // SECTOR, -(-(size + len(data)) // SECTOR))
        unsynced = {**file.unsynced, **{sector: turn + place for place, sector in enumerate(touched)}}
        self._put(inode, replace(file, cached=file.cached + data, unsynced=unsynced, changed=turn))
        self.state = replace(self.state, turn=turn + len(touched))
        return len(data)

    def fsync(self, handle: int) -> None:
        self._before("fsync")
        inode = self._handles[handle]
        file = self.state.files[inode]
        self._put(inode, replace(file, medium=file.after(file.unsynced, len(file.cached)), unsynced={}))

    def forget_unsynced(self, handle: int) -> int:
        """What a failed sync does: the sectors count as written and are not. Gives the file."""
        inode = self._handles[handle]
        self._put(inode, replace(self.state.files[inode], unsynced={}))
        return inode

    def facts(self, handle: int) -> FileFacts:
        return self._facts(self._handles[handle])

    def facts_of(self, path: Path) -> FileFacts | None:
        inode = self.state.names.get(path)
        return None if inode is None else self._facts(inode)

    def close(self, handle: int) -> None:
        del self._handles[handle]

    def read_all(self, path: Path) -> bytes:
        return self.state.files[self._inode(path)].cached

    def _before(self, call: str) -> None:
        if self.watch is not None:
            self.watch(call)
        self.state = replace(self.state, turn=self.state.turn + 1)

    def _inode(self, path: Path) -> int:
        inode = self.state.names.get(path)
        if inode is None:
            raise FileNotFoundError(errno.ENOENT, "No such file or directory", str(path))
        return inode

    def _handle(self, inode: int) -> int:
        handle = 1 + max(self._handles, default=0)
        self._handles[handle] = inode
        return handle

    def _put(self, inode: int, content: Content) -> None:
        self.state = replace(self.state, files={**self.state.files, inode: content})

    def _name(self, folder: Path, names: Mapping[Path, int | None]) -> None:
        change = NameChange(self.state.turn, folder, names)
        now = dict(self.state.names)
        _carry_out(change, now)
        self.state = replace(self.state, names=now, changes=(*self.state.changes, change))

    def _facts(self, inode: int) -> FileFacts:
        file = self.state.files.get(inode, Content())
        links = sum(one == inode for one in self.state.names.values())
        return FileFacts(len(file.cached), links, file.changed, (1, inode))


class RefusingDisk(FailingDisk, CrashingDisk):
    """The same disk, which refuses as the test says; a refused sync has forgotten what it was to write."""

    def __init__(self, root: Path, state: State | None = None) -> None:
        FailingDisk.__init__(self)
        CrashingDisk.__init__(self, root, state)
        self.written_on: list[int] = []
        """Files that were written again after a sync of them had been refused."""
        self._unsyncable: set[int] = set()

    def make_one_folder(self, folder: Path) -> None:
        self._call("make_one_folder")
        super().make_one_folder(folder)

    def names(self, folder: Path) -> tuple[str, ...]:
        self._call("names")
        return super().names(folder)

    def remove(self, path: Path) -> None:
        self._call("remove")
        super().remove(path)

    def write(self, handle: int, data: bytes) -> int:
        taken = super().write(handle, data)
        self.written_on += {self._handles[handle]} & self._unsyncable
        return taken

    def fsync(self, handle: int) -> None:
        try:
            super().fsync(handle)
        except OSError:
            self._unsyncable.add(self.forget_unsynced(handle))
            raise


def power_cuts(state: State, most: int, chance: random.Random) -> Iterator[State]:
    """Each state of the medium that a power cut at this moment may leave, no state twice.

    Every set of the unsynced sectors and name changes may have got through: all sets where there are no more than
    `most`; else the beginnings of what was done, all but one, one alone, and sets that are drawn. In a file whose new
    length got through, lost sectors read as zeros or as what lay there before; in the others they are not there.
    """
    seen: set[tuple[tuple[Path, bytes | None], ...]] = set()
    for through in _sets(_unsynced(state), most, chance):
        for fill in (None, b"\0", LEFTOVER):
            image = _image(state, through, fill)
            content = {path: image.files[inode].cached if inode else None for path, inode in image.names.items()}
            shown = tuple(sorted(content.items()))
            if shown not in seen:
                seen.add(shown)
                yield image


Unsynced = tuple[int, int, int]
"""When it was done, and the file and sector; or the number of a name change, with -1 in place of a file."""


def _unsynced(state: State) -> list[Unsynced]:
    """What a power cut may lose, in the order it was done."""
    sectors = [(turn, inode, sector) for inode, file in state.files.items() for sector, turn in file.unsynced.items()]
    return sorted([*sectors, *((change.turn, -1, place) for place, change in enumerate(state.changes))])


def _sets(done: list[Unsynced], most: int, chance: random.Random) -> Iterator[frozenset[Unsynced]]:
    if 2 ** len(done) <= most:
        chosen = itertools.product((False, True), repeat=len(done))
        yield from (frozenset(itertools.compress(done, each)) for each in chosen)
        return
    every = frozenset(done)
    likely = [
        *(frozenset(done[:size]) for size in range(len(done) + 1)),
        *(every - {one} for one in done),
        *(frozenset({one}) for one in done),
    ]
    chance.shuffle(likely)
    yield from (frozenset(), every, *likely[:most])
    for _ in range(most - len(likely)):
        yield frozenset(one for one in done if chance.random() < 0.5)


def _image(state: State, through: frozenset[Unsynced], fill: bytes | None) -> State:
    """The medium once these got through, as a disk of which everything is synced."""
    names = dict(state.on_medium)
    for place, change in enumerate(state.changes):
        if (change.turn, -1, place) in through:
            _carry_out(change, names)
    top = min(names, key=lambda path: len(path.parts))
    reached = {path: inode for path, inode in names.items() if _is_reached(path, names, top)}
    files = {}
    for inode in set(reached.values()) - {FOLDER}:
        file = state.files[inode]
        kept = [sector for sector, turn in file.unsynced.items() if (turn, inode, sector) in through]
        found = max([len(file.medium), *(min((sector + 1) * SECTOR, len(file.cached)) for sector in kept)])
        data = file.after(kept, found) if fill is None else file.after(kept, len(file.cached), fill)
        files[inode] = Content(data, data, {}, file.changed)
    return State(reached, reached, (), files, state.turn)


def _is_reached(path: Path, names: Mapping[Path, int], top: Path) -> bool:
    """A name is found only where the names of all its folders are; the uppermost is always there."""
    while path != top:
        if path not in names:
            return False
        path = path.parent
    return True


def _carry_out(change: NameChange, names: dict[Path, int]) -> None:
    for path, inode in change.names.items():
        if inode is None:
            names.pop(path, None)
        else:
            names[path] = inode

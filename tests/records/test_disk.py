"""Is evidence read from files alone, whatever else somebody puts under a file's name?"""

import os
import socket
from collections.abc import Callable
from pathlib import Path

import pytest

from passcheck.records.disk import Disk, NotAFileError

DISK = Disk()


def link(path: Path) -> None:
    other = path.with_name("elsewhere")
    other.write_bytes(b"bytes kept elsewhere")
    path.symlink_to(other)


def dead_link(path: Path) -> None:
    path.symlink_to(path.with_name("nowhere"))


def link_to_itself(path: Path) -> None:
    path.symlink_to(path)


def link_to_pipe(path: Path) -> None:
    os.mkfifo(path.with_name("pipe"))
    path.symlink_to(path.with_name("pipe"))


def link_to_device(path: Path) -> None:
    path.symlink_to("/dev/zero")


def pipe(path: Path) -> None:
    os.mkfifo(path)


def folder(path: Path) -> None:
    path.mkdir()


def named_socket(path: Path) -> None:
    with socket.socket(socket.AF_UNIX) as made:
        made.bind(os.path.relpath(path))  # such a name may have a hundred bytes or so


LINKS = (link, dead_link, link_to_itself, link_to_pipe, link_to_device)
OTHERS = (pipe, folder, named_socket)


@pytest.mark.parametrize("put", [*LINKS, *OTHERS])
def test_whatever_is_no_file_is_refused_and_never_waited_for(put: Callable[[Path], None], tmp_path: Path) -> None:
    path = tmp_path / "A31-0001.jsonl"
    put(path)
    what = "link" if put in LINKS else "folder" if put is folder else "pipe or a device"
    with pytest.raises(NotAFileError) as refused:
        DISK.read_all(path)
    assert refused.value.strerror == f"it is a {what} and not a file"


@pytest.mark.parametrize("put", LINKS)
def test_the_facts_under_a_name_are_those_of_the_link_itself(put: Callable[[Path], None], tmp_path: Path) -> None:
    path = tmp_path / "A31-0001.jsonl"
    put(path)
    own, facts = path.lstat(), DISK.facts_of(path)
    assert facts is not None
    assert facts.identity == (own.st_dev, own.st_ino)


def test_what_people_keep_may_be_a_link_and_still_has_to_be_a_file(tmp_path: Path) -> None:
    path = tmp_path / "bench.yaml"
    link(path)
    facts = DISK.facts_behind(path)
    assert DISK.read_behind(path) == b"bytes kept elsewhere"
    assert facts == DISK.facts_of(tmp_path / "elsewhere")
    for put in (dead_link, link_to_pipe, link_to_device):
        path.unlink()
        put(path)
        with pytest.raises(FileNotFoundError if put is dead_link else NotAFileError):
            DISK.read_behind(path)
    assert DISK.facts_behind(tmp_path / "nowhere" / "bench.yaml") is None


def test_a_folder_on_the_way_may_be_a_link(tmp_path: Path) -> None:
    (tmp_path / "other-disk").mkdir()
    (tmp_path / "logs").symlink_to(tmp_path / "other-disk")
    path = tmp_path / "logs" / "A31-0001.jsonl"
    path.write_bytes(b"a line\r\n")
    assert DISK.read_all(path) == b"a line\r\n"
    facts = DISK.facts_of(path)
    assert facts is not None
    assert facts.size == 8


@pytest.mark.parametrize("swapped", ["a link", "a pipe"])
def test_a_name_that_is_swapped_between_the_look_and_the_opening_is_refused(
    swapped: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, sound = tmp_path / "A31-0001.jsonl", tmp_path / "sound"
    sound.write_bytes(b"a line\n")
    path.symlink_to(sound) if swapped == "a link" else os.mkfifo(path)
    seen = os.lstat(sound)
    monkeypatch.setattr(os, "lstat", lambda _path: seen)
    with pytest.raises(OSError, match=r"symbolic links|not a file"):
        DISK.read_all(path)


def test_where_the_system_knows_no_such_opening_the_look_before_it_does(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for flag in ("_NO_LINK", "_NO_WAIT"):
        monkeypatch.setattr(f"passcheck.records.disk.{flag}", 0)
    for put in (link, pipe):
        path = tmp_path / put.__name__
        put(path)
        with pytest.raises(NotAFileError):
            DISK.read_all(path)

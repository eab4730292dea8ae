"""How do tests get a PostgreSQL server that is theirs alone, can go away and come back, and leaves nothing behind?

`initdb` and `pg_ctl` are those of the machine. The server listens on a socket in its own folder and on no network.
It refuses to run as root, so root hands the folder to the account `postgres`, which Debian's package makes.
"""

import os
import re
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

ACCOUNT: Final = "postgres"
BEGUN_WITHIN_S: Final = 60
_SETTINGS: Final = """
listen_addresses = ''
unix_socket_directories = '{folder}'
fsync = off
synchronous_commit = off
full_page_writes = off
max_connections = 20
"""


class NoServerHereError(Exception):
    """The machine has no server program that could be started; the text says what is missing."""


@dataclass(frozen=True, slots=True)
class PostgresServer:
    """One server with one empty database after `begin`; ended with everything in it by `end`."""

    programs: Path
    folder: Path

    @property
    def where(self) -> str:
        """What a client connects with."""
        return self.database("postgres")

    def database(self, name: str) -> str:
        """What a client connects with to another database of this server."""
        return f"host={self.folder} user={ACCOUNT} dbname={name}"

    def start(self) -> None:
        """Let it run; returns when it answers."""
        log = str(self.folder / "log")
        self._run("pg_ctl", "-w", "-t", str(BEGUN_WITHIN_S), "-D", self._data, "-l", log, "start")

    def stop(self, mode: str = "fast") -> None:
        """Take it away; its clients lose their connections. `immediate` is a server that crashes."""
        self._run("pg_ctl", "-w", "-D", self._data, "-m", mode, "stop")

    @property
    def runs(self) -> bool:
        """Whether it is there."""
        return self._asked("pg_ctl", "-D", self._data, "status").returncode == 0

    @property
    def _data(self) -> str:
        return str(self.folder / "data")

    def make(self) -> None:
        """Make its files."""
        if _is_root():
            shutil.chown(self.folder, ACCOUNT, ACCOUNT)
        words = ("-U", ACCOUNT, "-A", "trust", "-E", "UTF8", "--locale=C.UTF-8")
        self._run("initdb", "--no-sync", "-D", self._data, *words)
        with (self.folder / "data" / "postgresql.conf").open("a", encoding="utf-8") as settings:
            settings.write(_SETTINGS.format(folder=self.folder))

    def _run(self, program: str, *words: str) -> None:
        done = self._asked(program, *words)
        if done.returncode:
            raise RuntimeError(f"{program} {' '.join(words)}: {done.stdout}{done.stderr}")

    def _asked(self, program: str, *words: str) -> "subprocess.CompletedProcess[str]":
        # The server outlives pg_ctl and would hold pipes open, so what is said goes to a file.
        as_whom = ("runuser", "-u", ACCOUNT, "--") if _is_root() else ()
        with tempfile.TemporaryFile("w+") as said:
            command = [*as_whom, str(self.programs / program), *words]
            done = subprocess.run(
                command, stdout=said, stderr=said, stdin=subprocess.DEVNULL, cwd=self.folder, check=False
            )
            said.seek(0)
            return subprocess.CompletedProcess(command, done.returncode, said.read(), "")


def _is_root() -> bool:
    return hasattr(os, "getuid") and os.getuid() == 0


def _can_be_another() -> bool:
    from pwd import getpwall

    return shutil.which("runuser") is not None and any(one.pw_name == ACCOUNT for one in getpwall())


def programs() -> Path:
    """The folder of `initdb` and `pg_ctl`, the newest where there are several. Raises NoServerHereError."""
    on_path = shutil.which("pg_ctl")
    if on_path is not None and (beside := Path(on_path).resolve().parent).joinpath("initdb").exists():
        return beside
    found = [one.parent for one in Path("/usr/lib/postgresql").glob("*/bin/initdb") if (one.parent / "pg_ctl").exists()]
    if not found:
        raise NoServerHereError("no initdb and pg_ctl on this machine; Debian's package postgresql has them")
    return max(found, key=_version)


def _version(folder: Path) -> tuple[int, ...]:
    return tuple(int(digits) for digits in re.findall(r"\d+", folder.parent.name))


@contextmanager
def running() -> Iterator[PostgresServer]:
    """A server of one's own, ended whatever happens. Raises NoServerHereError."""
    found = programs()
    if _is_root() and not _can_be_another():
        raise NoServerHereError(f"the server refuses root, and nobody can become the account {ACCOUNT} here")
    # A socket's path may have some hundred bytes, so the folder isn't one of pytest's long ones.
    with tempfile.TemporaryDirectory(prefix="passcheck-pg-", ignore_cleanup_errors=True) as name:
        server = PostgresServer(found, Path(name))
        server.make()
        try:
            server.start()
            yield server
        finally:
            if server.runs:
                server.stop("immediate")

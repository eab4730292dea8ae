"""How does a test get a PostgreSQL server of its own that it may stop, start and throw away?

The server is Debian's own; it listens on a socket in its folder and nowhere else. It refuses to run as root, so that
there it is given to the user `postgres`. `start_server` says why where there is none.
"""

import os
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

MUST = "PASSCHECK_NEEDS_POSTGRES"
"""Set where a missing server is a failure and no reason to leave tests out."""
_USER = "postgres"


class NoServerError(Exception):
    """There is no server on this machine; the text says what is missing."""


@dataclass(frozen=True, slots=True)
class ThrowawayServer:
    """A server in a folder of its own."""

    folder: Path
    programs: Path

    @property
    def address(self) -> str:
        """What a client takes."""
        return f"host={self.folder} user={_USER} dbname=postgres"

    def start(self) -> None:
        """Listen on the socket; returns when it answers."""
        options = f"-c listen_addresses='' -k {self.folder} -c fsync=off"
        self._run(
            "pg_ctl", "-D", str(self.folder / "data"), "-w", "-o", options, "-l", str(self.folder / "log"), "start"
        )

    def stop(self) -> None:
        """Go away at once, as a pulled plug would; what was committed is there again after `start`."""
        self._run("pg_ctl", "-D", str(self.folder / "data"), "-m", "immediate", "-w", "stop")

    def throw_away(self) -> None:
        """Stop, whether or not it runs."""
        if (self.folder / "data" / "postmaster.pid").exists():
            self.stop()

    def make(self) -> None:
        """Make the files of a new server."""
        self._run(
            "initdb", "--no-sync", "-A", "trust", "-U", _USER, "-E", "UTF8", "--locale=C", str(self.folder / "data")
        )

    def _run(self, program: str, *arguments: str) -> None:
        as_user = ["runuser", "-u", _USER, "--"] if os.geteuid() == 0 else []
        # Its own streams: a server that was started keeps those of whoever started it open.
        done = subprocess.run(
            [*as_user, str(self.programs / program), *arguments],
            cwd="/",
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            check=False,
        )
        if done.returncode:
            raise NoServerError(f"{program} ended with {done.returncode}")


def start_server(folder: Path) -> ThrowawayServer:
    """A new server, started in a folder that is empty and short enough for a socket's name. Raises NoServerError."""
    programs = _programs()
    if os.geteuid() == 0:
        shutil.chown(folder, _USER, _USER)
    server = ThrowawayServer(folder, programs)
    server.make()
    server.start()
    return server


def _programs() -> Path:
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda path: int(path.parts[4].split(".")[0]))
    if found:
        return found[-1].parent
    beside = shutil.which("initdb")
    if beside is None:
        raise NoServerError("no initdb on this machine: it comes with Debian's package 'postgresql'")
    return Path(beside).resolve().parent

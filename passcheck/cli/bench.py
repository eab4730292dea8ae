"""Who and what is at this bench, and how is that changed?"""

import argparse
import getpass
import secrets
import sys

from passcheck.cli.bench_show import show_bench
from passcheck.cli.clock import now
from passcheck.cli.close_ledger import close_ledger
from passcheck.cli.folders import Folders
from passcheck.cli.latency import measure_latency
from passcheck.cli.say import complain, say
from passcheck.cli.tap_check import tap_check
from passcheck.cli.wire import bench_files
from passcheck.errors import FileFault
from passcheck.job.pin import pin_hash, pin_matches
from passcheck.records.settings_file import BenchFiles

SHORTEST_PIN = 4
SALT_BYTES = 16


def bench(asked: argparse.Namespace, folders: Folders) -> int:
    """Carry out one act on the bench's settings; give the exit status."""
    if asked.act == "tap-check":
        return tap_check(asked.json)
    files = bench_files(folders)
    if asked.act == "show":
        return show_bench(files.read(), now().local().date(), as_json=asked.json)
    if asked.act == "latency":
        return measure_latency(files)
    if asked.act == "close-ledger":
        return close_ledger(asked, folders, _ask)
    if files.make():
        complain(f"{files.path} was written with examples; replace them by your own people and instruments.")
    match asked.act:
        case "add-person":
            authorised = {"hazardous_live": True} if asked.hazardous_live else {}
            files.add("people", asked.id, {"name": asked.name, "role": asked.role, **authorised})
            say(f"{asked.id} is among the people.")
        case "add-instrument":
            serial = {"serial": asked.serial} if asked.serial else {}
            members = {"title": asked.title, **serial, "due": asked.due, "fills": dict(asked.fills)}
            files.add("instruments", asked.id, members)
            say(f"{asked.id} is among the instruments.")
        case "new-due":
            files.set_due(asked.instrument, asked.due)
            say(f"{asked.instrument}: calibration due {asked.due}.")
        case _:
            return _pin(files, asked.person)
    return 0


def _pin(files: BenchFiles, person: str) -> int:
    """Ask for the PIN twice; who has one already gives it first, so that nobody sets another's."""
    settings = files.read()
    if person not in settings.people:
        raise FileFault(f"'{person}' is not among the people in {files.path}. 'passcheck bench show' lists them.")
    kept = settings.pin_hashes.get(person)
    if kept is not None and not pin_matches(kept, _ask(f"{person}'s present PIN: ")):
        complain(f"That is not {person}'s PIN. Nothing was changed.")
        return 1
    pin = _ask(f"New PIN of {person}: ")
    if len(pin) < SHORTEST_PIN:
        complain(f"A PIN has at least {SHORTEST_PIN} characters. Nothing was changed.")
        return 1
    if _ask("The same again: ") != pin:
        complain("The two are not the same. Nothing was changed.")
        return 1
    files.keep_pin(person, pin_hash(pin, secrets.token_bytes(SALT_BYTES)))
    say(f"{person} is asked for this PIN at the sign-off and as a witness.")
    return 0


def _ask(prompt: str) -> str:
    """A line that is not shown while it is typed; from a pipe, the next line of it."""
    if sys.stdin.isatty():
        return getpass.getpass(prompt)
    return sys.stdin.readline().rstrip("\r\n")

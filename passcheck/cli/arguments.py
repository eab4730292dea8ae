"""Which commands and options are there, and which one was meant?"""

import argparse
import difflib
import re
from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING, NoReturn

if TYPE_CHECKING:  # no start waits for what one option needs
    from passcheck.records.noted_head import NotedHead

COMMANDS = {
    "practice": "learn it on a simulated unit, without any hardware",
    "check": "say what is wrong with sequence files",
    "jobs": "list the jobs of this bench",
    "show": "print a job's card with every attempt",
    "plan": "say which steps to walk next, and why",
    "blockers": "say what stands between a unit and the door",
    "history": "tell a unit's earlier visits, or find words in notes and complaints",
    "verify": "say of each job whether its records can still be believed",
    "paper": "make a job's papers: findings, test record, release note and the others, as pages or as text",
    "sign": "sign a sealed journal with your own Ed25519 key, in OpenSSH's form",
    "export": "give a job's record out: exact, as a table, or as a folder to be checked",
    "archive": "see to the database that is made from all journals",
    "figures": "say what the jobs show together: shares with intervals, returns, margins, parts",
    "judge": "compute limits, uncertainties and statistics, JSON lines in and out",
    "schema": "print the JSON Schema of sequence files, for editors",
    "bench": "show or edit the people and the instruments",
}
MOST_JOBS = 1_000_000
ROLES = ("technician", "lead", "second")
SIZES = ("a4", "letter")
FEWEST_WORDS = 3
LONGEST_STATEMENT = 300
"""It is read on the traveller and at every sign-off of the jobs concerned."""
_UNKNOWN = re.compile(r"invalid choice: ['\"]?(?P<word>[^'\" ]*)['\"]?")
_EPILOG = """\
Without a command the shelf opens.
Exit status: 0 good, 1 the unit or the file is not good, 2 wrong use, 3 the bench failed; verify has more of them.
"""
_VERIFIED = """\
It only reads: nothing is written, locked or mended.
Exit status, the highest of all that was looked at:
   0  sealed: whole, and the ledger knows the seal
  10  open: whole, and not sealed by the ledger's word
  11  torn: the end of a journal or of the ledger was cut short, as by a crash
  12  altered: a journal or the ledger holds, or lacks, what no crash leaves so, or a noted head is gone,
      or a job was signed off or returned although its own events stood against it
  13  unknown to the ledger: whole, and the ledger has no opening of it
or  2  there is no such job;  3  a file can't be read, whatever else was found.
A head is what papers bear of the ledger: 5f3a9c01, or 2381:5f3a9c01 with its number of bytes. Whoever kept a paper
can ask whether the ledger still begins so. Jobs that are named have the dates of all their lines looked at, and what
ended them is put before the gate again.
"""


class _Parser(argparse.ArgumentParser):
    """A parser that names the command which was probably meant."""

    more: Callable[[], str] | None = None  # what its help ends with, made only when somebody asks for it

    def format_help(self) -> str:
        """The usual help, and what there is more to say."""
        return super().format_help() + (f"\n{self.more()}\n" if self.more is not None else "")

    def error(self, message: str) -> NoReturn:
        """End with status 2 and one sentence."""
        unknown = _UNKNOWN.search(message)
        if unknown:
            known = self._names()
            near = difflib.get_close_matches(unknown["word"], known, n=1, cutoff=0.5)
            meant = f"Did you mean '{near[0]}'?" if near else f"There are: {', '.join(known)}."
            message = f"'{unknown['word'][:40]}' is not one of its words. {meant}"
        self.exit(2, f"{self.prog}: {_one_line(message)}\n{self.prog} --help says more.\n")

    def _names(self) -> list[str]:
        known = {"passcheck": COMMANDS, "passcheck paper": SIZES, "passcheck archive": ARCHIVE_ACTS}
        return [*known.get(self.prog, (*BENCH_ACTS, *ROLES))]


ARCHIVE_ACTS = {
    "catch-up": "take in what journals have gained; every question does that by itself",
    "rebuild": "make it anew from all journals; the old one stays until the new one is complete",
    "check": "read all journals anew and say which rows they don't bear out",
    "export": "write every table as a file for a spreadsheet; no cell is a formula",
    "publish": "give the sealed jobs to the archive that several benches share; what is there already stays",
}
SHARED_ACTS = ("check", "rebuild")
"""Acts that can be meant for the shared archive too."""
BENCH_ACTS = ("show", "add-person", "add-instrument", "pin", "tap-check", "latency", "new-due", "close-ledger")


def parser(version: str) -> argparse.ArgumentParser:
    """The parser of the whole command line."""
    top = _Parser(
        prog="passcheck",
        description="Walk a unit through its board's test sequence, keep the evidence; no sign-off before all passed.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    top.add_argument("--version", action="version", version=version)
    _folders(top, default=None)
    commands = top.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)
    for name, says in COMMANDS.items():
        command = commands.add_parser(name, help=says, description=f"{says[0].upper()}{says[1:]}.", allow_abbrev=False)
        # SUPPRESS: given before the command, they must not be undone by their absence after it.
        _folders(command, default=argparse.SUPPRESS)
        _ARGUMENTS.get(name, _of_a_job)(command)
    return top


def _folders(to: argparse.ArgumentParser, default: str | None) -> None:
    to.add_argument("--logs", metavar="FOLDER", default=default, help="the records (else PASSCHECK_LOGS, else ./logs)")
    to.add_argument(
        "--sequences",
        metavar="FOLDER",
        default=default,
        help="the boards' files (else PASSCHECK_SEQUENCES, else ./sequences, else the demo boards)",
    )


def _practise(to: argparse.ArgumentParser) -> None:
    to.add_argument("--board", metavar="NAME", help="the board to practise on (else OV-24P)")
    to.add_argument("--fault", metavar="NAME", help="a unit with this fault; else one is drawn, and told at the end")
    to.add_argument("--whole", action="store_true", help="the board's whole sequence, not a short sheet of it")
    to.add_argument("--no-coach", action="store_true", help="without the line that says what to do next (Ctrl+L)")
    to.add_argument("--auto", action="store_true", help="a robot technician repairs; --logs keeps its journals")
    to.add_argument("--jobs", type=_count, default=100, metavar="N", help="with --auto: how many units (else 100)")
    to.add_argument("--seed", type=int, default=1, metavar="S", help="with --auto: the same seed gives the same units")
    _json(to)


def _json(to: argparse.ArgumentParser) -> None:
    to.add_argument("--json", action="store_true", help="one JSON object, for other programs")


def _practice(to: argparse.ArgumentParser) -> None:
    to.add_argument(
        "--practice", action="store_true", help="of the jobs of practice, which lie apart from the real ones"
    )


def _jobs(to: argparse.ArgumentParser) -> None:
    _practice(to)
    _json(to)


def _of_a_job(to: argparse.ArgumentParser) -> None:
    to.add_argument("job", metavar="JOB", help="a job number, such as A31-0417")
    _practice(to)
    _json(to)


def _shared(to: argparse.ArgumentParser) -> None:
    to.add_argument("--shared", action="store_true", help="of the archive that several benches share")


def _history(to: argparse.ArgumentParser) -> None:
    to.add_argument("serial", metavar="SERIAL", nargs="?", help="the serial number, as it is scanned off the unit")
    to.add_argument(
        "--search", metavar="WORD", nargs="+", help="instead: all of these words, the last may be begun only"
    )
    _shared(to)
    _practice(to)
    _json(to)


def _sign(to: argparse.ArgumentParser) -> None:
    to.add_argument("job", metavar="JOB", help="a job that is sealed, such as A31-0417")
    to.add_argument("--key", metavar="FILE", help="your private key (else PASSCHECK_KEY, else ~/.ssh/id_ed25519)")
    _practice(to)


def _paper(to: argparse.ArgumentParser) -> None:
    to.add_argument("job", metavar="JOB", help="a job number, such as A31-0417")
    to.add_argument(
        "kinds",
        metavar="KIND",
        nargs="*",
        type=_kind,
        help="findings, test-record, release-note, blank-sheet, returned-in-part or returned-unrepaired (else those "
        "that go out as the job stands)",
    )
    to.add_argument("--blank", action="store_true", help="a sheet to fill in by hand")
    to.add_argument("--size", choices=SIZES, help="of the sheets (else as bench.yaml has it)")
    to.add_argument("--to", metavar="FOLDER", help="keep them there instead of below the records")
    form = to.add_mutually_exclusive_group()
    form.add_argument("--text", action="store_true", help="print them as text, and keep nothing")
    form.add_argument("--label", action="store_true", help="print the lines of the unit's label")
    form.add_argument("--scan-both", action="store_true", help="read the unit's serial and its label: do they match?")
    form.add_argument("--json", action="store_true", help="one JSON object, for other programs")
    _practice(to)


def _verify(to: argparse.ArgumentParser) -> None:
    to.formatter_class = argparse.RawDescriptionHelpFormatter
    to.epilog = _VERIFIED
    to.add_argument("jobs", metavar="JOB", nargs="*", help="job numbers, such as A31-0417 (else all jobs)")
    to.add_argument("--signers", metavar="FILE", help="who may sign, in OpenSSH's form (else logs/allowed_signers)")
    to.add_argument(
        "--gate", action="store_true", help="walk every job that ended through the gate again; it takes longer"
    )
    to.add_argument(
        "--head",
        dest="heads",
        metavar="HEAD",
        type=_noted_head,
        action="append",
        default=[],
        help="ask whether the ledger still holds what somebody noted of it; once for each",
    )
    _practice(to)
    _json(to)


def _noted_head(written: str) -> "NotedHead":
    from passcheck.records.noted_head import read_noted_head

    try:
        return read_noted_head(written)
    except ValueError as slip:
        raise argparse.ArgumentTypeError(f"'{written[:40]}': {slip}") from None


def _export(to: argparse.ArgumentParser) -> None:
    to.add_argument("job", metavar="JOB", help="a job number, such as A31-0417")
    form = to.add_mutually_exclusive_group(required=True)
    form.add_argument("--json", action="store_true", help="every line of the journal, nothing cleaned or cut")
    form.add_argument("--csv", action="store_true", help="the attempts, for a spreadsheet; no cell is a formula")
    form.add_argument("--to", metavar="FOLDER", help="make FOLDER/JOB with the record and a note on how to check it")
    _practice(to)


def _archive(to: argparse.ArgumentParser) -> None:
    _jobs(to)
    acts = to.add_subparsers(dest="act", metavar="ACT", parser_class=_Parser)
    for act, says in ARCHIVE_ACTS.items():
        one = acts.add_parser(act, help=says, description=f"{says[0].upper()}{says[1:]}.", allow_abbrev=False)
        if act == "export":
            one.add_argument("folder", metavar="FOLDER", help="where; it is made where it is missing")
        if act in SHARED_ACTS:
            _shared(one)
        # Given before the act, they must not be undone by their absence after it.
        one.add_argument("--practice", action="store_true", default=argparse.SUPPRESS, help="of the jobs of practice")
        one.add_argument("--json", action="store_true", default=argparse.SUPPRESS, help="one JSON object")


def _figures(to: argparse.ArgumentParser) -> None:
    to.add_argument("sequence", metavar="SEQUENCE", nargs="?", help="one board, such as OV-24P (else all boards)")
    to.add_argument("--only", type=_figure, metavar="NAME", help="one figure, such as returns")
    to.add_argument("--until", type=_day, metavar="DATE", help="follow units out up to this day (else today)")
    to.add_argument(
        "--engine", choices=("sqlite", "duckdb"), help="who counts (else DuckDB where it is quicker and installed)"
    )
    _shared(to)
    _practice(to)
    form = to.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="one JSON object, for other programs; no row is left out")
    form.add_argument(
        "--csv", action="store_true", help="with --only: its table, for a spreadsheet; no row is left out"
    )


def _figure(written: str) -> str:
    from passcheck.cli.figures import figure_name

    return figure_name(written)


def _check(to: argparse.ArgumentParser) -> None:
    to.add_argument("files", metavar="FILE", nargs="*", help="sequence files (else all of the sequences folder)")
    _json(to)


def _schema(_to: argparse.ArgumentParser) -> None:
    """It takes nothing: what it prints is JSON already."""


def _judge(to: argparse.ArgumentParser) -> None:
    """It takes nothing: objects come by the standard input."""
    if isinstance(to, _Parser):
        to.more = _computes


def _computes() -> str:
    from passcheck.cli.door.help_text import door_in_words

    return door_in_words()


def _bench(to: argparse.ArgumentParser) -> None:
    acts = to.add_subparsers(dest="act", metavar="ACT", required=True, parser_class=_Parser)
    show = acts.add_parser("show", help="people and instruments as bench.yaml is understood")
    _json(show)
    person = acts.add_parser("add-person", help="enter a person")
    person.add_argument("id", metavar="ID", help="what the records show: initials or a staff number")
    person.add_argument("name", metavar="NAME")
    person.add_argument("--role", choices=ROLES, default="technician")
    person.add_argument("--hazardous-live", action="store_true", help="the shop authorised the person for such work")
    instrument = acts.add_parser("add-instrument", help="enter an instrument")
    instrument.add_argument("id", metavar="ID", help="a short name, such as M4")
    instrument.add_argument("title", metavar="TITLE")
    instrument.add_argument("--serial")
    instrument.add_argument("--due", type=_day, required=True, metavar="DATE", help="the day its calibration falls due")
    instrument.add_argument(
        "--fills",
        type=_fills,
        action="append",
        required=True,
        metavar="ROLE=ACCURACY",
        help="a role it serves in, such as voltmeter='0.5 %% + 3 digits'; once for each",
    )
    pin = acts.add_parser("pin", help="set a person's PIN, asked at the sign-off")
    pin.add_argument("person", metavar="PERSON")
    taps = acts.add_parser("tap-check", help="see how well taps of a key or a pedal are timed")
    taps.add_argument("--json", metavar="FILE", help="write a line a tap there, and FILE.ready when taps are taken")
    acts.add_parser("latency", help="film how long this bench takes from a key to the screen")
    due = acts.add_parser("new-due", help="enter another calibration due date")
    due.add_argument("instrument", metavar="INSTRUMENT")
    due.add_argument("due", type=_day, metavar="DATE")
    close = acts.add_parser("close-ledger", help="answer for a damaged ledger that no backup has, and begin a new one")
    close.add_argument("person", metavar="PERSON", help="a lead of this bench; a technician where it has none")
    close.add_argument(
        "--because",
        type=_statement,
        required=True,
        metavar="TEXT",
        help="what happened, in a sentence; it stays with the jobs that the damage concerns",
    )
    _practice(close)


def _kind(written: str) -> str:
    from passcheck.cli.paper_maker import kind_named
    from passcheck.errors import FileFault

    try:
        return kind_named(written)
    except FileFault as slip:
        raise argparse.ArgumentTypeError(str(slip)) from None


def _count(written: str) -> int:
    if not (written.isdecimal() and 1 <= int(written) <= MOST_JOBS):
        raise argparse.ArgumentTypeError(f"'{written[:40]}' is no number of units; write one from 1 to {MOST_JOBS}")
    return int(written)


def _day(written: str) -> date:
    try:
        return date.fromisoformat(written)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{written[:40]}' is not a day; write year-month-day") from None


def _statement(written: str) -> str:
    """The text as it came; enough of it that somebody can learn from it what happened."""
    words = [word for word in written.split() if any(map(str.isalpha, word))]
    if len(words) < FEWEST_WORDS:
        raise argparse.ArgumentTypeError("what happened is missing; write a sentence that others will understand")
    if len(written) > LONGEST_STATEMENT:
        raise argparse.ArgumentTypeError(f"the statement is longer than {LONGEST_STATEMENT} characters; shorten it")
    return written


def _fills(written: str) -> tuple[str, str]:
    role, equals, accuracy = written.partition("=")
    if not (role.strip() and equals and accuracy.strip()):
        raise argparse.ArgumentTypeError(f"'{written[:40]}': write the role, an equals sign and the accuracy")
    return role.strip(), accuracy.strip()


def _one_line(message: str) -> str:
    """What somebody typed, without anything that acts on the terminal."""
    return "".join(character if character.isprintable() else "?" for character in message)


_ARGUMENTS = {
    "practice": _practise,
    "check": _check,
    "jobs": _jobs,
    "verify": _verify,
    "history": _history,
    "judge": _judge,
    "schema": _schema,
    "export": _export,
    "archive": _archive,
    "figures": _figures,
    "bench": _bench,
    "sign": _sign,
    "paper": _paper,
}

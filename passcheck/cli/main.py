"""Which command was asked for, and how does it end?

Each command is a module of its own, loaded when it is asked for: `--version` and `check` never wait for the screens.
"""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from passcheck.cli.arguments import parser
from passcheck.cli.clock import now
from passcheck.cli.fault_note import keep_trace, sentence
from passcheck.cli.folders import Folders, find_folders
from passcheck.cli.say import complain, steady_output
from passcheck.errors import BenchFailed, FileFault

if TYPE_CHECKING:  # a command that needs no shop never loads it
    from passcheck.bench.ports import Archive
    from passcheck.bench.shop import Shop

GOOD, NOT_GOOD, WRONG_USE, BENCH_FAILED = 0, 1, 2, 3
INTERRUPTED = 130  # 128 and the number of SIGINT, as shells count
ONLY_READ = frozenset({"verify", "check", "schema", "judge"})
"""Commands that leave nothing in the records, not even the trace of a fault of our own."""


def run() -> int:
    """The console command; its result is the exit status."""
    return main(sys.argv[1:])


def main(arguments: list[str]) -> int:
    """Carry out a command line and give its exit status; every message is on the standard error."""
    steady_output()
    try:
        asked = parser(_version(arguments)).parse_args(arguments)
        folders = find_folders(asked.logs, asked.sequences, os.environ, Path.cwd())
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else GOOD
    except FileNotFoundError:
        complain("passcheck: the folder that you stand in is gone. Go to another one, and give the command again.")
        return WRONG_USE
    if not folders.sequences.is_dir():
        complain(f"{folders.sequences}: there is no such folder of sequences.")
        return WRONG_USE
    if folders.logs.exists() and not folders.logs.is_dir():
        complain(f"{folders.logs}: this is no folder, so no records can lie in it.")
        return WRONG_USE
    return _guarded(asked, folders)


def _version(arguments: list[str]) -> str:
    """The version where it is asked for: finding it out costs a look through the installed packages."""
    if "--version" not in arguments:
        return ""
    from passcheck.cli.tool import tool

    return tool()


def _guarded(asked: argparse.Namespace, folders: Folders) -> int:
    try:
        status = _answer(asked, folders)
        sys.stdout.flush()
    except FileFault as fault:
        complain(str(fault))
        return NOT_GOOD
    except BenchFailed as fault:
        complain(str(fault))
        return BENCH_FAILED
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        # Whoever read our output has seen enough. Python would complain once more when it closes the stream.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return GOOD
    except Exception as fault:
        may_write = asked.command not in ONLY_READ
        complain(sentence(fault, keep_trace(folders.logs if may_write else None, fault, now())))
        return BENCH_FAILED
    return status


def _answer(asked: argparse.Namespace, folders: Folders) -> int:
    match asked.command:
        case None:
            from passcheck.cli.shelf import open_shelf

            return open_shelf(folders)
        case "practice":
            from passcheck.cli.practice import practice

            return practice(asked, folders)
        case "check":
            from passcheck.cli.check import check

            return check(asked.files, folders, as_json=asked.json)
        case "schema":
            from passcheck.cli.schema import schema

            return schema()
        case "verify":
            from passcheck.cli.verify import verify

            return verify(
                asked.jobs,
                folders,
                practice=asked.practice,
                as_json=asked.json,
                signers=asked.signers,
                heads=asked.heads,
                gate=asked.gate,
            )
        case "judge":
            from passcheck.cli.judge import judge

            return judge()
        case "bench":
            from passcheck.cli.bench import bench

            return bench(asked, folders)
        case "archive":
            from passcheck.cli.archive import archive

            return archive(asked, folders)
        case "sign":
            from passcheck.cli.sign import sign

            return sign(asked.job, asked.key, folders, practice=asked.practice)
        case _:
            return _of_the_shop(asked, folders)


def _of_the_shop(asked: argparse.Namespace, folders: Folders) -> int:
    from passcheck.cli.blockers import blockers
    from passcheck.cli.jobs import jobs
    from passcheck.cli.plan import plan
    from passcheck.cli.show import show

    shop = _shop(folders, practice=asked.practice)
    shop.settings()  # a bench.yaml that can't be used is said before anything is listed
    match asked.command:
        case "jobs":
            return jobs(shop, as_json=asked.json)
        case "show":
            return show(shop, asked.job, as_json=asked.json)
        case "plan":
            return plan(shop, asked.job, as_json=asked.json)
        case "export":
            return _export(shop, asked, folders)
        case "history":
            from passcheck.cli.history import history

            return history(shop, asked, _asked_archive(asked, folders, shop))
        case "figures":
            from passcheck.cli.figures import show_figures

            return show_figures(shop, asked, _asked_archive(asked, folders, shop))
        case "paper":
            return _paper(shop, asked, folders)
        case _:
            return blockers(shop, asked.job, as_json=asked.json)


def _asked_archive(asked: argparse.Namespace, folders: Folders, shop: Shop) -> Archive | None:
    """The archive that a question is for: this bench's own, or the one that several share."""
    from passcheck.cli.wire import asked_archive, bench_files, shared_asked

    if asked.shared:
        return shared_asked(bench_files(folders))
    if asked.command == "figures" and asked.engine:
        return asked_archive(folders, practice=asked.practice, engine=asked.engine)
    return shop.archive


def _export(shop: Shop, asked: argparse.Namespace, folders: Folders) -> int:
    from passcheck.cli.export import export_csv, export_json, export_to
    from passcheck.cli.wire import log_folder

    logs = log_folder(folders, shop.settings().letter, now, practice=asked.practice)
    if asked.to is not None:
        return export_to(shop, logs, asked.job, Path(asked.to), folders.logs)
    return (export_json if asked.json else export_csv)(shop, logs, asked.job)


def _paper(shop: Shop, asked: argparse.Namespace, folders: Folders) -> int:
    from passcheck.cli.label import label_command, scan_both_command
    from passcheck.cli.paper import paper
    from passcheck.cli.wire import log_folder
    from passcheck.records.paper_folder import PaperFolder

    logs = log_folder(folders, shop.settings().letter, now, practice=asked.practice)
    if asked.label:
        return label_command(shop, PaperFolder(logs), asked.job)
    if asked.scan_both:
        return scan_both_command(shop, PaperFolder(logs), asked.job)
    kinds = (*asked.kinds, *(("blank-sheet",) if asked.blank else ()))
    return paper(shop, logs, asked.job, kinds, size=asked.size, to=asked.to, as_text=asked.text, as_json=asked.json)


def _shop(folders: Folders, *, practice: bool) -> Shop:
    from passcheck.cli.wire import open_practice_shop, open_shop

    if not practice:
        return open_shop(folders)
    from passcheck.practice.memory import MemoryBoards

    return open_practice_shop(folders, MemoryBoards(), now)  # jobs are only looked at here, so no board is offered

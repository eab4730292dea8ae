"""How does the archive stand, and how is it caught up, made anew, checked or given out?"""

import argparse
from collections.abc import Mapping
from pathlib import Path

from passcheck.cli.folders import Folders
from passcheck.cli.say import complain, practice_mark, say, say_json, say_practice, say_table
from passcheck.cli.wire import open_archive
from passcheck.records.archive import SqliteArchive
from passcheck.records.archive_csv import tables_to
from passcheck.records.archive_look import MISSING
from passcheck.records.archive_state import CaughtUp, Stands
from passcheck.records.disk import Disk

GOOD, NOT_GOOD = 0, 1
MEGABYTE = 1_000_000


def archive(asked: argparse.Namespace, folders: Folders) -> int:
    """Do what was asked with the archive; give the exit status: 1 where a journal couldn't be read, or rows differ.

    Args:
        asked: act (None: how it stands), folder, practice, json.
        folders: where the records lie.

    Raises:
        FileFault: there is no archive to check, or the folder to write to lies among the records.
        BenchFailed: the disk refuses, or another passcheck doesn't let go of it.
    """
    if asked.act == "publish" or getattr(asked, "shared", False):
        from passcheck.cli.share import share

        return share(asked, folders)
    kept = open_archive(folders, practice=asked.practice)
    if asked.practice and not asked.json:
        say_practice()
    match asked.act:
        case "catch-up":
            return _done("catch-up", kept.catch_up(), asked)
        case "rebuild":
            return _done("rebuild", kept.rebuild(), asked)
        case "check":
            return _check(kept, asked)
        case "export":
            return _export(kept, Path(asked.folder), folders.logs, asked)
        case _:
            return _stands(kept.stands(), asked)


def _stands(found: Stands, asked: argparse.Namespace) -> int:
    if asked.json:
        unusable = found.unusable or None
        item = {"file": found.path.name, "bytes": found.size, "jobs": found.jobs, "attempts": found.attempts}
        _say_json(asked, item | {"behind": found.behind, "unread": _unread(found.unread), "unusable": unusable})
    elif found.unusable:
        _say_unusable(found)
    else:
        rows = ((str(found.jobs), str(found.attempts), f"{found.size / MEGABYTE:.1f} MB", str(found.behind)),)
        say_table(("JOBS", "TRIES", "SIZE", "BEHIND BY JOURNALS"), rows)
        _say_unread(found.unread)
    broken = found.unusable not in ("", MISSING)
    return NOT_GOOD if broken or found.unread else GOOD


def _say_unusable(found: Stands) -> None:
    if found.unusable == MISSING and not found.behind:
        say("No jobs yet.")
    elif found.unusable == MISSING:
        say(f"There is no archive yet; 'passcheck archive catch-up' makes it from {_journals(found.behind)}.")
    else:
        complain(f"{found.path}: {found.unusable}. 'passcheck archive catch-up' makes it anew from the journals.")


def _done(act: str, done: CaughtUp, asked: argparse.Namespace) -> int:
    if asked.json:
        item = {"act": act, "read": done.taken, "gone": list(done.gone), "unread": _unread(done.unread)}
        _say_json(asked, item | {"made_anew_because": done.rebuilt or None, "set_aside": done.aside or None})
        return NOT_GOOD if done.unread else GOOD
    if act != "rebuild" and done.rebuilt:
        complain(f"The archive is made anew: {done.rebuilt}.")
    if done.aside:
        complain(done.aside)
    if done.rebuilt:
        say(f"Made anew from {_journals(done.taken)}.")
    else:
        say(
            f"Taken in: {_journals(done.taken)}." if done.taken or done.gone else "Nothing has changed since last time."
        )
    for job in done.gone:
        complain(f"{job}: its journal is gone, and so are its rows. Look for it in a backup.")
    _say_unread(done.unread)
    return NOT_GOOD if done.unread else GOOD


def _check(kept: SqliteArchive, asked: argparse.Namespace) -> int:
    found = kept.check()
    if asked.json:
        item = {"act": "check", "compared": found.journals, "behind": found.behind}
        _say_json(asked, item | {"differences": list(found.differences)})
    else:
        for sentence in found.differences:
            say(sentence)
        differ = "and every row agrees" if not found.differences else f"{len(found.differences)} differences"
        say(f"{_journals(found.journals)} compared, {differ}.")
        if found.behind:
            say(f"It is behind by {_journals(found.behind)}; 'passcheck archive catch-up' takes them in.")
        if found.differences:
            complain("'passcheck archive rebuild' makes the archive anew from the journals.")
    return NOT_GOOD if found.differences else GOOD


def _export(kept: SqliteArchive, folder: Path, logs: Path, asked: argparse.Namespace) -> int:
    written = kept.ask(lambda connection: tables_to(folder, connection, logs, Disk()))
    unread = kept.unread()
    if asked.json:
        files = [{"file": name, "rows": rows} for name, rows in written]
        _say_json(asked, {"act": "export", "files": files, "unread": list(unread)})
    else:
        say_table(("FILE", "ROWS"), [(str(folder / name), str(rows)) for name, rows in written])
        say("The files hold serials, the owners' words and people's initials: mind whom you give them to.")
        if unread:
            complain(f"Left out, because their journals can't be read: {', '.join(unread)}.")
    return NOT_GOOD if unread else GOOD


def _say_unread(unread: Mapping[str, str]) -> None:
    for sentence in unread.values():
        complain(f"Left out: {sentence}")


def _unread(unread: Mapping[str, str]) -> list[dict[str, str]]:
    return [{"job": job, "sentence": sentence} for job, sentence in unread.items()]


def _say_json(asked: argparse.Namespace, item: Mapping[str, object]) -> None:
    say_json("archive", [item], **practice_mark(asked.practice))


def _journals(count: int) -> str:
    return f"{count} journal{'' if count == 1 else 's'}"

"""How are sealed jobs given to the archive that several benches share, and how is that one checked or made anew?"""

import argparse

from passcheck.cli.folders import Folders
from passcheck.cli.publisher import NO_SHARED
from passcheck.cli.say import complain, say, say_json
from passcheck.cli.wire import bench_files, publisher, shared_archive
from passcheck.errors import FileFault
from passcheck.judge.rounding import counted
from passcheck.records.shared_archive import Published

GOOD, NOT_GOOD = 0, 1


def share(asked: argparse.Namespace, folders: Folders) -> int:
    """Do what was asked with the shared archive; give the exit status: 1 where something was left out or differs.

    Args:
        asked: act (publish, check, rebuild), json.
        folders: where this bench's records lie.

    Raises:
        FileFault: no shared archive is named.
        BenchFailed: it is away, or the extra isn't installed.
    """
    settings = bench_files(folders)
    if asked.act == "publish":
        return _published(publisher(folders, settings).give(), as_json=asked.json)
    shared = shared_archive(settings)
    if shared is None:
        raise FileFault(NO_SHARED)
    if asked.act == "rebuild":
        jobs = shared.rebuild()
        return _said({"act": "rebuild", "read": jobs}, f"Made anew from {_journals(jobs)}.", as_json=asked.json)
    differences = shared.check()
    for sentence in differences:
        complain(sentence)
    agreed = f"{len(differences)} differences" if differences else "Every row agrees with the journals that lie there"
    _said({"act": "check", "differences": list(differences)}, f"{agreed}.", as_json=asked.json)
    return NOT_GOOD if differences else GOOD


def _published(done: Published, *, as_json: bool) -> int:
    for sentence in done.refused:
        complain(sentence)
    words = f"Published: {counted(len(done.new), 'job')}; there already: {counted(done.before, 'job')}."
    item = {"act": "publish", "published": list(done.new), "there_already": done.before, "left_out": list(done.refused)}
    _said(item, words, as_json=as_json)
    return NOT_GOOD if done.refused else GOOD


def _said(item: dict[str, object], words: str, *, as_json: bool) -> int:
    if as_json:
        say_json("archive", [item])
    else:
        say(words)
    return GOOD


def _journals(count: int) -> str:
    return counted(count, "journal")

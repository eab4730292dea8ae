"""Which papers of a job are made, and where do they lie?"""

from collections.abc import Sequence
from pathlib import Path

from passcheck.bench.shop import Shop
from passcheck.cli.paper_maker import JobPapers, Told, kind_named
from passcheck.cli.say import complain, practice_mark, say, say_json
from passcheck.records.paper_folder import PaperFolder
from passcheck.records.shop import LogFolder
from passcheck.report.document import Kind, Size
from passcheck.report.plain import plain_text
from passcheck.report.possible import demand_possible, wanted


def paper(
    shop: Shop,
    logs: LogFolder,
    job_id: str,
    kinds: Sequence[str],
    *,
    size: Size | None = None,
    to: str | None = None,
    as_text: bool = False,
    as_json: bool = False,
) -> int:
    """Make papers and print where each lies, or print their text; give the exit status.

    Args:
        shop: whose job it is.
        logs: the journals of that shop.
        job_id: the job's number, in capitals or not.
        kinds: which papers; none stands for those that go out with a unit of this state.
        size: of the sheets, where not as bench.yaml has it.
        to: a folder to keep them in, instead of the job's own.
        as_text: print them as text and keep nothing.
        as_json: print one JSON object.

    Raises:
        FileFault: there is no such job or no such paper of it, or its records were altered. Nothing is made then.
        BenchFailed: the disk refuses.
    """
    maker = JobPapers(shop, PaperFolder(logs, to=Path(to) if to is not None else None), size)
    told = maker.told(job_id)
    asked = tuple(dict.fromkeys(map(kind_named, kinds))) or wanted(told.job)
    for kind in asked:
        demand_possible(kind, told.job)
    if as_text:
        return _print(maker, told, asked)
    return _keep(maker, told, asked, as_json=as_json)


def _print(maker: JobPapers, told: Told, kinds: Sequence[Kind]) -> int:
    for number, kind in enumerate(kinds):
        if number:
            say()
        say(plain_text(maker.drawn(kind, told)).removesuffix("\n"))
    return 0


def _keep(maker: JobPapers, told: Told, kinds: Sequence[Kind], *, as_json: bool) -> int:
    made = [(kind, maker.keep(maker.drawn(kind, told), told)) for kind in kinds]
    if as_json:
        items = [{"kind": kind, "path": one.path, "remarks": list(one.remarks)} for kind, one in made]
        say_json("paper", items, job=told.job.id, **practice_mark(told.job.facts.practice))
        return 0
    for _kind, one in made:
        say(one.path)
    for remark in dict.fromkeys(remark for _kind, one in made for remark in one.remarks):
        complain(remark)
    return 0

"""How does a test write rows of the archive, saying only what it is about?"""

from passcheck.job.archive_rows import AttemptRow, JobRow, PartRow, TouchRow

BOARD = "OV-24P"
DAY = "2031-04-02T09:14:03Z"


def a_job(
    job: str,
    *,
    serial: str = "S1",
    board: str = BOARD,
    opened_at: str = DAY,
    ended: str = "",
    ended_at: str = "",
    first_try: int | None = None,
    practice: int = 0,
) -> JobRow:
    """One visit."""
    return JobRow(
        job=job,
        bench="A",
        serial=serial,
        board=board,
        revision=1,
        title="Controller",
        complaint="dead",
        condition="",
        symptoms="",
        opened_at=opened_at,
        opened_by="t1",
        last_at=ended_at or opened_at,
        outcome="",
        ended=ended,
        ended_at=ended_at,
        ended_by="t1" if ended else "",
        first_try=first_try,
        arrived_with="",
        practice=practice,
        digest="0" * 64,
    )


def an_attempt(
    job: str,
    number: int,
    *,
    board: str = BOARD,
    step: str = "rail",
    title: str = "Rail at rest",
    purpose: str = "acceptance",
    verdict: str = "pass",
    instrument: str = "",
    at: str = DAY,
    margin: float | None = None,
    as_left: int = 0,
    struck_by: str = "",
    seconds: int | None = None,
    figure: str = "",
) -> AttemptRow:
    """One try at a step."""
    return AttemptRow(
        job=job,
        number=number,
        run=1,
        purpose=purpose,
        board=board,
        step=step,
        kind="reading",
        title=title,
        at=at,
        by="t1",
        instrument=instrument,
        verdict=verdict,
        sentence="",
        value=None,
        u=None,
        unit="",
        low=None,
        high=None,
        figure=figure,
        margin=margin,
        as_found=0,
        as_left=as_left,
        struck_by=struck_by,
        conditions="",
        late=0,
        seconds=seconds,
    )


def a_touch(
    job: str,
    line: int,
    block: str,
    *,
    board: str = BOARD,
    kind: str = "rework",
    confirmed: int | None = None,
    shown_by: str = "",
) -> TouchRow:
    """One block that was worked on."""
    return TouchRow(
        job=job,
        board=board,
        line=line,
        kind=kind,
        number=line,
        block=block,
        at=DAY,
        by="t1",
        action="replaced",
        reason="",
        confirmed=confirmed,
        shown_by=shown_by,
    )


def a_part(
    job: str, part: str, *, board: str = BOARD, part_number: str = "", at: str = DAY, rework: int = 1
) -> PartRow:
    """One designator that was replaced."""
    return PartRow(job=job, board=board, rework=rework, part=part, part_number=part_number, at=at)

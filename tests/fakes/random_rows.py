"""What could an archive hold, few jobs of everything that counting looks at?

Few boards, serials, steps and months, so that rows meet; texts that databases put in different orders.
"""

from counted_rows import a_job, a_part, a_touch, an_attempt
from hypothesis import strategies as st

from passcheck.job.archive_rows import AttemptRow, JobRows, PartRow, TouchRow

_BOARDS = st.sampled_from(["OV-24P", "ov-24", "Ä-9"])
_STEPS = st.sampled_from(["rail", "Rail", "r_ail", "hum"])
_TITLES = st.sampled_from(["Rail at rest", "rail, at rest", "Ω at rest", ""])
_TIMES = st.builds(
    "2031-{:02}-{:02}T{:02}:00:00Z".format, st.integers(1, 3), st.integers(1, 3), st.sampled_from([0, 10, 23])
)
_LATER = st.builds("2031-{:02}-{:02}T12:30:00Z".format, st.integers(4, 6), st.integers(1, 3))
_ENDED = st.sampled_from(["", "signed off", "signed off", "returned unrepaired", "returned repaired in part"])
_VERDICTS = st.sampled_from(["pass", "fail", "in doubt", "not measured"])


@st.composite
def _attempts(draw: st.DrawFn, job: str, board: str) -> tuple[AttemptRow, ...]:
    return tuple(
        an_attempt(
            job,
            number,
            board=board,
            step=draw(_STEPS),
            title=draw(_TITLES),
            purpose=draw(st.sampled_from(["as-found", "retest", "acceptance", "burn-in"])),
            verdict=draw(_VERDICTS),
            instrument=draw(st.sampled_from(["", "M1", "M-1", "m1"])),
            at=draw(_TIMES),
            margin=draw(st.none() | st.integers(-(10**6), 10**6).map(lambda millionths: millionths / 10**6)),
            as_left=draw(st.integers(0, 1)),
            struck_by=draw(st.sampled_from(["", "", "void", "rework 1"])),
            seconds=draw(st.none() | st.integers(0, 30)),
        )
        for number in range(draw(st.integers(0, 5)))
    )


@st.composite
def _touched(draw: st.DrawFn, job: str, board: str, ended: str) -> tuple[TouchRow, ...]:
    faults = draw(st.dictionaries(st.sampled_from(["supply", "drive"]), st.sampled_from(["rail", "rail hum", "hum"])))
    rows = []
    for line, block in enumerate(draw(st.lists(st.sampled_from(["supply", "drive", "fan", ""]), max_size=4))):
        fault = ended == "signed off" and block in faults
        rows.append(
            a_touch(
                job,
                line,
                block,
                board=board,
                kind=draw(st.sampled_from(["rework", "rework", "incident"])) if block else "case opened",
                confirmed=int(fault) if ended == "signed off" else None,
                shown_by=faults[block] if fault else "",
            )
        )
    return tuple(rows)


@st.composite
def _parts(draw: st.DrawFn, job: str, board: str) -> tuple[PartRow, ...]:
    names = draw(st.lists(st.sampled_from(["C4", "c4", "R1"]), max_size=3))
    numbers = st.sampled_from(["", "X-1", "X1"])
    return tuple(
        a_part(job, part, board=board, part_number=draw(numbers), at=draw(_TIMES), rework=rework)
        for rework, part in enumerate(names)
    )


@st.composite
def _job_rows(draw: st.DrawFn, job: str) -> JobRows:
    board, ended = draw(_BOARDS), draw(_ENDED)
    opened_at = draw(_TIMES)
    row = a_job(
        job,
        board=board,
        serial=draw(st.sampled_from(["1", "1", "a-1", "A1"])),
        opened_at=opened_at,
        ended=ended,
        # A machine's clock may have gone back while the unit was here.
        ended_at=draw(_LATER | _TIMES) if ended else "",
        first_try=draw(st.none() | st.integers(0, 1)),
        practice=draw(st.sampled_from([0, 0, 0, 1])),
    )
    return JobRows(row, draw(_attempts(job, board)), draw(_touched(job, board, ended)), draw(_parts(job, board)))


def some_rows(jobs: int = 6) -> st.SearchStrategy[tuple[JobRows, ...]]:
    """The rows of some jobs."""
    names = st.lists(st.sampled_from(["A-1", "a-1", "A-10", "A-2", "B_1", "Ä1"]), unique=True, max_size=jobs)
    return names.flatmap(lambda jobs: st.tuples(*(_job_rows(job) for job in jobs)))

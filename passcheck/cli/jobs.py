"""Which jobs does this bench have, and what does each wait for?"""

from dataclasses import asdict

from passcheck.bench.shop import Shop
from passcheck.cli.say import practice_mark, say, say_json, say_practice, say_table
from passcheck.job.shelf_row import ShelfRow

HEADS = ("JOB", "UNIT", "BOARD", "WAITS FOR", "AGAINST", "LAST (UTC)", "COMPLAINT")


def jobs(shop: Shop, *, as_json: bool) -> int:
    """Print a line a job, the oldest first; give the exit status."""
    rows = shop.shelf()
    if as_json:
        say_json("jobs", [_item(row) for row in rows], **practice_mark(shop.practice))
        return 0
    if shop.practice:
        say_practice()
    if rows:
        say_table(HEADS, [_cells(row) for row in rows])
    else:
        say("No jobs yet.")
    return 0


def _cells(row: ShelfRow) -> tuple[str, ...]:
    board = f"{row.sequence} rev {row.revision}" if row.sequence else ""
    against = "" if row.ended else str(row.blockers)
    return (
        row.job,
        row.serial,
        board,
        row.ended or row.waits_for,
        against,
        row.last_at[:16].replace("T", " "),
        row.complaint,
    )


def _item(row: ShelfRow) -> dict[str, object]:
    item = asdict(row) | {"revision": int(row.revision) if row.revision.isdecimal() else None}
    del item["practice"]
    return item | practice_mark(row.practice)

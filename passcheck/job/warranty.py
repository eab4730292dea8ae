"""Until which day does the shop's warranty on a release run?"""

from calendar import monthrange
from datetime import date

from passcheck.job.state import Job


def warranty_end(job: Job, months: int | None) -> date | None:
    """The last day of it, or None where the unit wasn't released or the shop says nothing.

    So many months after the day of the sign-off by the bench's clock on the wall; a month that is too short for the
    day ends it on its own last.
    """
    if months is None or job.ended != "signed off":
        return None
    return months_after(job.last.local().date(), months)


def months_after(day: date, months: int) -> date:
    """The same day so many months on, or the last of that month."""
    ahead, month = divmod(day.month - 1 + months, 12)
    year, month = day.year + ahead, month + 1
    return date(year, month, min(day.day, monthrange(year, month)[1]))

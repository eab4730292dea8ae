"""Until which day does a shop's warranty run?"""

import calendar
from datetime import date


def warranty_until(released: date, months: int) -> date:
    """The same day of the month, so many months on; the month's last day where it has no such day."""
    year, month = divmod(released.year * 12 + released.month - 1 + months, 12)
    last = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(released.day, last))

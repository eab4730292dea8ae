"""How does a time stand in the archive?"""

from datetime import UTC, datetime


def utc_text(moment: datetime) -> str:
    """A time in UTC to the second, `2031-04-02T09:14:03Z`: such texts sort as the times do."""
    return f"{moment.isoformat()[:19]}Z"


def utc_of(said: str | None, entered: datetime) -> datetime:
    """When a try was measured: as a late entry says, with whatever offset; else when it was entered."""
    if said is None:
        return entered
    try:
        measured = datetime.fromisoformat(said)
        return measured.astimezone(UTC) if measured.tzinfo is not None else entered
    except (ValueError, OverflowError):
        return entered

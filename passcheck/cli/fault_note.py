"""Where does the trace of a fault of our own go, when it must not be thrown at a technician?"""

import traceback
from pathlib import Path

from passcheck.job.moment import Moment


def keep_trace(logs: Path, fault: BaseException, moment: Moment) -> Path | None:
    """Write the trace into the logs folder; None when even that can't be done."""
    path = logs / f"fault-{moment.utc:%Y%m%d-%H%M%S}.txt"
    try:
        logs.mkdir(parents=True, exist_ok=True)
        path.write_text("".join(traceback.format_exception(fault)), encoding="utf-8", errors="backslashreplace")
    except OSError:
        return None
    return path


def sentence(fault: BaseException, kept: Path | None) -> str:
    """What the technician reads."""
    where = f"what happened is in {kept}" if kept else f"what happened could not be written down: {fault}"
    return (
        f"passcheck has a fault of its own ({type(fault).__name__}). Everything that was shown as kept is kept. "
        f"Please keep the job's journal and report it; {where}."
    )

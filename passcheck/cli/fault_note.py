"""Where does the trace of a fault of our own go, when it must not be thrown at a technician?"""

import os
import traceback
from pathlib import Path

from passcheck.job.moment import Moment


def keep_trace(logs: Path | None, fault: BaseException, moment: Moment) -> Path | None:
    """Write the trace into the logs folder, or, without one to write in, among the machine's passing files.

    None when even that can't be done.
    """
    text = "".join(traceback.format_exception(fault))
    name = f"fault-{moment.utc:%Y%m%d-%H%M%S}"
    try:
        if logs is None:
            import tempfile  # no start has to wait for it

            # Everybody may write there, so the name has to be one that nobody knew before.
            handle, path = tempfile.mkstemp(prefix=f"passcheck-{name}-", suffix=".txt")
            os.close(handle)
            kept = Path(path)
        else:
            logs.mkdir(parents=True, exist_ok=True)
            kept = logs / f"{name}.txt"
        kept.write_text(text, encoding="utf-8", errors="backslashreplace")
    except OSError:
        return None
    return kept


def sentence(fault: BaseException, kept: Path | None) -> str:
    """What the technician reads."""
    where = f"what happened is in {kept}" if kept else f"what happened could not be written down: {fault}"
    return (
        f"passcheck has a fault of its own ({type(fault).__name__}). Everything that was shown as kept is kept. "
        f"Please keep the job's journal and report it; {where}."
    )

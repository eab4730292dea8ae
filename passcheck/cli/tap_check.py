"""Does this bench time a tap well, and where is each tap written?"""

from contextlib import ExitStack
from pathlib import Path

from passcheck.errors import FileFault


def tap_check(json_file: str | None) -> int:
    """Open the screen; with a file, write a line a tap there and make `FILE.ready` when taps are taken.

    Raises:
        FileFault: the file can't be written.
    """
    from passcheck.app.tap_start import run_tap_check

    if json_file is None:
        return run_tap_check(None, lambda: None)
    path, ready = Path(json_file), Path(f"{json_file}.ready")
    with ExitStack() as kept:
        try:
            ready.unlink(missing_ok=True)
            write = kept.enter_context(path.open("w", encoding="utf-8"))
        except OSError as fault:
            raise FileFault(
                f"{json_file} can't be written: {fault.strerror}. Name a file in a folder of yours."
            ) from None
        return run_tap_check(write, ready.touch)

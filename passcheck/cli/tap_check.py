"""Does this bench time a tap well, and where is each tap written?"""

from contextlib import suppress
from pathlib import Path

from passcheck.cli.say import complain


def tap_check(json_file: str | None) -> int:
    """Open the screen and give the exit status: 2 where a file was named that can't be written.

    With a file a line a tap is written there, and `FILE.ready` is made when taps are taken.
    """
    from passcheck.app.tap_start import Unwritten, run_tap_check

    if json_file is None:
        return run_tap_check(None, lambda: None)
    path, ready = Path(json_file), Path(f"{json_file}.ready")
    try:
        ready.unlink(missing_ok=True)
        write = path.open("w", encoding="utf-8")
    except OSError as fault:
        return _refused(json_file, fault.strerror)
    try:
        return run_tap_check(write, ready.touch)
    except Unwritten as why:
        return _refused(json_file, str(why))
    finally:
        with suppress(OSError):  # each line was flushed, and what that refused was told
            write.close()


def _refused(name: str, why: str | None) -> int:
    from passcheck.app.start import WRONG_USE

    complain(f"{name} can't be written: {why}. Name a file in a folder of yours.")
    return WRONG_USE

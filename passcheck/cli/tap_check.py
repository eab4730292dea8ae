"""Does this bench time a tap well, and where is each tap written?"""

from pathlib import Path

from passcheck.cli.say import complain


def tap_check(json_file: str | None) -> int:
    """Open the screen and give the exit status: 2 where a file was named that can't be written.

    With a file a line a tap is written there, and `FILE.ready` is made when taps are taken.
    """
    from passcheck.app.start import WRONG_USE
    from passcheck.app.tap_start import run_tap_check

    if json_file is None:
        return run_tap_check(None, lambda: None)
    path, ready = Path(json_file), Path(f"{json_file}.ready")
    try:
        ready.unlink(missing_ok=True)
        with path.open("w", encoding="utf-8") as write:
            return run_tap_check(write, ready.touch)
    except OSError as fault:  # at the start, at a tap, or when it is closed
        complain(f"{json_file} can't be written: {fault.strerror}. Name a file in a folder of yours.")
        return WRONG_USE

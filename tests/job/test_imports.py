"""Does the core stay free of the screen, of file formats and of clocks?"""

import subprocess
import sys

import pytest

FOREIGN = ("textual", "yaml", "rich", "asyncio", "sqlite3", "filelock")


@pytest.mark.parametrize("module", ["passcheck.job.gate", "passcheck.job.decide", "passcheck.job.fold"])
def test_the_core_pulls_in_neither_the_screen_nor_a_file_format(module: str) -> None:
    look = f"import {module}, sys; print([name for name in {FOREIGN!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", look], capture_output=True, text=True, check=True)
    loaded = [name for name in ("textual", "yaml", "rich") if repr(name) in done.stdout]
    assert loaded == [], done.stdout

"""Another process that writes a job, for tests that need a real one."""

import os
import subprocess
import sys
from pathlib import Path

import passcheck

_WALKER = Path(__file__).parent.parent / "faults" / "walker.py"


def start_walker(folder: Path, job: str, count: int) -> "subprocess.Popen[str]":
    """Start `walker.py`; it prints the job and its next number, then the number of each acknowledged line."""
    root = str(Path(passcheck.__file__).parent.parent)
    return subprocess.Popen(
        [sys.executable, str(_WALKER), str(folder), job, str(count)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=os.environ | {"PYTHONPATH": root},
    )

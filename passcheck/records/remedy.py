"""What does a person do when the disk refuses?"""

import errno
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from passcheck.errors import BenchFailed
from passcheck.records.disk import NotAFileError

Answer = TypeVar("Answer")

_FULL = frozenset({errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)})
_NO_RIGHTS = frozenset({errno.EROFS, errno.EACCES, errno.EPERM})


def remedy(fault: OSError, folder: Path) -> str:
    """One sentence in the imperative."""
    if isinstance(fault, NotAFileError):
        return f"Look at what lies in {folder} under that name, and put the file itself there."
    if fault.errno in _FULL:
        return f"Make room on the disk that holds {folder}, then open the job again."
    if fault.errno in _NO_RIGHTS:
        return f"Make {folder} writable for this account, then open the job again."
    return f"Look after the disk that holds {folder}, then open the job again."


def ask_disk(act: Callable[[], Answer], path: Path) -> Answer:
    """Do something with a file; raises BenchFailed with a remedy, or FileNotFoundError as it came."""
    try:
        return act()
    except FileNotFoundError:
        raise
    except OSError as fault:
        raise BenchFailed(
            f"{path}: it can't be used ({fault.strerror or fault}). {remedy(fault, path.parent)}"
        ) from fault


def if_there(act: Callable[[], Answer], path: Path) -> Answer | None:
    """Do something with a file; None when there is none. Raises BenchFailed with a remedy."""
    try:
        return ask_disk(act, path)
    except FileNotFoundError:
        return None

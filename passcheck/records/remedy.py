"""What does a person do when the disk refuses?"""

import errno
from pathlib import Path

_FULL = frozenset({errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)})
_NO_RIGHTS = frozenset({errno.EROFS, errno.EACCES, errno.EPERM})


def remedy(fault: OSError, folder: Path) -> str:
    """One sentence in the imperative."""
    if fault.errno in _FULL:
        return f"Make room on the disk that holds {folder}, then open the job again."
    if fault.errno in _NO_RIGHTS:
        return f"Make {folder} writable for this account, then open the job again."
    return f"Look after the disk that holds {folder}, then open the job again."

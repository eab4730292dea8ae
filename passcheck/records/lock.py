"""Who may write a file of the records right now?"""

from pathlib import Path

from filelock import FileLock, Timeout

from passcheck.errors import BenchFailed


def take_lock(path: Path, refusal: str, *, wait_s: float = 0) -> FileLock:
    """Hold a lock file until `release()` or the end of the process, whatever ends it.

    The lock stands beside the file, never on it: on a Windows share a lock on the file itself would keep readers out.

    Args:
        path: the lock file; it stays where it is after the release.
        refusal: the sentence for the person when somebody else holds it.
        wait_s: seconds to wait for the other to finish.

    Raises BenchFailed with `refusal`, or when the folder doesn't take a lock file.
    """
    # Taken in one thread and given back in another, so the lock must not belong to a thread.
    lock = FileLock(path, thread_local=False)
    try:
        lock.acquire(timeout=wait_s)
    except Timeout as fault:
        raise BenchFailed(refusal) from fault
    except OSError as fault:
        raise BenchFailed(
            f"{path}: no lock can be taken there ({fault.strerror}). Make the folder writable for this account."
        ) from fault
    return lock

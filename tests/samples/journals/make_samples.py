"""How is a new set of sample journals made?

    .venv/bin/python tests/samples/journals/make_samples.py set-2

The stories are in `tests/fakes/sample_jobs.py`. A set that is there is never written over: a journal opens for ever,
and these are the journals that this is held to. When the program writes something that it didn't write before, the old
set stays and a new one is made beside it.
"""

import argparse
import sys
from pathlib import Path

HERE = Path(__file__).parent
REPOSITORY = HERE.parents[2]
sys.path[:0] = [str(REPOSITORY), str(REPOSITORY / "tests" / "fakes")]

from sample_jobs import make_all  # noqa: E402 - the paths come first
from sample_set import write_down  # noqa: E402


def main() -> int:
    """Make a set; give the exit status."""
    parser = argparse.ArgumentParser(description="Make a new set of sample journals.")
    parser.add_argument("name", help="the new folder, such as set-2")
    folder = HERE / parser.parse_args().name
    if folder.exists():
        print(f"{folder} is there already, and a set is never written over. Choose a new name.", file=sys.stderr)
        return 2
    folder.mkdir()
    about = make_all(folder)
    for lock in folder.rglob("*.lock"):
        lock.unlink()
    write_down(folder, about)
    for job, words in about.items():
        print(f"{job}  {words}")
    return 0


if __name__ == "__main__":
    sys.exit(main())

"""The same as the command `passcheck`, for `python -m passcheck`."""

import sys

from passcheck.cli.main import run

if __name__ == "__main__":
    sys.exit(run())

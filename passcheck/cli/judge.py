"""What come out as answers when objects go in, one a line?"""

import sys
from collections.abc import Iterator

from passcheck.cli.door.answering import answer_line
from passcheck.cli.say import complain


def judge() -> int:
    """Answer each line of the standard input with one on the standard output; 1 when any of them was an error."""
    if sys.stdin.isatty():
        complain("Type one JSON object a line, end with Ctrl-D; passcheck judge --help lists them.")
    status = 0
    for line in _lines():
        answer, good = answer_line(line)
        print(answer, flush=True)
        status = status if good else 1
    return status


def _lines() -> Iterator[str]:
    """Lines that hold something. What is no UTF-8 becomes signs that JSON refuses outside of a text."""
    source = getattr(sys.stdin, "buffer", None)
    for line in source if source is not None else sys.stdin:
        text = line.decode("utf-8", errors="replace") if isinstance(line, bytes) else line
        if text.strip():
            yield text.strip()

"""How is the table of computations told to people, in the help and in the README?"""

from textwrap import wrap

from passcheck.cli.door.compute import Compute
from passcheck.cli.door.table import TABLE

WIDTH = 100
EXAMPLE = """{"compute": "conformity", "value": 4.88, "u": 0.02, "low": 4.85, "high": 5.15}"""


def door_in_words() -> str:
    """Return how the door is used, followed by every computation."""
    return f"""\
One JSON object a line on the standard input, one answer a line on the standard output:

  {EXAMPLE}

Units are SI unless a name says otherwise; a question mark stands behind what may be missing.
An object that can't be computed answers {{"compute": ..., "error": "..."}} and the rest go on; the exit status is
then 1.

{computes_in_words()}"""


def computes_in_words() -> str:
    """Return every computation with its fields, their kinds and units, and its answers."""
    return "\n\n".join("\n".join(_lines(name, compute)) for name, compute in TABLE.items())


def _lines(name: str, compute: Compute) -> list[str]:
    lines = [name, *_wrapped(compute.says, 2)]
    for field in compute.fields:
        lines += _wrapped(f"{field.mark}: {field.kind.words}; {field.says}", 4)
    return [*lines, *_wrapped(f"answers {', '.join(compute.answers)}", 4)]


def _wrapped(text: str, indent: int) -> list[str]:
    return wrap(
        text,
        WIDTH,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + 4),
        break_long_words=False,
        break_on_hyphens=False,
    )

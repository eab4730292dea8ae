"""What does an editor need to know of sequence files?"""

import sys

from passcheck.sequence.schema import schema_text


def schema() -> int:
    """Print the JSON Schema; give the exit status."""
    sys.stdout.write(schema_text())
    return 0

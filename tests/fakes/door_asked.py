"""What does the door answer to one object?"""

import json
from collections.abc import Mapping
from typing import Any

from passcheck.cli.door.answering import answer_line


def ask(compute: str, fields: Mapping[str, object]) -> dict[str, Any]:
    """Send one line through the door and return its answer without the name; ValueError with its error."""
    answer: dict[str, Any] = json.loads(answer_line(json.dumps({"compute": compute, **fields}))[0])
    assert answer.pop("compute") == compute
    if "error" in answer:
        raise ValueError(answer["error"])
    return answer

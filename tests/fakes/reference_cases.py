"""What goes into a reference case, what has to come out, and how exactly?"""

import json
from pathlib import Path
from typing import Any

CASES: dict[str, dict[str, Any]] = {
    case["id"]: case
    for case in json.loads((Path(__file__).parents[1] / "samples" / "cases.json").read_text("utf-8"))["cases"]
}


def reference_case(case_id: str) -> tuple[dict[str, Any], dict[str, Any], dict[str, Any]]:
    """Return inputs, expected values and tolerances of a case of tests/samples/cases.json."""
    case = CASES[case_id]
    return case["inputs"], case["expected"], case["tolerance"]

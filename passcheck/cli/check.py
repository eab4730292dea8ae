"""What is wrong with these sequence files?"""

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path

from passcheck.cli.folders import Folders
from passcheck.cli.say import quantity, say, say_json, say_table
from passcheck.judge.quantity import show, six
from passcheck.judge.rounding import rounded
from passcheck.sequence.capability import Capability, capabilities
from passcheck.sequence.faults import SequenceFaults, show_faults
from passcheck.sequence.load import Checked, check_text, read_text


def check(files: Sequence[str], folders: Folders, *, as_json: bool) -> int:
    """Print every fault of every file; 1 when any can't be used, 0 when there are warnings alone.

    Args:
        files: the files; none stands for all of the sequences folder.
        folders: where that folder is.
        as_json: print one JSON object.
    """
    names = files or [str(path) for path in sorted(folders.sequences.glob("*.y*ml")) if not path.name.startswith(".")]
    found = [_checked(name) for name in names]
    if as_json:
        say_json("check", [_item(checked) for checked in found])
    else:
        for checked in found:
            _print(checked)
        if not found:
            say(f"{folders.sequences}: no sequence files.")
    twice = _given_twice(found)
    if not as_json:
        for sentence in twice:
            say(sentence)
    return 1 if twice or any(checked.errors for checked in found) else 0


def _checked(name: str) -> Checked:
    try:
        return check_text(read_text(Path(name)), name)
    except SequenceFaults as faults:
        return Checked(None, faults.faults, name)


def _print(checked: Checked) -> None:
    if checked.faults:
        say(show_faults(checked.name, checked.faults))
    say(f"{checked.name}: {_verdict(checked)}")
    found = capabilities(checked.sequence) if checked.sequence is not None else ()
    if found:
        say("Limits beside the error of the least instrument that will do (95 %):", indent=2)
        say_table(("step", "limits", "instrument", "error", "ratio"), [_row(it) for it in found], indent=2)


def _row(it: Capability) -> tuple[str, ...]:
    """One line of the table; a one-sided limit has no width, so it has no ratio."""
    error = show(Decimal(rounded(it.error)), it.unit)
    ratio = "one-sided" if it.ratio is None else f"{it.ratio:.1f}"
    return it.step, it.limits, f"{it.instrument}, {it.accuracy}", f"± {error}", ratio


def _verdict(checked: Checked) -> str:
    errors, warnings = len(checked.errors), len(checked.faults) - len(checked.errors)
    said = [_counted(errors, "error"), _counted(warnings, "warning")]
    counts = ", ".join(filter(None, said))
    if checked.sequence is None:
        return f"{counts}; it can't be used."
    sequence = checked.sequence
    board = f"{sequence.sequence} revision {sequence.revision}, {len(sequence.steps)} steps"
    return f"{board}; {counts}." if counts else f"{board}; good."


def _counted(number: int, thing: str) -> str:
    return f"{number} {thing}{'s' if number > 1 else ''}" if number else ""


def _given_twice(found: Sequence[Checked]) -> list[str]:
    """Two files may not claim the same board: nobody could say which one a job is made by."""
    good = [(checked.sequence.sequence, checked.name) for checked in found if checked.sequence is not None]
    counts = Counter(board for board, _ in good)
    return [
        f"{board} is in more than one file: {', '.join(name for one, name in good if one == board)}. Keep one of them."
        for board, count in counts.items()
        if count > 1
    ]


def _item(checked: Checked) -> dict[str, object]:
    sequence = checked.sequence
    return {
        "file": checked.name,
        "usable": sequence is not None,
        "sequence": sequence.sequence if sequence else None,
        "revision": sequence.revision if sequence else None,
        "steps": len(sequence.steps) if sequence else None,
        "faults": [
            {
                "line": fault.line,
                "column": fault.column,
                "severity": fault.severity,
                "sentence": fault.sentence,
                "source": fault.source,
            }
            for fault in checked.faults
        ],
        "capability": [
            {
                "step": it.step,
                "limits": it.limits,
                "instrument": it.instrument,
                "accuracy": it.accuracy,
                "error": quantity(six(it.error), it.unit),
                "ratio": None if it.ratio is None else six(it.ratio),
            }
            for it in (capabilities(sequence) if sequence else ())
        ],
    }

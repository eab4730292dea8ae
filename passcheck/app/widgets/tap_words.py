"""What was tapped at an attempt, trial by trial, and what stood beside it?

Raw times are for the reader of the record, after the decision; a hand that still taps never sees them.
"""

from itertools import pairwise

from passcheck.job.answers import HowStamped, TapPair, TapPairsAnswer, TapRow, TapRowsAnswer
from passcheck.job.judging_taps import beyond_delays
from passcheck.job.state import Attempt, Job, Reference

Rows = list[tuple[str, str]]


def tap_rows(job: Job, one: Attempt) -> Rows:
    """Names and words, a line each; nothing where nothing was tapped."""
    match one.answer:
        case TapPairsAnswer(pairs, how):
            trials = [("Trial", f"{number}: {_pair(pair)}") for number, pair in enumerate(pairs, start=1)]
        case TapRowsAnswer(rows, how):
            trials = [("Row", f"{number}: {_row(row)}") for number, row in enumerate(rows, start=1)]
        case _:
            return []
    return [*trials, ("Stamped", _how(how)), *_reference(job, one)]


def broken_off_rows(job: Job, step: str) -> Rows:
    """Taps of a step that came to nothing, with the reason."""
    return [("Broken off", f"{one.broken_off}, taps of {one.by}: void") for one in job.broken_off if one.step == step]


def _pair(pair: TapPair) -> str:
    void = f", void: {pair.void}" if pair.void else ""
    if pair.stop is None:
        return f"no second tap{void}" if pair.void else "no response"
    return f"{float(pair.stop) - float(pair.start):.3f} s from tap to tap{void}"


def _row(row: TapRow) -> str:
    times = [float(tap) for tap in row.taps]
    gaps = " ".join(f"{later - time:.3f}" for time, later in pairwise(times))
    void = f", void: {row.void}" if row.void else ""
    return f"{row.way}, {len(times)} taps, between them {gaps or 'nothing'} s{void}"


def _how(how: HowStamped) -> str:
    by = "a process of its own" if how.stamped_by == "reader" else "the screen, after that process was lost"
    return f"{how.clock} clock, ± {1000 * float(how.resolution_s):.0f} ms keyboard and host, by {by}"


def _reference(job: Job, one: Attempt) -> Rows:
    block = next((it for it in job.references if it.number == one.reference), None)
    if block is None or one.latency_s is None or one.latency_u_s is None:
        return []
    latency = f"{1000 * float(one.latency_s):.0f} ms, standard uncertainty {1000 * float(one.latency_u_s):.0f} ms"
    beyond = " ".join(f"{each:.3f}" for each in beyond_delays(block.facts.trials))
    return [("Reference", _block(block)), ("", f"beyond the delays {beyond} s"), ("Latency", latency)]


def _block(block: Reference) -> str:
    facts = block.facts
    good = sum(not trial.void for trial in facts.trials)
    trials = f"{good} trials around {float(facts.middle_s):g} s, {len(facts.trials) - good} void"
    when = f"{block.moment.local():%H:%M}" if facts.walked is None else f"{facts.walked}, checked by 5 trials since"
    return f"block {block.number} of {block.by}: {trials}, {when}"

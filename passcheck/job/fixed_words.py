"""What must be said in the same words wherever a job's outcome is told, on a screen as on a paper?"""

NO_CERTIFICATE = (
    "Not an electrical safety test and not a certificate. Installation and local rules remain with the installer."
)
MORE_ASKED = (
    "Where the law, your employer, the maker's instructions or a licence ask for more than this screen does, do what "
    "asks for more."
)
LICENSED = (
    "Work on mains or other hazardous-live parts may be reserved by law to licensed or authorised people. "
    "If that is not you, stop here and hand over."
)
REBOUND = "Rebound is normal: discharge again, read again, leave the shorting lead on."
CLEARING = "Clearing a code repairs nothing."
HAND = (
    "Supply output OFF, plug pulled, battery isolator open: the nearest hand, now.",
    "Loads and motors stopped, hands clear.",
)
"""What the hand does to make a unit safe where its sequence doesn't say it in words of its own."""
NOT_A_RELEASE = "This is not a release."


def bench_test(revision: int | None) -> str:
    """What the outcome is and what it is not; None where the sequence's revision can't be told any more.

    Say it where a date stands beside it.
    """
    test = f" to revision {revision} of the sequence on this date" if revision is not None else ""
    return f"Bench function test{test}. {NO_CERTIFICATE}"

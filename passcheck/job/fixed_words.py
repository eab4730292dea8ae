"""What must be said in the same words wherever a job's outcome is told, on a screen as on a paper?"""

NO_CERTIFICATE = (
    "Not an electrical safety test and not a certificate. Installation and local rules remain with the installer."
)
MORE_ASKED = (
    "Where the law, your employer, the maker's instructions or a licence ask for more than this screen does, do what "
    "asks for more."
)


def bench_test(revision: int | None) -> str:
    """What the outcome is and what it is not; None where the sequence's revision can't be told any more.

    Say it where a date stands beside it.
    """
    test = f" to revision {revision} of the sequence on this date" if revision is not None else ""
    return f"Bench function test{test}. {NO_CERTIFICATE}"

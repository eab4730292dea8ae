"""How is a number of things said?"""


def many(count: int, thing: str) -> str:
    """`1 step`, `3 steps`."""
    return f"{count} {thing}{'' if count == 1 else 's'}"

"""How many clean repeats make an unexplained pass believable?"""


def clean_repeats_needed(fails: int, tries: int) -> int:
    """Return the smallest N with (1 - fails/tries)^N at most 0.05."""

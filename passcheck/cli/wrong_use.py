"""What was asked for that isn't there?"""


class WrongUse(Exception):
    """Something was named that isn't there; the sentence lists what is, and the exit status is that of wrong use."""

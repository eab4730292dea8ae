"""How is a long history read without Python looking through it for waste again and again?

The collector goes through everything that is alive whenever that has grown by a quarter; of a hundred thousand events
it takes more time than reading them. Lines and events hold no cycles, so nothing of them is left to collect.
"""

import gc
from collections.abc import Iterator
from contextlib import contextmanager

_MANY = 50_000
"""New objects from which going through all of them once is time that somebody waits."""


@contextmanager
def uncollected() -> Iterator[None]:
    """Collect nothing meanwhile; another thread that comes out first ends it for both, which costs time only."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            if gc.get_count()[0] > _MANY and not gc.get_freeze_count():
                # All that is new counts as old from here: it won't be gone through before the rest is.
                gc.freeze()
                gc.unfreeze()
            gc.enable()

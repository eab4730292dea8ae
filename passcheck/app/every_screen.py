"""How do the screens behind the first one come to be loaded before a key asks for them?"""

from importlib import import_module
from pkgutil import iter_modules

SCREENS = "passcheck.app.screens"


def load_every_screen() -> None:
    """Load them all, with the job's rules behind them; every key with an id is known afterwards."""
    for found in iter_modules(import_module(SCREENS).__path__, f"{SCREENS}."):
        import_module(found.name)

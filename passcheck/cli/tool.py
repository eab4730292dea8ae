"""Which program, in which version, is this?"""

from importlib.metadata import PackageNotFoundError, version


def tool() -> str:
    """The program's name and version, as records and `--version` give it."""
    try:
        return f"passcheck {version('passcheck')}"
    except PackageNotFoundError:
        return "passcheck, not installed"

"""At which terminal, and by which way, does somebody work?"""

import sys
from collections.abc import Mapping


def terminal_words(environment: Mapping[str, str]) -> str:
    """The terminal and the way to it, as far as the environment tells: another one has another latency."""
    names = [environment.get(name, "") for name in ("TERM_PROGRAM", "TERM")]
    through = "over SSH" if environment.get("SSH_CONNECTION") else "local"
    inside = ["in tmux"] if environment.get("TMUX") else []
    known = [name[:40] for name in names if name.isprintable() and name]
    return ", ".join([*(known or [f"terminal on {sys.platform}"]), *inside, through])

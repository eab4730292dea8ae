"""Is the terminal told by its environment, and nothing in it shown raw?"""

import pytest

from passcheck.cli.terminal import terminal_words


@pytest.mark.parametrize(
    ("environment", "words"),
    [
        ({"TERM": "xterm-256color"}, "xterm-256color, local"),
        ({"TERM": "screen", "TMUX": "/x,1,0", "SSH_CONNECTION": "10.0.0.1 1 10.0.0.2 22"}, "screen, in tmux, over SSH"),
        ({"TERM_PROGRAM": "\x1b[2J", "TERM": "xterm"}, "xterm, local"),
    ],
)
def test_the_way_to_the_screen_is_told_by_the_environment(environment: dict[str, str], words: str) -> None:
    assert terminal_words(environment) == words

"""A small board without faults, as plain data that a test can spoil, and its check."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from passcheck.sequence.load import Checked, check_text
from passcheck.sequence.nodes import read_nodes

SMALL_BOARD = Path(__file__).parents[1] / "samples" / "small-board.yaml"

Board = dict[str, Any]
Check = Callable[[Board], Checked]


@pytest.fixture
def board() -> Board:
    """The small sample board, fresh for each test."""
    data = read_nodes(SMALL_BOARD.read_text(encoding="utf-8")).data
    assert isinstance(data, dict)
    return data


@pytest.fixture
def check() -> Check:
    """Writes a board as a file would hold it, and checks that."""

    def checked(data: Board) -> Checked:
        return check_text(yaml.safe_dump(data, allow_unicode=True, sort_keys=False), "board.yaml")

    return checked

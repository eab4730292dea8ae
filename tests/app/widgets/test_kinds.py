"""Every kind of step has all its parts: a judge, an entry, a test of that entry."""

from importlib.util import find_spec
from pathlib import Path
from typing import get_args

import pytest

from passcheck.app.widgets.kinds import ENTRIES
from passcheck.sequence.model import Kind, Step

HERE = Path(__file__).parent
KINDS: tuple[Kind, ...] = get_args(Kind)
WITHOUT_JUDGE = {"soak"}  # hours at power are walked on the rack, not answered in one go


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_its_judge_its_entry_and_its_test(kind: Kind) -> None:
    stem = kind.replace("-", "_")
    assert ENTRIES[kind].__module__ == f"passcheck.app.widgets.{stem}"
    assert (HERE / f"test_{stem}_entry.py").exists()
    assert (find_spec(f"passcheck.judge.{stem}") is not None) == (kind not in WITHOUT_JUDGE)


def test_every_model_of_a_step_belongs_to_a_kind_with_an_entry() -> None:
    assert {get_args(model.model_fields["kind"].annotation)[0] for model in get_args(Step)} == set(ENTRIES)

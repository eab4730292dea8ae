"""How is a rule taken out of the core, so that a test can show that something notices?"""

import sys
from types import ModuleType

import pytest

from passcheck.job import gate

Patch = tuple[str, object]
"""What is replaced, by its full name, and by what; of the gate's questions it is named which one is left out."""


def lay(monkeypatch: pytest.MonkeyPatch, patches: tuple[Patch, ...]) -> None:
    """Take the rule out wherever it is used; nothing that the core remembers of a state outlives it."""
    for target, other in patches:
        by_name = target.endswith("QUESTIONS") and isinstance(other, str)
        for place, name in _everywhere(target):
            monkeypatch.setattr(place, name, _gate_without(str(other)) if by_name else other)
    for held in _core():
        for one in vars(held).values():
            if not isinstance(one, type) and callable(forget := getattr(one, "forget", None)):
                forget()


def _core() -> list[ModuleType]:
    return [module for name, module in sys.modules.items() if name.startswith("passcheck.")]


def _everywhere(target: str) -> list[tuple[object, str]]:
    """Every place in the core that holds what has this name, so that a rule taken out is out wherever it was taken in.

    Raises:
        AttributeError: there is no such name: it was moved, and this list has to follow.
    """
    module, name = target.rsplit(".", 1)
    if module.split(".")[-1][0].isupper():  # a method: its class is its only place
        home, of_class = module.rsplit(".", 1)
        return [(getattr(sys.modules[home], of_class), name)]
    original = getattr(sys.modules[module], name)
    if not module.startswith("passcheck."):
        return [(sys.modules[module], name)]
    return [(held, name) for held in _core() if vars(held).get(name) is original]


def _gate_without(question: str) -> tuple[object, ...]:
    kept = tuple(one for one in gate.QUESTIONS if one.__name__ != question)
    assert len(kept) == len(gate.QUESTIONS) - 1, f"the gate has no question {question}"
    return kept

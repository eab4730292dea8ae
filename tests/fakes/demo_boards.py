"""The demo boards as they lie in the repository, and the faults that were written for their practice units."""

from functools import cache
from pathlib import Path

from passcheck.practice.fault_list import FaultList
from passcheck.practice.lists import list_for
from passcheck.sequence.load import load_sequence
from passcheck.sequence.model import Sequence

FOLDER = Path(__file__).parents[2] / "sequences"
NAMES = ("OV-24P", "EK-8", "QM-48", "TH-12", "PM-7")


@cache
def board(name: str) -> Sequence:
    """One board's sequence."""
    return load_sequence(FOLDER / f"{name.lower()}.yaml")[0]


@cache
def faults(name: str) -> FaultList:
    """One board's list."""
    return list_for(board(name))

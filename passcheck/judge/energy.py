"""How much energy does a capacitor hold?"""

from passcheck.judge.quantity import Quantity


def stored_energy_j(capacitance: Quantity, voltage: Quantity) -> float:
    """Return the stored energy in joules."""

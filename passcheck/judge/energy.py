"""How much energy does a capacitor hold?"""

from passcheck.errors import OurBug
from passcheck.judge.quantity import Quantity


def stored_energy_j(capacitance: Quantity, voltage: Quantity) -> float:
    """Return C V²/2 in joules for a capacitance in F and a voltage in V. Raises OurBug for other units."""
    if capacitance.unit != "F" or voltage.unit != "V":
        raise OurBug(f"stored energy needs F and V, not {capacitance.unit} and {voltage.unit}")
    return float(capacitance.value * voltage.value**2 / 2)

"""How can passcheck be learned, shown and put to the test without a unit on the bench?

A simulated unit made from a sequence and a list of faults, and a robot technician who uses the bench as a person does.
Nothing here counts as evidence for a real unit. Read `fault.py` and `unit.py` first.
"""

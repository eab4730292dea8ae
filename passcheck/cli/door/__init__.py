"""What does `passcheck judge` compute, from which fields, with which answers?

Each module keeps a table `COMPUTES` from the name of a computation to a `Compute`; it never calculates by itself, it
hands fields to passcheck.judge. Read `compute.py` first.
"""

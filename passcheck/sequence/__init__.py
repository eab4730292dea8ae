"""What does the board's author ask for: which steps, blocks, hazards and limits?

`model.py` is the shape, `load.py` reads YAML into it and reports every fault with its place.
It never judges and never records.
"""

"""How is one job carried: commands in, events kept, a new state out?

Headless: it takes commands, asks the core, has the records keep the events, then folds. It owns the ports.
Read `bench.py` first.
"""

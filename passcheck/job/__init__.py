"""What has happened to one unit on this visit, and what follows from it?

Pure: events, their fold, the commands that decide new events, told power, what goes stale, the gate.
Time, identity and the bench's settings come in as arguments. Read `events.py` first, then `fold.py` and `gate.py`.
"""

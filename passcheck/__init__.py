"""Walks a technician through a board's own test sequence and says what still stands between the unit and the door.

Read first: job/events.py (what can happen), job/gate.py (what refuses a sign-off), judge/reading.py (how a reading is
decided).
"""

"""What does the technician see, and which command does a key become?

Only this package draws. Screens turn messages into commands and a new state into widgets; they decide nothing.
Read `app.py` first.
"""

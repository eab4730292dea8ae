"""Which command was asked for, and what is joined to what?

The only place where ports meet records. It loads `app` only when a screen opens. Read `main.py` first.
"""

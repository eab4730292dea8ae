"""Is what was observed inside its limits, and how sure can this instrument or hand make us?

Pure arithmetic on frozen values: no YAML, no pydantic, no clock, no files.
Read `judgement.py` first, then `reading.py`.
"""

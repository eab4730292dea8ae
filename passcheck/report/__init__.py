"""Which papers leave with a unit, and what stands on them?

Values in, document out: a job and what the records say of it become a `Paper` (`document.py`), which is set as a page
(`typeset.py`, with the extra `report`) or written as plain text (`plain.py`). A paper follows from the journal and the
bench's settings, so the same state gives the same bytes. Nothing here reads a clock or a file by itself; only
`typeset.py` touches a folder of its own, for as long as the page is set. Read `document.py` first, then
`test_record.py`.
"""

"""How is evidence kept so that nothing that was shown is lost and every change shows?

Journals, the ledger, the shelf's summary, bench.yaml. It never decides anything about a unit. Read `journal.py` first.
"""

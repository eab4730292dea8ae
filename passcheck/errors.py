"""What can go wrong that is not a verdict?

    PasscheckError
    ├── FileFault     a file that a person or another program wrote is wrong; they can mend it
    ├── BenchFailed   the bench could not do it: disk full, folder read-only, journal in use
    │   └── ExtraMissing   a package that only some benches need isn't installed
    └── OurBug        passcheck broke one of its own rules; nothing a technician did

A failed measurement and a refused sign-off are values, never exceptions.
Every message says where, what, and what to do.
"""


class PasscheckError(Exception):
    """The root of all errors that passcheck raises on purpose."""


class FileFault(PasscheckError):
    """A sequence file, bench.yaml or journal is wrong; the text names file, line and remedy."""


class BenchFailed(PasscheckError):
    """The machine could not carry out the work: no room, no rights, already in use."""


class ExtraMissing(BenchFailed):
    """What an extra brings isn't installed; the text names the extra and says how it is installed."""


class OurBug(PasscheckError):
    """A rule of passcheck's own was broken; please keep the journal and report it."""

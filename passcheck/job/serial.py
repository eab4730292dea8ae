"""How is a scanned serial number read, and is it one?"""

import re

SERIAL = r"[A-Z0-9][A-Z0-9._/+-]{0,39}"
SCANNER_DRESS = "\x00\x02\x03\x04\x1d\x1e\r\n\t *"  # what scanners put around a code, the asterisks of Code 39 included


def read_serial(scanned: str) -> str:
    """The serial as it is kept: without what a scanner puts around it, in capitals."""
    bare = scanned.strip(SCANNER_DRESS)
    return bare.upper() if bare.isascii() else bare  # the capital of ß is SS: it must not become a serial


def is_serial(serial: str) -> bool:
    """Has this the shape of a serial number: letters, digits and a few signs, at most 40?"""
    return re.fullmatch(SERIAL, serial) is not None

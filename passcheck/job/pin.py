"""Does this PIN belong to this person?

A PIN keeps a colleague from signing by mistake. It is short, so its hash only slows a thief down: it proves nothing to
an outsider. scrypt with n = 2^14, r = 8, p = 1 (RFC 7914).
"""

import hashlib
import hmac

PREFIX = "scrypt-14-8-1"


def pin_hash(pin: str, salt: bytes) -> str:
    """The hash to keep of a PIN; `salt` is 16 random bytes that the caller brings."""
    return f"{PREFIX}${salt.hex()}${_digest(pin, salt).hex()}"


def pin_matches(kept: str, pin: str) -> bool:
    """True when the PIN is the one the hash was made of; a hash in another form never matches."""
    parts = kept.split("$")
    if len(parts) != 3 or parts[0] != PREFIX:
        return False
    try:
        salt, digest = bytes.fromhex(parts[1]), bytes.fromhex(parts[2])
    except ValueError:
        return False
    return hmac.compare_digest(_digest(pin, salt), digest)


def _digest(pin: str, salt: bytes) -> bytes:
    return hashlib.scrypt(pin.encode(), salt=salt, n=2**14, r=8, p=1, dklen=32)

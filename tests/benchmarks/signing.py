"""What do a signature and its check cost, beside the SHA-512 that both must take of the journal?

    .venv/bin/python tests/benchmarks/signing.py [--bytes 20000] [--rounds 200]

The journal is a file of that many bytes, 20 kB as a walk of 30 steps leaves it. Each round takes, one after the other:
the bare SHA-512 of the bytes in memory; signing (digest of the file, reading the key, signature, armour); and checking
(armour, digest of the file, the signature, the lists of keys), as `signature_remark` does it. Printed: median of each
in microseconds, and its ratio to the bare SHA-512. The key has no passphrase: opening one is slow on purpose.
"""

import argparse
import hashlib
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

REPOSITORY = Path(__file__).parents[2]
sys.path[:0] = [str(REPOSITORY), str(REPOSITORY / "tests" / "fakes")]

from ssh_keys import key_pair  # noqa: E402 - the paths come first

from passcheck.records.signed import Kind, signature_path, signature_remark  # noqa: E402
from passcheck.records.ssh_key import read_private_key  # noqa: E402
from passcheck.records.ssh_signature import file_digest, signed_by, write_signature  # noqa: E402

SEALED_AT = "2031-04-02T09:14:03.512Z"


def took_us(act: Callable[[], object]) -> float:
    """Microseconds of one call."""
    start = time.perf_counter_ns()
    act()
    return (time.perf_counter_ns() - start) / 1000


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--bytes", type=int, default=20_000)
    asked.add_argument("--rounds", type=int, default=200)
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        key, journal, signers = key_pair(folder), folder / "journal", folder / "allowed_signers"
        data = bytes(given.bytes)
        journal.write_bytes(data)
        signers.write_text(f"t1 {key.public}\n", encoding="utf-8")

        def sign() -> bytes:
            return write_signature(signed_by(read_private_key(key.path.read_bytes()), file_digest(journal)))

        def check() -> None:
            if signature_remark(journal, signers, SEALED_AT).kind is not Kind.HOLDS:
                raise SystemExit("the signature does not hold")

        signature_path(journal).write_bytes(sign())
        acts = {"SHA-512": lambda: hashlib.sha512(data).digest(), "sign": sign, "check": check}
        took: dict[str, list[float]] = {what: [] for what in acts}
        for _ in range(given.rounds):
            for what, act in acts.items():
                took[what].append(took_us(act))
    floor = statistics.median(took["SHA-512"])
    print(f"a journal of {given.bytes} bytes, {given.rounds} rounds")
    for what, times in took.items():
        median = statistics.median(times)
        print(f"{what:8} median {median:9.1f} µs   {median / floor:6.2f} times SHA-512 of the same bytes")


if __name__ == "__main__":
    main()

"""Are signatures read, written, made and checked as OpenSSH does it, and is everything else refused in words?"""

import base64
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ssh_keys import stock_made, stock_signs, with_stock

from passcheck.errors import ExtraMissing
from passcheck.records.ssh_key import NotInFormError, OtherKindError, PublicKey, read_private_key
from passcheck.records.ssh_signature import (
    HASH,
    NAMESPACE,
    Signature,
    file_digest,
    read_signature,
    signed_by,
    write_signature,
)

TEXT = b"one line of evidence\n"
KEY = PublicKey(b"\0\0\0\x0bssh-ed25519\0\0\0\x20" + bytes(range(32)))
SAMPLE = Signature(KEY, NAMESPACE, HASH, bytes(range(64)))
ARMOUR = write_signature(SAMPLE)
BLOB = base64.b64decode(b"".join(ARMOUR.splitlines()[1:-1]))


def armoured(blob: bytes) -> bytes:
    return b"-----BEGIN SSH SIGNATURE-----\n" + base64.b64encode(blob) + b"\n-----END SSH SIGNATURE-----\n"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "journal"
    path.write_bytes(TEXT)
    return path


def test_what_is_written_is_read_back() -> None:
    assert read_signature(ARMOUR) == SAMPLE
    assert ARMOUR.endswith(b"\n-----END SSH SIGNATURE-----\n")
    assert max(map(len, ARMOUR.splitlines())) == 70


@with_stock
def test_passcheck_writes_the_very_bytes_that_ssh_keygen_writes(tmp_path: Path, file: Path) -> None:
    key = stock_made(tmp_path, "id")
    ours = signed_by(read_private_key(key.path.read_bytes()), file_digest(file))
    assert write_signature(ours) == stock_signs(key, file)


@with_stock
@pytest.mark.parametrize("hash_name", ["sha256", "sha512"])
def test_a_signature_by_ssh_keygen_holds_until_a_byte_of_the_file_changes(
    hash_name: str, tmp_path: Path, file: Path
) -> None:
    made = stock_signs(stock_made(tmp_path, "id"), file, "-O", f"hashalg={hash_name}")
    signature = read_signature(made)
    assert signature.holds(file_digest(file, signature.hash_name))
    file.write_bytes(TEXT.replace(b"one", b"two"))
    assert not signature.holds(file_digest(file, signature.hash_name))


@with_stock
@pytest.mark.parametrize("kind", ["rsa", "ecdsa"])
def test_a_signature_by_a_key_of_another_kind_is_left_to_ssh_keygen(kind: str, tmp_path: Path, file: Path) -> None:
    with pytest.raises(OtherKindError, match="ssh-ed25519 alone"):
        read_signature(stock_signs(stock_made(tmp_path, "id", kind=kind), file))


@pytest.mark.parametrize(
    ("armour", "why"),
    [
        (b"", "doesn't begin"),
        (ARMOUR.replace(b"\n", b"\r\n"), "doesn't begin"),
        (b"\n" + ARMOUR, "doesn't begin"),
        (ARMOUR[:-30], "END SSH SIGNATURE-----' is missing"),
        (ARMOUR.replace(b"U1NI", b"U1N*"), "base64 was damaged"),
        (armoured(b"SSHGIS" + BLOB[6:]), "not an SSH signature"),
        (armoured(BLOB[:6] + b"\0\0\0\2" + BLOB[10:]), "version 2"),
        (armoured(BLOB[:-1]), "ends too early"),
        (armoured(BLOB + b"\0"), "bytes after its end"),
        (armoured(BLOB[:10] + b"\xff\xff\xff\xff" + BLOB[14:]), "ends too early"),
        (write_signature(replace(SAMPLE, namespace="")), "what it was made for"),
        (write_signature(replace(SAMPLE, hash_name="md5")), "hash 'md5'"),
        (write_signature(replace(SAMPLE, value=b"short")), "5 bytes where ssh-ed25519 has 64"),
        (armoured(BLOB.replace(b"passcheck-j", b"passcheck-\xff")), "no text"),
    ],
)
def test_a_signature_that_is_none_is_refused_with_its_reason(armour: bytes, why: str) -> None:
    with pytest.raises(NotInFormError, match=why):
        read_signature(armour)


def test_what_stands_after_the_last_line_and_in_the_reserved_field_is_passed_over_as_by_ssh_keygen() -> None:
    at = BLOB.index(NAMESPACE.encode()) + len(NAMESPACE)
    assert read_signature(armoured(BLOB[:at] + b"\0\0\0\3abc" + BLOB[at + 4 :])) == SAMPLE
    assert read_signature(ARMOUR + b"anything\n") == SAMPLE


@given(st.one_of(st.binary(max_size=300), st.binary(max_size=300).map(armoured)))
def test_no_bytes_whatever_end_in_anything_but_a_refusal(data: bytes) -> None:
    with pytest.raises(NotInFormError):
        read_signature(data)


@given(st.integers(0, len(BLOB) - 1), st.integers(1, 255), st.booleans())
def test_a_damaged_signature_is_refused_or_another_one_but_never_the_same(at: int, flip: int, cut: bool) -> None:
    damaged = BLOB[:at] if cut else BLOB[:at] + bytes([BLOB[at] ^ flip]) + BLOB[at + 1 :]
    try:
        read = read_signature(armoured(damaged))
    except NotInFormError:
        return
    # A version below 1 is passed over, by ssh-keygen too; every other byte says something.
    assert read != SAMPLE or BLOB[at - 3 : at + 1] == b"\0\0\0\1"


def test_without_the_extra_a_signature_is_read_and_whether_it_holds_stays_open(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in [name for name in sys.modules if name.partition(".")[0] == "cryptography"]:
        monkeypatch.setitem(sys.modules, name, None)
    monkeypatch.setitem(sys.modules, "cryptography", None)
    assert read_signature(ARMOUR) == SAMPLE
    with pytest.raises(ExtraMissing, match=r"cryptography is not installed here: pip install 'passcheck\[sign\]'"):
        SAMPLE.holds(b"")

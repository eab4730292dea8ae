"""Are signatures read, written, made and checked as OpenSSH does it, and is everything else refused in words?"""

import base64
import hashlib
import sys
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from ssh_keys import key_pair, ssh_keygen, stock_made, stock_signs, with_stock

from passcheck.records.ssh_signature import (
    HASH,
    NAMESPACE,
    ExtraMissing,
    NotInFormError,
    OtherKindError,
    PublicKey,
    Signature,
    WrongPassphraseError,
    ask_for_extra,
    file_digest,
    read_private_key,
    read_public_key,
    read_signature,
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
    ours = read_private_key(key.path.read_bytes()).sign(file_digest(file))
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
@pytest.mark.parametrize("cipher", ["aes256-ctr", "aes256-gcm@openssh.com"])
def test_a_passphrase_opens_the_key_and_another_does_not(cipher: str, tmp_path: Path) -> None:
    key = stock_made(tmp_path, "id", "-N", "lamp holder ä", "-a", "1", "-Z", cipher)
    private = read_private_key(key.path.read_bytes())
    digest = hashlib.sha512(TEXT).digest()
    assert private.locked
    assert private.sign(digest, "lamp holder ä").holds(digest)
    for wrong in ("lamp", "", None):
        with pytest.raises(WrongPassphraseError):
            private.sign(digest, wrong)


@with_stock
def test_a_lock_that_is_not_known_here_is_said(tmp_path: Path) -> None:
    key = stock_made(tmp_path, "id", "-N", "lamp holder", "-a", "1", "-Z", "chacha20-poly1305@openssh.com")
    with pytest.raises(OtherKindError, match="cipher"):
        read_private_key(key.path.read_bytes()).sign(b"", "lamp holder")


@with_stock
def test_the_fingerprint_is_the_one_that_ssh_keygen_prints(tmp_path: Path) -> None:
    key = stock_made(tmp_path, "id")
    said = ssh_keygen("-l", "-f", key.path.with_name("id.pub")).stdout.decode()
    assert read_private_key(key.path.read_bytes()).key.fingerprint == said.split()[1]


@with_stock
@pytest.mark.parametrize("kind", ["rsa", "ecdsa"])
def test_a_key_of_another_kind_is_refused_by_its_name(kind: str, tmp_path: Path, file: Path) -> None:
    key = stock_made(tmp_path, "id", kind=kind)
    with pytest.raises(OtherKindError, match=r"'(ssh-rsa|ecdsa-sha2-nistp256)', and passcheck handles ssh-ed25519"):
        read_private_key(key.path.read_bytes())
    with pytest.raises(OtherKindError, match="ssh-ed25519 alone"):
        read_signature(stock_signs(key, file))
    assert read_public_key(key.public).kind.startswith(("ssh-rsa", "ecdsa"))


def test_a_key_whose_halves_differ_signs_nothing(tmp_path: Path) -> None:
    one, other = (read_private_key(key_pair(tmp_path, name).path.read_bytes()) for name in ("one", "other"))
    with pytest.raises(WrongPassphraseError):
        replace(one, key=other.key).sign(b"")


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
    for read in (read_signature, read_private_key):
        with pytest.raises(NotInFormError):
            read(data)


@given(st.integers(0, len(BLOB) - 1), st.integers(1, 255), st.booleans())
def test_a_damaged_signature_is_refused_or_another_one_but_never_the_same(at: int, flip: int, cut: bool) -> None:
    damaged = BLOB[:at] if cut else BLOB[:at] + bytes([BLOB[at] ^ flip]) + BLOB[at + 1 :]
    try:
        read = read_signature(armoured(damaged))
    except NotInFormError:
        return
    # A version below 1 is passed over, by ssh-keygen too; every other byte says something.
    assert read != SAMPLE or BLOB[at - 3 : at + 1] == b"\0\0\0\1"


@given(st.text(max_size=120))
def test_no_text_whatever_ends_in_anything_but_a_key_or_a_refusal(text: str) -> None:
    with pytest.raises(NotInFormError):
        read_public_key(text)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.integers(0, 400), st.integers(1, 255))
def test_a_damaged_private_key_signs_right_or_not_at_all(tmp_path: Path, at: int, flip: int) -> None:
    path = tmp_path / "id_ed25519"
    whole = path.read_bytes() if path.exists() else key_pair(tmp_path).path.read_bytes()
    place = at % len(whole)
    damaged = whole[:place] + bytes([whole[place] ^ flip]) + whole[place + 1 :]
    digest = hashlib.sha512(TEXT).digest()
    with suppress(NotInFormError, WrongPassphraseError):
        assert read_private_key(damaged).sign(digest, "x").holds(digest)


def test_without_the_extra_a_signature_is_read_and_the_rest_says_how_it_is_installed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    private = read_private_key(key_pair(tmp_path, "id", "lamp").path.read_bytes())
    monkeypatch.setitem(sys.modules, "bcrypt", None)
    ask_for_extra()
    for locked in (lambda: private.sign(b"", "lamp"), lambda: ask_for_extra(locked=True)):
        with pytest.raises(ExtraMissing, match=r"bcrypt is not installed here: pip install 'passcheck\[sign\]'"):
            locked()
    for name in [name for name in sys.modules if name.partition(".")[0] == "cryptography"]:
        monkeypatch.setitem(sys.modules, name, None)
    monkeypatch.setitem(sys.modules, "cryptography", None)
    assert read_signature(ARMOUR) == SAMPLE
    for refused in (ask_for_extra, lambda: SAMPLE.holds(b""), lambda: private.sign(b"")):
        with pytest.raises(ExtraMissing, match=r"cryptography is not installed here: pip install 'passcheck\[sign\]'"):
            refused()

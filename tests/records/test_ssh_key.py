"""Are a person's keys read as OpenSSH writes them, is a private one opened, and is everything else refused in words?"""

import sys
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from ssh_keys import key_pair, ssh_keygen, stock_made, with_stock

from passcheck.errors import ExtraMissing
from passcheck.records.ssh_key import (
    NotInFormError,
    OtherKindError,
    PublicKey,
    WrongPassphraseError,
    ask_for_extra,
    read_private_key,
    read_public_key,
)

TEXT = b"one line of evidence\n"


def holds(key: PublicKey, value: bytes) -> bool:
    """Whether a key made this over the text."""
    try:
        Ed25519PublicKey.from_public_bytes(key.point()).verify(value, TEXT)
    except InvalidSignature:
        return False
    return True


@with_stock
@pytest.mark.parametrize("cipher", ["aes256-ctr", "aes256-gcm@openssh.com"])
def test_a_passphrase_opens_the_key_and_another_does_not(cipher: str, tmp_path: Path) -> None:
    key = stock_made(tmp_path, "id", "-N", "lamp holder ä", "-a", "1", "-Z", cipher)
    private = read_private_key(key.path.read_bytes())
    assert private.locked
    assert holds(private.key, private.sign(TEXT, "lamp holder ä"))
    for wrong in ("lamp", "", None):
        with pytest.raises(WrongPassphraseError):
            private.sign(TEXT, wrong)


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


def test_a_key_whose_halves_differ_signs_nothing(tmp_path: Path) -> None:
    one, other = (read_private_key(key_pair(tmp_path, name).path.read_bytes()) for name in ("one", "other"))
    with pytest.raises(WrongPassphraseError):
        replace(one, key=other.key).sign(b"")


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
    with suppress(NotInFormError, WrongPassphraseError):
        private = read_private_key(damaged)
        assert holds(private.key, private.sign(TEXT, "x"))


@with_stock
@pytest.mark.parametrize("kind", ["rsa", "ecdsa"])
def test_a_key_of_another_kind_is_refused_by_its_name(kind: str, tmp_path: Path) -> None:
    key = stock_made(tmp_path, "id", kind=kind)
    with pytest.raises(OtherKindError, match=r"'(ssh-rsa|ecdsa-sha2-nistp256)', and passcheck handles ssh-ed25519"):
        read_private_key(key.path.read_bytes())
    assert read_public_key(key.public).kind.startswith(("ssh-rsa", "ecdsa"))


@given(st.binary(max_size=300))
def test_no_bytes_whatever_end_in_anything_but_a_refusal_of_the_key(data: bytes) -> None:
    with pytest.raises(NotInFormError):
        read_private_key(data)


def test_without_the_extra_a_key_is_read_and_signing_says_how_it_is_installed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = key_pair(tmp_path, "id", "lamp").path.read_bytes()
    private = read_private_key(file)
    monkeypatch.setitem(sys.modules, "bcrypt", None)
    ask_for_extra()
    for locked in (lambda: private.sign(b"", "lamp"), lambda: ask_for_extra(locked=True)):
        with pytest.raises(ExtraMissing, match=r"bcrypt is not installed here: pip install 'passcheck\[sign\]'"):
            locked()
    for name in [name for name in sys.modules if name.partition(".")[0] == "cryptography"]:
        monkeypatch.setitem(sys.modules, name, None)
    monkeypatch.setitem(sys.modules, "cryptography", None)
    assert read_private_key(file) == private
    for refused in (ask_for_extra, lambda: private.sign(b"")):
        with pytest.raises(ExtraMissing, match=r"cryptography is not installed here: pip install 'passcheck\[sign\]'"):
            refused()

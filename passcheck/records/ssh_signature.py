"""What does OpenSSH write when a person's key signs a file, byte for byte?

The form is that of OpenSSH's PROTOCOL.sshsig, so `ssh-keygen -Y verify` checks what passcheck signed and the other way
round. Reading and writing the form needs nothing beside Python; whether a signature holds is worked out by the extra
`sign`, imported where it is needed.
"""

import base64
import hashlib
from dataclasses import dataclass
from pathlib import Path

from passcheck.records.disk import opened_to_read
from passcheck.records.ssh_key import (
    KIND,
    NotInFormError,
    PrivateKey,
    PublicKey,
    Wire,
    extra_missing,
    from_base64,
    of_kind,
    shown_name,
    wire_string,
)

NAMESPACE = "passcheck-journal"
"""Signed along with the file: a signature that was made for anything else never passes for one of a journal."""
HASH = "sha512"
_HASHES = ("sha256", HASH)
"""A signature of stock ssh-keygen may name either; passcheck writes the second."""

_BEGIN = b"-----BEGIN SSH SIGNATURE-----\n"
_END = b"\n-----END SSH SIGNATURE-----"
_MAGIC = b"SSHSIG"
_VERSION = 1
_COLUMNS = 70
"""As ssh-keygen breaks its lines, so that both write the same file."""
_BYTES = 64  # RFC 8032, 5.1.6


@dataclass(frozen=True, slots=True)
class Signature:
    """What a signature's file holds."""

    key: PublicKey
    namespace: str
    hash_name: str
    value: bytes
    """The 64 bytes of Ed25519."""

    def holds(self, digest: bytes) -> bool:
        """Whether the key made it over a file of this digest, taken with `hash_name`.

        Raises:
            ExtraMissing: it can't be worked out here.
        """
        try:
            from cryptography.exceptions import InvalidSignature
            from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
        except ImportError as missing:
            raise extra_missing("cryptography") from missing
        try:
            key = Ed25519PublicKey.from_public_bytes(self.key.point())
            key.verify(self.value, _signed_bytes(self.namespace, self.hash_name, digest))
        except (InvalidSignature, ValueError):
            return False
        return True


def signed_by(private: PrivateKey, digest: bytes, passphrase: str | None = None) -> Signature:
    """A key's signature over a journal, from the journal's SHA-512. Raises as `PrivateKey.sign` does."""
    value = private.sign(_signed_bytes(NAMESPACE, HASH, digest), passphrase)
    return Signature(private.key, NAMESPACE, HASH, value)


def file_digest(path: Path, hash_name: str = HASH) -> bytes:
    """The digest of a file, read once and never held whole. Raises OSError; NotAFileError for a link, too."""
    with opened_to_read(path) as stream:
        return hashlib.file_digest(stream, hash_name).digest()


def read_signature(text: bytes) -> Signature:
    """Take a signature's file apart; what stands after its last line is not looked at, nor is it by ssh-keygen.

    Raises OtherKindError for a signature that only ssh-keygen can check, NotInFormError for anything else.
    """
    if not text.startswith(_BEGIN):
        raise NotInFormError("it doesn't begin with the line '-----BEGIN SSH SIGNATURE-----' and a line feed")
    body, end, _ = text[len(_BEGIN) - 1 :].partition(_END)
    if not end:
        raise NotInFormError("the line '-----END SSH SIGNATURE-----' is missing")
    return _taken_apart(Wire(from_base64(body)))


def write_signature(signature: Signature) -> bytes:
    """The signature's file, as ssh-keygen writes it."""
    inner = wire_string(KIND.encode()) + wire_string(signature.value)
    fields = (signature.key.blob, signature.namespace.encode(), b"", signature.hash_name.encode(), inner)
    blob = _MAGIC + _VERSION.to_bytes(4, "big") + b"".join(map(wire_string, fields))
    digits = base64.b64encode(blob)
    lines = [digits[at : at + _COLUMNS] for at in range(0, len(digits), _COLUMNS)]
    return _BEGIN + b"\n".join(lines) + _END + b"\n"


def _taken_apart(wire: Wire) -> Signature:
    if wire.take(len(_MAGIC)) != _MAGIC:
        raise NotInFormError("it is not an SSH signature")
    version = wire.number()
    if version > _VERSION:
        raise NotInFormError(f"it is of version {version}, and only version {_VERSION} is known")
    # The reserved field may hold anything, and is never part of what is signed.
    key, namespace, _, hash_name, inner = (wire.string() for _ in range(5))
    wire.end()
    if not namespace:
        raise NotInFormError("it doesn't say what it was made for")
    if shown_name(hash_name) not in _HASHES:
        raise NotInFormError(f"it rests on the hash '{shown_name(hash_name)}', and only sha256 and sha512 are known")
    public = PublicKey(key)
    public.point()
    # The namespace is signed, so it has to go back to the very same bytes.
    return Signature(public, _exact(namespace), shown_name(hash_name), of_kind(inner, _BYTES, "signature"))


def _signed_bytes(namespace: str, hash_name: str, digest: bytes) -> bytes:
    """What the key really signs: what the signature is for and the file's digest."""
    return _MAGIC + b"".join(map(wire_string, (namespace.encode(), b"", hash_name.encode(), digest)))


def _exact(data: bytes) -> str:
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as fault:
        raise NotInFormError("what it was made for is no text") from fault

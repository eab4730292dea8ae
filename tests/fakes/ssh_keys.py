"""Keys of OpenSSH made for one test, and what the stock tool makes of them."""

import os
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat, PublicFormat

from passcheck.records.ssh_signature import NAMESPACE

SSH_KEYGEN = shutil.which("ssh-keygen") or ""
with_stock = pytest.mark.skipif(not SSH_KEYGEN, reason="OpenSSH's ssh-keygen is not installed here")


@dataclass(frozen=True)
class KeyPair:
    """A private key's file, and its public half as a line."""

    path: Path
    public: str


def key_pair(folder: Path, name: str = "id_ed25519", passphrase: str = "") -> KeyPair:
    """A fresh Ed25519 key in OpenSSH's form; its lock is of one round, so that a test doesn't wait for it."""
    key = Ed25519PrivateKey.generate()
    lock = PrivateFormat.OpenSSH.encryption_builder().kdf_rounds(1)
    shut = lock.build(passphrase.encode()) if passphrase else NoEncryption()
    path = folder / name
    path.write_bytes(key.private_bytes(Encoding.PEM, PrivateFormat.OpenSSH, shut))
    path.chmod(0o600)
    public = key.public_key().public_bytes(Encoding.OpenSSH, PublicFormat.OpenSSH).decode()
    (folder / f"{name}.pub").write_text(f"{public} {name}\n", encoding="utf-8")
    return KeyPair(path, public)


def ssh_keygen(*arguments: str | Path, stdin: bytes = b"") -> "subprocess.CompletedProcess[bytes]":
    """The stock tool, which must not find anybody's agent."""
    env = {name: value for name, value in os.environ.items() if not name.startswith("SSH_")}
    command = [SSH_KEYGEN, *map(str, arguments)]
    return subprocess.run(command, input=stdin, capture_output=True, check=False, env=env)


def stock_made(folder: Path, name: str, *how: str, kind: str = "ed25519") -> KeyPair:
    """A key that ssh-keygen made."""
    path = folder / name
    shut = () if "-N" in how else ("-N", "")
    made = ssh_keygen("-q", "-t", kind, "-f", path, "-C", name, *shut, *how)
    assert made.returncode == 0, made.stderr
    public = path.with_name(f"{name}.pub").read_text(encoding="utf-8")
    return KeyPair(path, " ".join(public.split()[:2]))


def stock_signs(key: KeyPair, file: Path, *how: str, namespace: str = NAMESPACE) -> bytes:
    """The signature that ssh-keygen makes of a file."""
    made = ssh_keygen("-q", "-Y", "sign", "-f", key.path, "-n", namespace, *how, stdin=file.read_bytes())
    assert made.returncode == 0, made.stderr
    return made.stdout


def stock_accepts(file: Path, signers: Path, person: str, at: str = "", revoked: Path | None = None) -> bool:
    """Whether ssh-keygen accepts the signature that lies beside a file; `at` as in `20310402091403Z`."""
    signature = file.with_name(f"{file.name}.sig")
    how = [*(["-O", f"verify-time={at}"] if at else []), *(["-r", str(revoked)] if revoked else [])]
    named = ("-f", signers, "-I", person, "-n", NAMESPACE, "-s", signature)
    return ssh_keygen("-Y", "verify", *named, *how, stdin=file.read_bytes()).returncode == 0

"""Is a journal signed, does the signature hold, and whose is it?

A signature lies beside its journal, `A31-0417.jsonl.sig`. Three things are asked of it, and each is told apart: that it
was made over these very bytes, that the key stands in the shop's list, and that the list let it sign when the journal
was sealed. Only the first says anything about the journal; without the extra `sign` it stays unanswered here.
"""

import shlex
from dataclasses import dataclass
from datetime import datetime
from enum import Enum
from pathlib import Path

from passcheck.errors import ExtraMissing
from passcheck.records.disk import Disk
from passcheck.records.remedy import ask_disk
from passcheck.records.signers import REVOKED, Revoked, Signers, read_revoked, read_signers
from passcheck.records.ssh_key import NotInFormError, OtherKindError
from passcheck.records.ssh_signature import NAMESPACE, Signature, file_digest, read_signature

SUFFIX = ".sig"
LARGEST = 64 * 1024
_SHOWN = 40
ANYBODY = "PERSON"
"""Stands in a command for the name that its reader has to fill in."""


class Kind(Enum):
    """What a journal's signature is worth."""

    UNSIGNED = "unsigned"
    HOLDS = "signed"
    NOBODY = "signed in nobody's name"
    ANOTHER = "signed by another"
    """By a person of the list, and not by the one who was asked for."""
    NOT_ALLOWED = "signed against the shop's lists"
    REVOKED = "signed with a revoked key"
    BROKEN = "does not hold"
    NOT_CHECKED = "not checked"


@dataclass(frozen=True, slots=True)
class Signed:
    """A kind, and what a person is told."""

    kind: Kind
    sentence: str
    fingerprint: str = ""
    """Of the key that the signature names; empty where none can be read."""
    person: str = ""
    """Whose key it is by the shop's list; empty where it is nobody's."""
    slips: tuple[str, ...] = ()
    """What is wrong in the lists of keys, each with file and line."""

    @property
    def altered(self) -> bool:
        """Whether it shows that the journal, or its signature, is not what was signed."""
        return self.kind is Kind.BROKEN


def signature_path(journal: Path) -> Path:
    """Where a journal's signature lies."""
    return journal.with_name(journal.name + SUFFIX)


def signature_remark(
    journal: Path, signers: Path | None, sealed_at: str | None, *, person: str | None = None, disk: Disk | None = None
) -> Signed:
    """Check a journal's signature.

    Args:
        journal: the journal.
        signers: the list `allowed_signers`, with `revoked_keys` beside it; None where the shop has none.
        sealed_at: `at` of the line that sealed the journal; None while it is open.
        person: only this person's signature will do, as of the one who sealed it; None for anybody's of the list.
        disk: where the files lie.

    Raises:
        BenchFailed: a file can't be read.
    """
    disk = disk or Disk()
    path = signature_path(journal)
    try:
        signature = _read(path, disk)
    except OtherKindError as fault:
        return Signed(Kind.NOT_CHECKED, f"{path.name} was not checked here: {fault}. {_stock(journal, signers)}")
    except NotInFormError as fault:
        return _broken(path, str(fault))
    if signature is None:
        return Signed(Kind.UNSIGNED, f"{journal.name} is not signed.")
    if signature.namespace != NAMESPACE:
        return _broken(path, f"it was made for '{signature.namespace[:40]}' and not for {NAMESPACE}", signature)
    try:
        digest = ask_disk(lambda: file_digest(journal, signature.hash_name), journal)
        if not signature.holds(digest):
            return _broken(path, "the journal or its signature was altered after the signing", signature)
    except FileNotFoundError:
        return _broken(path, "its journal is gone", signature)
    except ExtraMissing as missing:
        return Signed(
            Kind.NOT_CHECKED,
            f"{path.name} names the key {signature.key.fingerprint} and was not checked here. {missing} "
            f"{_stock(journal, signers)}",
            signature.key.fingerprint,
        )
    return _whose(path, signature, _lists(signers, disk), _seconds(sealed_at), person)


def check_command(journal: Path, signers: Path, person: str) -> str:
    """The command by which an outsider checks a signature with OpenSSH alone."""
    revoked = signers.with_name(REVOKED)
    lost = ["-r", str(revoked)] if revoked.exists() else []
    words = ["ssh-keygen", "-Y", "verify", "-f", str(signers), *lost, "-I", person, "-n", NAMESPACE]
    return f"{shlex.join([*words, '-s', str(signature_path(journal))])} < {shlex.quote(str(journal))}"


def _read(path: Path, disk: Disk) -> Signature | None:
    facts = ask_disk(lambda: disk.facts_of(path), path)
    if facts is None:
        return None
    if facts.size > LARGEST:
        raise NotInFormError("it is far larger than a signature")
    try:
        return read_signature(ask_disk(lambda: disk.read_all(path), path))
    except FileNotFoundError:
        return None  # moved away a moment ago


def _lists(signers: Path | None, disk: Disk) -> tuple[Signers, Revoked] | None:
    if signers is None:
        return None
    return read_signers(signers, disk), read_revoked(signers.with_name(REVOKED), disk)


def _whose(
    path: Path, signature: Signature, lists: tuple[Signers, Revoked] | None, at_s: int | None, person: str | None
) -> Signed:
    """A signature that holds: what do the shop's lists say of its key?"""
    key, name = signature.key.fingerprint, path.name
    if lists is None:
        return Signed(Kind.NOBODY, f"{name} holds for the key {key}; no list says whose it is.", key)
    signers, revoked = lists
    slips = signers.slips + revoked.slips
    leave = signers.leave(signature.key, NAMESPACE, at_s or 0, person)
    whose = leave.person if leave else ""
    line = revoked.line_of(signature.key)
    if line is not None:
        sentence = f"{name} holds, but its key {key} is revoked ({revoked.path}, line {line})."
        return Signed(Kind.REVOKED, sentence, key, whose, slips)
    if revoked.slips:
        sentence = f"{name} holds, but whether its key {key} is revoked can't be told: {revoked.slips[0]}"
        return Signed(Kind.NOT_ALLOWED, sentence, key, whose, slips)
    other = signers.leave(signature.key, NAMESPACE, at_s or 0) if leave is None else None
    if other is not None:
        sentence = (
            f"{name} holds and is {other.person}'s ({signers.path}, line {other.line}), and {str(person)[:_SHOWN]} "
            "sealed the journal. Ask both who signed it."
        )
        return Signed(Kind.ANOTHER, sentence, key, other.person, slips)
    if leave is None:
        anybody = f"{person[:_SHOWN]}'s" if person else "anybody's"
        sentence = f"{name} holds, but its key {key} is in nobody's name: {signers.path} doesn't have it as {anybody}."
        return Signed(Kind.NOBODY, sentence, key, "", slips)
    if at_s is None:
        sentence = f"{name} holds and is {whose}'s, but the journal shows no seal, so it vouches for no whole job."
        return Signed(Kind.NOT_ALLOWED, sentence, key, whose, slips)
    if leave.against:
        against = f"{leave.against} ({signers.path}, line {leave.line})"
        sentence = f"{name} holds and is {whose}'s, who might not sign when the journal was sealed: {against}."
        return Signed(Kind.NOT_ALLOWED, sentence, key, whose, slips)
    return Signed(Kind.HOLDS, f"{name} holds: signed by {whose} with the key {key}.", key, whose, slips)


def _broken(path: Path, why: str, signature: Signature | None = None) -> Signed:
    sentence = f"{path.name} does not hold: {why}. Look for journal and signature in a backup."
    return Signed(Kind.BROKEN, sentence, signature.key.fingerprint if signature else "")


def _stock(journal: Path, signers: Path | None) -> str:
    """How it is checked all the same."""
    return f"OpenSSH checks it: {check_command(journal, signers or Path('allowed_signers'), ANYBODY)}"


def _seconds(sealed_at: str | None) -> int | None:
    """Whole seconds since 1970, as ssh-keygen counts them."""
    try:
        return int(datetime.fromisoformat(sealed_at).timestamp()) if sealed_at else None
    except ValueError:
        return None

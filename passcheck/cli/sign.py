"""How does a technician put their own key to a sealed journal?

The key is their own, in a file of OpenSSH's form; its passphrase is asked on the terminal and taken from nowhere else.
The signature lies beside the journal, and nothing else is changed.
"""

import getpass
import os
import shlex
import stat
import warnings
from collections.abc import Sequence
from pathlib import Path

from passcheck.cli.clock import now
from passcheck.cli.folders import Folders, practice_folders
from passcheck.cli.say import complain, say, say_practice
from passcheck.cli.wire import bench_files, log_folder
from passcheck.errors import BenchFailed, ExtraMissing, FileFault
from passcheck.records.disk import Disk
from passcheck.records.remedy import if_there
from passcheck.records.signed import (
    ANYBODY,
    Kind,
    Signed,
    check_command,
    signature_path,
    signature_remark,
)
from passcheck.records.signers import ALLOWED
from passcheck.records.ssh_key import (
    NotInFormError,
    OtherKindError,
    PrivateKey,
    WrongPassphraseError,
    ask_for_extra,
    read_private_key,
)
from passcheck.records.ssh_signature import NAMESPACE, Signature, file_digest, signed_by, write_signature
from passcheck.records.verified import Standing, Verifier, verify_ledger
from passcheck.records.whole_file import write_whole
from passcheck.sequence.show_text import show_text

KEY = "PASSCHECK_KEY"
USUAL_KEY = Path(".ssh") / "id_ed25519"
LARGEST_KEY = 64 * 1024
_MAKE_ONE = "'ssh-keygen -t ed25519' makes one"


def sign(job_id: str, key: str | None, folders: Folders, *, practice: bool) -> int:
    """Sign a job's journal and say how anybody checks it; give the exit status.

    Raises:
        FileFault: the job is not one to be signed, or the key not one to sign with.
        BenchFailed: the disk refuses, the extra is missing, or there is no terminal to ask on.
    """
    disk, signers = Disk(), folders.logs / ALLOWED
    journal, digest, sealed_at, remarks = _sealed_journal(job_id.upper(), folders, practice=practice)
    _refuse_second(journal, signers, sealed_at)
    key_path = Path(key or os.environ.get(KEY) or Path.home() / USUAL_KEY)
    private = _private_key(key_path)
    for remark in remarks:  # whoever signs reads it before the passphrase is typed
        say(remark)
    signature = _signature(private, key_path, journal, digest)
    write_whole(signature_path(journal), write_signature(signature), disk)
    if practice:
        say_practice()
    _tell(journal, signers, signature_remark(journal, signers, sealed_at))
    return 0


def _sealed_journal(job_id: str, folders: Folders, *, practice: bool) -> tuple[Path, bytes, str, Sequence[str]]:
    """The journal, its SHA-512, the moment of its seal, and what is to be known of its records."""
    below = practice_folders(folders) if practice else folders
    logs = log_folder(folders, bench_files(below, now).read().letter, now, practice=practice)
    journal = logs.journal_path(job_id)
    # Before it is looked at: were it swapped in between, the signature would be of neither and would not hold.
    digest = if_there(lambda: file_digest(journal), journal)  # where there is none, the ledger says what that means
    looked = Verifier(logs).look(job_id)
    stands = looked.verified
    against = (*verify_ledger(logs).faults, *stands.faults)
    if stands.standing is not Standing.SEALED and looked.sealed_at is not None:
        against += stands.remarks  # the ledger doesn't know of the seal yet
    if against:
        raise FileFault(f"{job_id} is not signed. {' '.join(dict.fromkeys(against))}")
    if digest is None or looked.sealed_at is None:
        raise FileFault(
            f"{job_id} is not sealed, so it may still change. Sign it when the unit was signed off or returned."
        )
    return journal, digest, looked.sealed_at, stands.remarks


def _refuse_second(journal: Path, signers: Path, sealed_at: str) -> None:
    path = signature_path(journal)
    if not os.path.lexists(path):
        return
    there = signature_remark(journal, signers, sealed_at)
    raise FileFault(f"{path} is there already. {there.sentence} Nothing was changed; move it away to sign anew.")


def _private_key(path: Path) -> PrivateKey:
    """The key's file, without its passphrase."""
    try:
        # A pipe or a device under that name would be waited for without end.
        if not path.is_file():
            raise FileFault(f"{path}: there is no key. Name yours with --key FILE or {KEY}; {_MAKE_ONE}.")
        facts = path.stat()
        text = path.read_bytes() if facts.st_size <= LARGEST_KEY else b""
    except OSError as fault:
        raise FileFault(f"{path}: it can't be read ({fault.strerror}). Name your key with --key FILE.") from fault
    if text.startswith((b"ssh-", b"ecdsa-", b"sk-")):
        raise FileFault(f"{path}: this is the public half of a key. Name the private one, the file without .pub.")
    try:
        private = read_private_key(text)
    except OtherKindError as fault:
        raise FileFault(f"{path}: {fault}. {_MAKE_ONE.capitalize()}.") from fault
    except NotInFormError as fault:
        raise FileFault(f"{path}: {fault}. Name an Ed25519 key of OpenSSH; {_MAKE_ONE}.") from fault
    if _open_to_others(facts):
        raise FileFault(f"{path}: others on this machine may read it, so it is nobody's own. 'chmod 600' shuts it.")
    return private


def _open_to_others(facts: os.stat_result) -> bool:
    """Where files have an owner and rights for others; ssh-keygen refuses such a key as well."""
    owner = getattr(os, "getuid", None)
    return owner is not None and facts.st_uid == owner() and bool(facts.st_mode & (stat.S_IRWXG | stat.S_IRWXO))


def _signature(private: PrivateKey, path: Path, journal: Path, digest: bytes) -> Signature:
    try:
        ask_for_extra(locked=private.locked)
        passphrase = _ask(f"Passphrase of {path}: ") if private.locked else None
        return signed_by(private, digest, passphrase)
    except ExtraMissing as missing:
        stock = shlex.join(["ssh-keygen", "-Y", "sign", "-f", str(path), "-n", NAMESPACE, str(journal)])
        raise BenchFailed(f"Nothing was signed. {missing} OpenSSH signs it as well: {stock}") from missing
    except OtherKindError as fault:
        raise FileFault(f"{path}: {fault}. 'ssh-keygen -p -Z aes256-ctr -f FILE' shuts it with another.") from fault
    except WrongPassphraseError as wrong:
        if private.locked:
            raise FileFault(f"{path}: that passphrase does not open it. Nothing was signed.") from wrong
        raise FileFault(f"{path}: the key is damaged. Nothing was signed; put it back from a backup.") from wrong


def _ask(prompt: str) -> str:
    """A line from the terminal, not shown while it is typed; never from a pipe."""
    try:
        with warnings.catch_warnings():
            # Where it can't turn the echo off, getpass would warn and go on.
            warnings.simplefilter("error", getpass.GetPassWarning)
            return getpass.getpass(show_text(prompt))
    except (getpass.GetPassWarning, EOFError, OSError) as fault:
        raise BenchFailed(
            "The key's passphrase is asked on a terminal, and there is none here. Nothing was signed."
        ) from fault


def _tell(journal: Path, signers: Path, signed: Signed) -> None:
    if signed.kind is Kind.BROKEN:
        raise BenchFailed(
            f"{signature_path(journal)} was written and does not check. Look after the disk, then move it."
        )
    for slip in signed.slips:
        complain(slip)
    say(f"{signature_path(journal)} was written with the key {signed.fingerprint}.")
    say(_whose(signers, signed))
    say("Anybody checks it with OpenSSH alone:")
    say(check_command(journal, signers, signed.person or ANYBODY), indent=4)


def _whose(signers: Path, signed: Signed) -> str:
    if signed.kind is Kind.HOLDS:
        return f"The key is {signed.person}'s by {signers}."
    if signed.kind is Kind.NOBODY:
        return f"The key is in nobody's name: enter it in {signers}, the person first, then the line of its .pub file."
    return signed.sentence

"""Is a journal's signature judged as OpenSSH judges it, and is the person told which of its three questions failed?"""

import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from failing_disk import FailingDisk
from journal_lines import AT, a_line, opening, sign_off, stamp
from ssh_keys import KeyPair, key_pair, stock_accepts, stock_made, stock_signs, with_stock

from passcheck.errors import BenchFailed
from passcheck.records.journal import Journal
from passcheck.records.signed import Kind, check_command, signature_path, signature_remark
from passcheck.records.ssh_key import read_private_key
from passcheck.records.ssh_signature import file_digest, signed_by, write_signature

SEALED_AT = "20310402091403Z"
"""`AT` as ssh-keygen writes a moment; it counts whole seconds."""


@dataclass(frozen=True)
class Shop:
    """A sealed journal that t1 signed, in a shop with two people's keys."""

    journal: Path
    signers: Path
    one: KeyPair
    two: KeyPair

    @property
    def signature(self) -> Path:
        return signature_path(self.journal)

    @property
    def revoked(self) -> Path:
        return self.signers.with_name("revoked_keys")

    def sign(self, key: KeyPair | None = None) -> None:
        made = signed_by(read_private_key((key or self.one).path.read_bytes()), file_digest(self.journal))
        self.signature.write_bytes(write_signature(made))

    def list(self, *lines: str) -> None:
        self.signers.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    journal = tmp_path / "A31-0417.jsonl"
    Journal.create(journal, [opening("A31-0417"), a_line(1), sign_off(2)], stamp=stamp).close()
    shop = Shop(journal, tmp_path / "allowed_signers", key_pair(tmp_path, "one"), key_pair(tmp_path, "two"))
    shop.list(f"t1 {shop.one.public}", f"t2 {shop.two.public}")
    shop.sign()
    return shop


def untouched(_shop: Shop) -> None:
    pass


def altered(shop: Shop) -> None:
    shop.journal.write_bytes(shop.journal.read_bytes().replace(b"note 1", b"note 7"))


def line_feed_added(shop: Shop) -> None:
    shop.journal.write_bytes(shop.journal.read_bytes() + b"\n")


def swapped(shop: Shop) -> None:
    """Another journal's signature."""
    other = shop.journal.with_name("A31-0418.jsonl")
    other.write_bytes(b"another job\n")
    signature = signed_by(read_private_key(shop.one.path.read_bytes()), file_digest(other))
    shop.signature.write_bytes(write_signature(signature))


def other_namespace(shop: Shop) -> None:
    shop.signature.write_bytes(stock_signs(shop.one, shop.journal, namespace="file"))


def other_namespace_that_begins_alike(shop: Shop) -> None:
    shop.signature.write_bytes(stock_signs(shop.one, shop.journal, namespace="passcheck-journals"))


def a_stranger_s_key(shop: Shop) -> None:
    shop.sign(key_pair(shop.journal.parent, "three"))


def the_colleague_s_key(shop: Shop) -> None:
    shop.sign(shop.two)


def revoked_key(shop: Shop) -> None:
    shop.revoked.write_text(f"# lost\n{shop.one.public} t1's old key\n", encoding="utf-8")


def another_key_revoked(shop: Shop) -> None:
    shop.revoked.write_text(f"{shop.two.public}\n", encoding="utf-8")


def damaged_revoked_keys(shop: Shop) -> None:
    shop.revoked.write_text("the old key of t1\n", encoding="utf-8")


def not_yet(shop: Shop) -> None:
    shop.list(f't1 valid-after="20310402091404Z" {shop.one.public}')


def no_longer(shop: Shop) -> None:
    shop.list(f't1 valid-before="20310402091402Z" {shop.one.public}')


def just_then(shop: Shop) -> None:
    shop.list(f't1 valid-after="{SEALED_AT}",valid-before="20310402091404Z" {shop.one.public}')


def for_mail_only(shop: Shop) -> None:
    shop.list(f't1 namespaces="email" {shop.one.public}')


def nobody_listed(shop: Shop) -> None:
    shop.list("# nobody yet")


def damaged_armour(shop: Shop) -> None:
    shop.signature.write_bytes(shop.signature.read_bytes()[:-40])


def damaged_value(shop: Shop) -> None:
    lines = shop.signature.read_bytes().splitlines(keepends=True)
    lines[-2] = b"A" + lines[-2][1:] if lines[-2][:1] != b"A" else b"B" + lines[-2][1:]
    shop.signature.write_bytes(b"".join(lines))


def by_stock(shop: Shop) -> None:
    shop.signature.write_bytes(stock_signs(shop.one, shop.journal))


def by_stock_with_sha256(shop: Shop) -> None:
    shop.signature.write_bytes(stock_signs(shop.one, shop.journal, "-O", "hashalg=sha256"))


VERDICTS: list[tuple[Callable[[Shop], None], Kind]] = [
    (untouched, Kind.HOLDS),
    (by_stock, Kind.HOLDS),
    (by_stock_with_sha256, Kind.HOLDS),
    (just_then, Kind.HOLDS),
    (another_key_revoked, Kind.HOLDS),
    (altered, Kind.BROKEN),
    (line_feed_added, Kind.BROKEN),
    (swapped, Kind.BROKEN),
    (other_namespace, Kind.BROKEN),
    (other_namespace_that_begins_alike, Kind.BROKEN),
    (damaged_armour, Kind.BROKEN),
    (damaged_value, Kind.BROKEN),
    (a_stranger_s_key, Kind.NOBODY),
    (the_colleague_s_key, Kind.ANOTHER),
    (nobody_listed, Kind.NOBODY),
    (revoked_key, Kind.REVOKED),
    (damaged_revoked_keys, Kind.NOT_ALLOWED),
    (not_yet, Kind.NOT_ALLOWED),
    (no_longer, Kind.NOT_ALLOWED),
    (for_mail_only, Kind.NOT_ALLOWED),
]


@with_stock
@pytest.mark.parametrize(("done", "kind"), VERDICTS, ids=[done.__name__ for done, _ in VERDICTS])
def test_passcheck_and_ssh_keygen_accept_and_refuse_the_same(
    done: Callable[[Shop], None], kind: Kind, shop: Shop
) -> None:
    done(shop)
    signed = signature_remark(shop.journal, shop.signers, AT, person="t1")
    revoked = shop.revoked if shop.revoked.exists() else None
    assert signed.kind is kind, signed
    assert (signed.kind is Kind.HOLDS) == stock_accepts(shop.journal, shop.signers, "t1", SEALED_AT, revoked)
    assert signed.altered == (kind is Kind.BROKEN)


@with_stock
def test_only_the_person_that_was_asked_for_will_do(shop: Shop) -> None:
    assert signature_remark(shop.journal, shop.signers, AT, person="t2").kind is Kind.ANOTHER
    assert not stock_accepts(shop.journal, shop.signers, "t2", SEALED_AT)
    assert signature_remark(shop.journal, shop.signers, AT).person == "t1"


@with_stock
def test_the_command_that_is_told_checks_the_signature_when_a_shell_runs_it(shop: Shop) -> None:
    folder = shop.journal.parent / "it's a folder; with $signs"
    folder.mkdir()
    journal, signers = folder / shop.journal.name, folder / "allowed_signers"
    for source, target in ((shop.journal, journal), (shop.signature, signature_path(journal)), (shop.signers, signers)):
        shutil.copy(source, target)

    def checks() -> bool:
        shell = ["/bin/sh", "-c", check_command(journal, signers, "t1")]
        return subprocess.run(shell, capture_output=True, check=False).returncode == 0

    assert checks()
    (folder / "revoked_keys").write_text(f"{shop.one.public}\n", encoding="utf-8")
    assert not checks()


def test_each_answer_has_its_sentence(shop: Shop) -> None:
    key = read_private_key(shop.one.path.read_bytes()).key.fingerprint
    held = signature_remark(shop.journal, shop.signers, AT)
    assert held.sentence == f"A31-0417.jsonl.sig holds: signed by t1 with the key {key}."
    assert (held.person, held.fingerprint) == ("t1", key)
    not_yet(shop)
    assert signature_remark(shop.journal, shop.signers, AT).sentence == (
        "A31-0417.jsonl.sig holds and is t1's, who might not sign when the journal was sealed: "
        f"this key signs from 2031-04-02 09:14:04 UTC on ({shop.signers}, line 1)."
    )
    revoked_key(shop)
    assert (
        f"its key {key} is revoked ({shop.revoked}, line 2)"
        in signature_remark(shop.journal, shop.signers, AT).sentence
    )
    damaged_revoked_keys(shop)
    assert f"can't be told: {shop.revoked}, line 1: " in signature_remark(shop.journal, shop.signers, AT).sentence
    altered(shop)
    assert "altered after the signing" in signature_remark(shop.journal, shop.signers, AT).sentence
    shop.journal.rename(shop.journal.with_name("moved"))
    assert "its journal is gone" in signature_remark(shop.journal, shop.signers, AT).sentence
    shop.signature.unlink()
    assert signature_remark(shop.journal, shop.signers, AT).sentence == "A31-0417.jsonl is not signed."


def test_a_colleague_s_signature_names_both_people(shop: Shop) -> None:
    signed = signature_remark(shop.journal, shop.signers, AT, person="t2")
    assert signed.sentence == (
        f"A31-0417.jsonl.sig holds and is t1's ({shop.signers}, line 1), and t2 sealed the journal. "
        "Ask both who signed it."
    )
    assert (signed.person, signed.altered) == ("t1", False)
    assert signature_remark(shop.journal, None, AT, person="t2").kind is Kind.NOBODY


def test_without_a_list_the_signature_holds_in_nobody_s_name(shop: Shop) -> None:
    signed = signature_remark(shop.journal, None, AT)
    assert (signed.kind, signed.person) == (Kind.NOBODY, "")
    assert signature_remark(shop.journal, shop.signers.with_name("nowhere"), AT).kind is Kind.NOBODY


def test_a_signature_of_an_open_journal_vouches_for_no_job(shop: Shop) -> None:
    signed = signature_remark(shop.journal, shop.signers, None)
    assert signed.kind is Kind.NOT_ALLOWED
    assert "shows no seal" in signed.sentence
    assert signature_remark(shop.journal, shop.signers, "2031-13-45T99:00:00.000Z").kind is Kind.NOT_ALLOWED


def test_slips_of_the_lists_come_along_whatever_the_answer(shop: Shop) -> None:
    shop.list("t3 colour=red", f"t1 {shop.one.public}")
    signed = signature_remark(shop.journal, shop.signers, AT)
    assert signed.kind is Kind.HOLDS
    assert [slip.split(":")[0] for slip in signed.slips] == [f"{shop.signers}, line 1"]


@with_stock
def test_a_key_that_only_ssh_keygen_handles_is_not_checked_and_not_called_altered(shop: Shop) -> None:
    other = stock_made(shop.journal.parent, "other", kind="ecdsa")
    shop.signature.write_bytes(stock_signs(other, shop.journal))
    signed = signature_remark(shop.journal, shop.signers, AT)
    assert signed.kind is Kind.NOT_CHECKED
    assert "of the kind 'ecdsa-sha2-nistp256', and passcheck handles ssh-ed25519 alone" in signed.sentence
    assert "ssh-keygen -Y verify" in signed.sentence


def test_without_the_extra_it_says_so_and_names_both_remedies(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in [name for name in sys.modules if name.partition(".")[0] == "cryptography"]:
        monkeypatch.setitem(sys.modules, name, None)
    signed = signature_remark(shop.journal, shop.signers, AT)
    assert signed.kind is Kind.NOT_CHECKED
    assert "pip install 'passcheck[sign]'" in signed.sentence
    assert check_command(shop.journal, shop.signers, "PERSON") in signed.sentence
    assert signed.fingerprint.startswith("SHA256:")
    assert not signed.altered
    damaged_armour(shop)
    assert signature_remark(shop.journal, shop.signers, AT).kind is Kind.BROKEN


def test_a_file_far_too_large_is_no_signature_and_is_not_read(shop: Shop) -> None:
    shop.signature.write_bytes(bytes(65_537))
    assert "far larger than a signature" in signature_remark(shop.journal, shop.signers, AT).sentence


def test_a_disk_that_refuses_is_the_bench_s_failure_and_no_verdict(shop: Shop) -> None:
    disk = FailingDisk()
    signature_remark(shop.journal, shop.signers, AT, disk=disk)
    for nth in range(len(disk.calls)):
        disk.fail_at(nth)
        with pytest.raises(BenchFailed):
            signature_remark(shop.journal, shop.signers, AT, disk=disk)

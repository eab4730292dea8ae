"""Does `passcheck verify` walk jobs through the gate again for whoever asks, and say what stood against an ending?"""

import json
from pathlib import Path

import cheats
import pytest
from small_shop import NEWEST_SEALED, STILL_OPEN, SmallShop, open_shop
from standings import tree

from passcheck.cli.folders import Folders
from passcheck.cli.main import main
from passcheck.cli.practice_auto import practice_auto
from passcheck.cli.verify_gate import GateAgain
from passcheck.records.verified import Looked, Standing, Verified, Verifier

BOARDS = Path(__file__).parents[2] / "sequences"
VISITS = 5
"""One of each demo board."""


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> SmallShop:
    """The shop as it was left."""
    return open_shop(tmp_path_factory.mktemp("shop"))


@pytest.fixture
def shop(whole: SmallShop, tmp_path: Path) -> SmallShop:
    """A copy in which nobody cheated."""
    return whole.copied(tmp_path / "bench")


@pytest.fixture
def cheated(shop: SmallShop) -> SmallShop:
    """A copy in which somebody wrote a sign-off under a failed job."""
    cheats.a_sign_off_is_written_past_the_gate(shop)
    return shop


def ask(shop: SmallShop, capsys: pytest.CaptureFixture[str], *how: str) -> tuple[int, list[str]]:
    """Exit status and the lines of the answer."""
    status = main(["--logs", str(shop.logs), "--sequences", str(shop.boards), "verify", *how])
    return status, capsys.readouterr().out.splitlines()


def test_where_nobody_cheated_each_ending_stands_and_how_many_were_walked_is_said(
    shop: SmallShop, capsys: pytest.CaptureFixture[str]
) -> None:
    before = tree(shop.logs)
    status, said = ask(shop, capsys, "--gate")
    assert status == 10
    assert said[-3:-1] == [
        "6 jobs: 5 sealed, 1 open.",
        "5 that ended were walked through the gate again: nothing stood against any.",
    ]
    assert tree(shop.logs) == before
    without = ask(shop, capsys)[1]
    assert without == [line for line in said if "through the gate" not in line]


def test_a_sign_off_past_the_gate_is_found_by_who_asks_or_names_the_job_and_by_nobody_else(
    cheated: SmallShop, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ask(cheated, capsys)[0] == 0
    assert ask(cheated, capsys, NEWEST_SEALED)[0] == 0
    for how in (("--gate",), (STILL_OPEN,), (STILL_OPEN.lower(), "--gate")):
        status, said = ask(cheated, capsys, *how)
        assert status == 12
        at = next(number for number, line in enumerate(said) if line.startswith(STILL_OPEN))
        assert said[at].split()[:2] == [STILL_OPEN, "sealed"], "the records are what they are"
        seal = len(cheated.journal(STILL_OPEN).read_bytes().splitlines())
        first, where = said[at + 1].strip(), f"{STILL_OPEN}.jsonl, line {seal}: signed off by t1 although this stood"
        assert first.startswith(f"{where} against it: F1 in circuit: ")
        ask_t1 = "Ask t1 how it came about; have the unit back, and walk it as a new job."
        assert first.endswith(f"(last try: attempt 2, fail). {ask_t1}")
    said = ask(cheated, capsys, "--gate")[1]
    assert "6 that ended were walked through the gate again: something stood against 1 of them." in said


def test_another_version_is_named_because_its_gate_may_have_asked_for_less(
    cheated: SmallShop, capsys: pytest.CaptureFixture[str]
) -> None:
    remark = "    It was ended by 'passcheck, sample journals'; the gate of another version may have asked for less."
    assert ask(cheated, capsys, "--gate")[1].count(remark) == 1


def test_for_other_programs_the_gate_s_answer_is_a_member_that_is_there_when_it_was_asked(
    cheated: SmallShop, capsys: pytest.CaptureFixture[str]
) -> None:
    cheated.take_in("t1", "7Q22140").let_go()
    told = json.loads("\n".join(ask(cheated, capsys, "--gate", "--json")[1]))["verify"]
    against = {one["job"]: one["against"] for one in told}
    assert against.pop(STILL_OPEN)[0].startswith(f"{STILL_OPEN}.jsonl, line ")
    assert against.pop("A31-0007") is None
    assert set(map(tuple, against.values())) == {()}
    assert [one["faults"] for one in told] == [[]] * 7
    plain = json.loads("\n".join(ask(cheated, capsys, "--json")[1]))["verify"]
    assert not [one for one in plain if "against" in one]


def test_an_altered_journal_is_not_asked_what_happened(shop: SmallShop) -> None:
    logs = shop.folder()
    looked = Verifier(logs).look(NEWEST_SEALED)
    altered = Verified(NEWEST_SEALED, Standing.ALTERED, ("it was altered",), (), looked.verified.digest)
    assert GateAgain(logs).asked(Looked(altered, None, looked.sealed_at, looked.sealed_by)) == altered
    assert GateAgain(logs).asked(looked).against == ()


def test_a_seal_that_the_ledger_never_heard_of_is_walked_as_well(
    shop: SmallShop, capsys: pytest.CaptureFixture[str]
) -> None:
    before = shop.ledger.read_bytes()
    cheats.a_sign_off_is_written_past_the_gate(shop)
    shop.ledger.write_bytes(before)
    status, said = ask(shop, capsys, STILL_OPEN)
    assert status == 12
    assert said[0].split()[:2] == [STILL_OPEN, "open"]
    assert any("although this stood against it" in line for line in said)


def test_what_the_robot_ended_in_practice_stands(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert practice_auto(Folders(tmp_path, BOARDS), VISITS, 5, as_json=True, keep=True) == 0
    capsys.readouterr()
    assert main(["--logs", str(tmp_path), "verify", "--gate", "--practice", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)["verify"]
    assert len(told) == VISITS
    assert [one["against"] for one in told] == [[]] * VISITS


def test_the_help_says_what_is_walked(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["verify", "--help"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "--gate walk every job that ended through the gate again; it takes longer" in said

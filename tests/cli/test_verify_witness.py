"""Does `passcheck verify` answer whoever noted a head of the ledger, and tell where the bench's clock was set back?"""

import json
from pathlib import Path

import pytest
from small_shop import FUSE, INPUT, NEWEST_SEALED, STILL_OPEN, SmallShop, open_shop

from passcheck.cli.main import main


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> SmallShop:
    """The shop as it was left."""
    return open_shop(tmp_path_factory.mktemp("shop"))


@pytest.fixture
def shop(whole: SmallShop, tmp_path: Path) -> SmallShop:
    """A copy, to go on in."""
    return whole.copied(tmp_path / "bench")


class Asked:
    """What came of a question."""

    def __init__(self, shop: SmallShop, capsys: pytest.CaptureFixture[str], *how: str) -> None:
        self.status = main(["--logs", str(shop.logs), "--sequences", str(shop.boards), "verify", *how])
        said = capsys.readouterr()
        self.out, self.complaint = said.out, said.err


def test_a_head_that_was_noted_is_held_for_ever_after(shop: SmallShop, capsys: pytest.CaptureFixture[str]) -> None:
    shop.take_up("t1", STILL_OPEN).reads(FUSE, "12.4").let_go()
    size, _, code = shop.noted_head.partition(":")
    for head in (shop.noted_head, code, shop.noted_head.upper()):
        asked = Asked(shop, capsys, "--head", head)
        assert asked.status == 10
        *_, ledger, told = asked.out.splitlines()
        assert ledger.startswith("ledger     whole")
        assert told.startswith(f"    It holds the noted head {head.lower()}: its first {size} bytes, up to line 17.")


def test_a_head_that_is_gone_ends_with_12_though_every_journal_is_well(
    shop: SmallShop, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = Asked(shop, capsys, NEWEST_SEALED, "--head", shop.noted_head, "--head", "00000000")
    assert asked.status == 12
    assert asked.out.splitlines()[0].split()[:2] == [NEWEST_SEALED, "sealed"]
    held, gone = asked.out.splitlines()[-2:]
    assert held.startswith(f"    It holds the noted head {shop.noted_head}: ")
    assert gone.startswith("    It does not hold the noted head 00000000: ")
    assert Asked(shop, capsys, NEWEST_SEALED).status == 0


def test_for_other_programs_each_head_is_an_object_and_without_one_there_is_no_such_member(
    shop: SmallShop, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = json.loads(Asked(shop, capsys, "--json", "--head", shop.noted_head, "--head", "0:00000000").out)
    assert [(one["head"], one["bytes"], one["held"]) for one in asked["heads"]] == [
        (shop.noted_head, int(shop.noted_head.partition(":")[0]), True),
        ("0:00000000", None, False),
    ]
    assert "heads" not in json.loads(Asked(shop, capsys, "--json").out)


@pytest.mark.parametrize("head", ["5f3a", "4717", "x:27b15853", "\x1b]0;owned\x07"])
def test_what_is_no_head_is_wrong_use_and_one_sentence(
    head: str, shop: SmallShop, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = Asked(shop, capsys, "--head", head)
    assert (asked.status, asked.out) == (2, "")
    assert "a noted head is 8 to 64 hexadecimal digits" in asked.complaint
    assert "\x1b" not in asked.complaint


def test_a_clock_set_back_within_a_job_is_told_of_an_open_one_and_of_a_sealed_one_that_is_named(
    shop: SmallShop, capsys: pytest.CaptureFixture[str]
) -> None:
    hand = shop.take_in("t1", "7Q22140")
    shop.clock.set_wall(hours=-40 * 24)
    hand.reads(FUSE, "0.20")
    (told,) = [line.strip() for line in Asked(shop, capsys).out.splitlines() if "is dated" in line]
    assert told.startswith("A31-0007.jsonl, line 4: it is dated 39 d 23 h before the line above it.")
    shop.clock.set_wall(hours=40 * 24)
    job = hand.accepts().reads(FUSE, "0.20").reads(INPUT, "4700").signs_off().let_go()
    # The ledger was told before and after; a sealed journal is walked for whoever asks for it.
    assert "is dated" not in Asked(shop, capsys).out
    asked = Asked(shop, capsys, job)
    assert asked.status == 0
    assert told in asked.out


def test_a_clock_set_back_between_two_lines_of_the_ledger_is_told_with_the_ledger_s_line(
    shop: SmallShop, capsys: pytest.CaptureFixture[str]
) -> None:
    shop.clock.set_wall(hours=-24)
    shop.take_in("t1", "7Q22140").let_go()
    for how in ((), (STILL_OPEN,)):
        asked = Asked(shop, capsys, *how)
        assert asked.status == 10
        assert "ledger.jsonl, line 18: it is dated 23 h 51 min before the line above it." in asked.out

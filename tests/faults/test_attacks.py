"""Is each way to cheat in a small shop told by the checks that the README names, and by no other?"""

from pathlib import Path

import pytest
from attack_table import FURTHER, NOT_BUILT, NOTHING, THE_LIST, Row, readme_tables, seen_at_each_level
from small_shop import SmallShop, open_shop

ROOT = Path(__file__).parents[2]
BEGIN, END = "<!-- attacks -->", "<!-- /attacks -->"
ATTACKS = [row for row in (*THE_LIST, *FURTHER) if row.attack is not None]


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> SmallShop:
    """The shop that nobody cheats in."""
    return open_shop(tmp_path_factory.mktemp("shop"))


@pytest.fixture
def sound(shop: SmallShop, tmp_path: Path) -> SmallShop:
    """A copy of it."""
    return shop.copied(tmp_path / "sound")


@pytest.fixture
def copy(shop: SmallShop, tmp_path: Path) -> SmallShop:
    """Another one, to be spoilt."""
    return shop.copied(tmp_path / "spoilt")


def test_of_a_shop_in_which_nobody_cheats_no_level_says_anything(copy: SmallShop, sound: SmallShop) -> None:
    assert [seen.word for seen in seen_at_each_level(copy, sound)] == [NOTHING] * 4


@pytest.mark.parametrize("row", ATTACKS, ids=[row.attack.__name__ for row in ATTACKS if row.attack])
def test_a_cheat_is_told_by_the_checks_that_the_table_names(row: Row, copy: SmallShop, sound: SmallShop) -> None:
    assert row.attack is not None
    row.attack(copy)
    assert _files(copy) != _files(sound)
    seen = seen_at_each_level(copy, sound)
    assert tuple(one.word for one in seen) == row.words, [one.sentence for one in seen]


def _files(shop: SmallShop) -> dict[Path, bytes]:
    return {path.relative_to(shop.bench): path.read_bytes() for path in shop.bench.rglob("*.*")}


def test_no_cheat_is_told_by_less_when_more_is_looked_at() -> None:
    weight = ("not built", "–", "remark", "caught")
    for row in (*THE_LIST, *FURTHER):
        weights = [weight.index(word.value) for word in row.words]
        assert weights == sorted(weights), row.says


def test_the_list_has_its_23_cheats_and_one_is_on_something_that_is_not_built() -> None:
    assert len(THE_LIST) == 23
    assert [row.says for row in THE_LIST if NOT_BUILT in row.words] == ["Forge the approved list"]


def test_the_readme_shows_these_tables() -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    assert readme.count(BEGIN) == readme.count(END) == 1
    assert readme_tables() in readme.partition(BEGIN)[2].partition(END)[0]

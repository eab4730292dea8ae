"""What does each check make of each way to cheat in a small shop, tried now?

    .venv/bin/python tests/benchmarks/attacks.py [--markdown]

Each cheat is done to a copy of the shop of `tests/fakes/small_shop.py`, and `passcheck verify --gate` is run on it:
without signatures, with them, and with a noted head of the ledger. Printed: what comes, with the first sentence that
tells of it. --markdown prints the tables as the README has them, with the words that came in these runs. The exit
status is 1 where anything but the expected came.
"""

import argparse
import sys
import tempfile
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

REPOSITORY = Path(__file__).parents[2]
sys.path[:0] = [str(REPOSITORY), str(REPOSITORY / "tests" / "fakes")]

from attack_table import (  # noqa: E402 - the paths come first
    FURTHER,
    LEVELS,
    NOT_BUILT,
    THE_LIST,
    Row,
    Seen,
    readme_tables,
    seen_at_each_level,
)
from small_shop import SmallShop, open_shop  # noqa: E402


def tried(rows: Iterable[Row], shop: SmallShop, folder: Path) -> list[tuple[Row, tuple[Seen, ...]]]:
    """Each cheat with what came of it."""
    found = []
    for row in rows:
        if row.attack is None:
            found.append((row, (Seen(NOT_BUILT),) * len(LEVELS)))
            continue
        place = folder / row.attack.__name__
        spoilt = shop.copied(place / "spoilt")
        row.attack(spoilt)
        found.append((row, seen_at_each_level(spoilt, shop.copied(place / "sound"))))
    return found


def as_found(found: Sequence[tuple[Row, tuple[Seen, ...]]]) -> tuple[Row, ...]:
    """The rows with the words that came."""
    rows = []
    for row, (journal, ledger, signed, head) in found:
        rows.append(replace(row, words=(journal.word, ledger.word, signed.word, head.word)))
    return tuple(rows)


def main() -> int:
    """Cheat, look, print."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--markdown", action="store_true", help="the tables as the README has them")
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as name:
        shop = open_shop(Path(name) / "shop")
        found = [tried(rows, shop, Path(name)) for rows in (THE_LIST, FURTHER)]
    rows = [as_found(one) for one in found]
    if given.markdown:
        print(readme_tables(*rows))
    else:
        _tell([one for part in found for one in part])
    return 0 if rows == [tuple(THE_LIST), tuple(FURTHER)] else 1


def _tell(found: Iterable[tuple[Row, tuple[Seen, ...]]]) -> None:
    for row, seen in found:
        print(row.says)
        before = ""
        for level, one in zip(LEVELS, seen, strict=True):
            sentence = "as above" if one.sentence and one.sentence == before else one.sentence
            print(f"    {level:<14}{one.word.value:<10}{sentence}".rstrip())
            before = one.sentence


if __name__ == "__main__":
    sys.exit(main())

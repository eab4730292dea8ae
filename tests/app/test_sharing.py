"""Does sharing what was sealed keep nobody waiting, and is a server that is away told once?"""

import pytest
from at_desk import SMALL, at_desk, press, settle
from rig import Rig

from passcheck.app import sharing


class Away:
    """A shared archive that is away, until it comes back."""

    def __init__(self) -> None:
        self.asked = 0
        self.words = "The shared archive is away. Nothing of this bench is lost: go on working."

    def publish(self) -> str:
        self.asked += 1
        return self.words


async def test_a_server_that_is_away_is_told_once_and_asked_again_at_every_return_to_the_shelf(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    told: list[str] = []
    monkeypatch.setattr(sharing, "tell", lambda _app, words, _severity: told.append(words))
    rig, away = Rig(), Away()
    rig.shop.publisher = away
    async with at_desk(rig, SMALL) as pilot:
        assert told == [away.words]
        for asked in (2, 3):
            await press(pilot, "f7", "escape")
            await settle(pilot)
            assert away.asked == asked
        assert told == [away.words]
        away.words = ""
        await press(pilot, "f7", "escape")
        await settle(pilot)
        away.words = "The shared archive is away again."
        await press(pilot, "f7", "escape")
        await settle(pilot)
        assert told[1:] == [away.words]

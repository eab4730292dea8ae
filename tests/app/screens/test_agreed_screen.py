"""What the owner agreed to is kept with who said it, and stands on the traveller."""

from at_desk import at_desk, matches_sample, press, shown, type_in
from rig import Rig

from passcheck.app.screens.agreed import AgreedSlip
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.job.commands import AgreeOwner


async def test_an_agreement_is_kept_and_stands_on_the_traveller() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.do(bench, AgreeOwner("t2", "[b]look only[/b]", "Ms Orme, at the counter"))
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter", "ctrl+o")
        assert isinstance(pilot.app.screen, AgreedSlip)
        matches_sample(pilot, "agreed-80x24")
        assert "[b]look only[/b]" in shown(pilot)
        await type_in(pilot, "C1 and C2 renewed")
        await press(pilot, "f4")
        assert "Say what was agreed and by whom." in " ".join(shown(pilot).split())
        await press(pilot, "enter")
        await type_in(pilot, "Ms Orme, by telephone")
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, TravellerScreen)
        said = " ".join(shown(pilot).split())
        assert "Owner agreed: C1 and C2 renewed (Ms Orme, by telephone, 2031-04-02) (1 before it)." in said
        await press(pilot, "w")
        assert "THE OWNER AGREED" in shown(pilot)
        assert "[b]look only[/b] (Ms Orme, at the counter)" in " ".join(shown(pilot).split())
    last = bench.job.agreed[-1]
    assert (last.scope, last.who, last.by) == ("C1 and C2 renewed", "Ms Orme, by telephone", "t1")
    assert last.moment == bench.job.last

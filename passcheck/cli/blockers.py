"""What stands between this unit and the door?"""

from dataclasses import asdict

from passcheck.bench.shop import Shop
from passcheck.cli.say import practice_mark, say, say_json, say_practice
from passcheck.job import gate


def blockers(shop: Shop, job_id: str, *, as_json: bool) -> int:
    """Print each reason against a sign-off with the act that lifts it; 1 when there is any."""
    job = shop.look(job_id.upper())
    found = gate.blockers(job, shop.outside(job), shop.clock())
    if as_json:
        say_json("blockers", [asdict(blocker) for blocker in found], **practice_mark(shop.practice))
    else:
        if shop.practice:
            say_practice()
        for blocker in found:
            say(blocker.sentence)
            say(blocker.lift, indent=4)
        if not found:
            say("Nothing recorded stands against signing this unit off.")
    return 1 if found else 0

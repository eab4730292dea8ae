"""Who and what is at this bench?"""

from datetime import date

from passcheck.cli.say import quantity, say, say_json, say_table
from passcheck.job.kept_latency import KeptLatency, latency_words
from passcheck.job.settings import BenchInstrument, BenchSettings


def show_bench(settings: BenchSettings, today: date, *, as_json: bool) -> int:
    """Print people and instruments, the overdue ones marked on the day `today`; give the exit status."""
    if as_json:
        say_json("bench", [_item(settings, today)])
        return 0
    say(f"{settings.shop}, bench {settings.letter}")
    say()
    people = [(key, it.name, it.role, _marks(key, settings)) for key, it in settings.people.items()]
    say_table(("PERSON", "NAME", "ROLE", ""), people)
    say()
    instruments = settings.instruments.items()
    rows = [(key, it.title, it.due.isoformat(), _standing(it, today), _fills(it)) for key, it in instruments]
    say_table(("INSTRUMENT", "TITLE", "DUE", "", "FILLS"), rows)
    say()
    say(f"known source: {settings.known_source.title}, {settings.known_source.limits.text}")
    kept = settings.latency
    say(f"latency: {'not measured (passcheck bench latency)' if kept is None else latency_words(kept)}")
    say(f"tap key: {settings.tap_key or 'not learned (the first timed step asks for it)'}")
    return 0


def _marks(person: str, settings: BenchSettings) -> str:
    live = "authorised for hazardous-live work" if settings.people[person].hazardous_live else ""
    return ", ".join(filter(None, (live, "PIN set" if person in settings.pin_hashes else "")))


def _standing(instrument: BenchInstrument, today: date) -> str:
    if instrument.withdrawn:
        return "withdrawn"
    return "overdue" if instrument.due < today else ""


def _fills(instrument: BenchInstrument) -> str:
    return ", ".join(f"{role} {accuracy.text}" for role, accuracy in instrument.fills.items())


def _item(settings: BenchSettings, today: date) -> dict[str, object]:
    return {
        "letter": settings.letter,
        "shop": settings.shop,
        "people": [
            {
                "id": key,
                "name": it.name,
                "role": it.role,
                "hazardous_live": it.hazardous_live,
                "pin": key in settings.pin_hashes,
            }
            for key, it in settings.people.items()
        ],
        "instruments": [
            {
                "id": key,
                "title": it.title,
                "serial": it.serial,
                "due": it.due.isoformat(),
                "overdue": it.due < today,
                "withdrawn": it.withdrawn,
                "fills": {role: accuracy.text for role, accuracy in it.fills.items()},
            }
            for key, it in settings.instruments.items()
        ],
        "latency": None if settings.latency is None else _latency(settings.latency),
        "tap_key": settings.tap_key,
        "known_source": {"title": settings.known_source.title, "limits": settings.known_source.limits.text},
    }


def _latency(kept: KeptLatency) -> dict[str, object]:
    return {
        "value": quantity(kept.value_s, "s"),
        "u": quantity(kept.u_s, "s"),
        "day": kept.day,
        "terminal": kept.terminal,
    }

"""Which keys does the bench have?"""

from textual.binding import Binding, BindingType

from passcheck.job.late_entry import LATE_ID, LATE_KEY

BENCH_KEYS: list[BindingType] = [
    Binding(
        "pagedown",
        "walk(1)",
        "Next step",
        show=False,
        priority=True,
        id="bench.next",
        tooltip="Shows the next step of the run.",
    ),
    Binding(
        "pageup",
        "walk(-1)",
        "Step before",
        show=False,
        priority=True,
        id="bench.before",
        tooltip="Shows the step before.",
    ),
    Binding("f2", "limits", "Limits", id="bench.limits", tooltip="Shows or hides the limits of this step."),
    Binding("f3", "instrument", "Meter", show=False, id="bench.meter", tooltip="Measures with another instrument."),
    Binding("f4", "note", "Note", id="bench.note", tooltip="Words and photos on this step."),
    Binding(
        "f5",
        "method",
        "Taps or meter",
        show=False,
        id="bench.method",
        tooltip="By taps or by an instrument.",
    ),
    Binding("f6", "power_off", "Told off", id="bench.off", tooltip="Tells that every supply was switched off."),
    Binding("f7", "cycled", "Off and on", id="bench.cycled", tooltip="Tells a planned off and on again."),
    Binding(
        "ctrl+n",
        "how_tried",
        "Tried how",
        show=False,
        id="bench.how-tried",
        tooltip="Conditions the unit is put to, and who else sees it.",
    ),
    Binding(
        "ctrl+y",
        "here",
        "Still here",
        show=False,
        id="bench.here",
        tooltip="Tells that you are at the bench and the supply is as it was told.",
    ),
    Binding("ctrl+t", "tap_key", "Tap key", show=False, id="bench.tap-key", tooltip="Learns another key or pedal."),
    Binding("ctrl+f", "suspects", "Suspects", show=False, id="bench.suspects", tooltip="Blocks by what failed."),
    Binding(
        LATE_KEY,
        "late",
        "Late entry",
        show=False,
        id=LATE_ID,
        tooltip="Enters a reading that was written down on paper, with the time it was read.",
    ),
    Binding("f12", "close_run", "Close run", show=False, id="bench.close", tooltip="Ends the run."),
    Binding("escape", "back", "Back", id="bench.back", tooltip="Empties the entry; once empty, goes back."),
]

"""How long does this bench take from key to light, and where is that kept?"""

import os

from passcheck.cli.clock import now
from passcheck.cli.say import complain, say
from passcheck.cli.terminal import terminal_words
from passcheck.job.kept_latency import KeptLatency, latency_words
from passcheck.judge.quantity import six
from passcheck.records.settings_file import BenchFiles

WRONG_USE = 2


def measure_latency(files: BenchFiles) -> int:
    """Open the page; keep what it gave, and say so."""
    from passcheck.app.latency_page import LatencyApp
    from passcheck.app.start import ABNORMAL, exact_keys, no_screen_because

    hindrance = no_screen_because()
    if hindrance:
        complain(hindrance)
        return WRONG_USE
    app = LatencyApp()
    exact_keys(app)
    filmed = app.run()
    if app.return_code != 0:
        return ABNORMAL if app.return_code is None else app.return_code
    if filmed is None:
        say("Nothing was kept.")
        return 0
    value, u = six(filmed.latency.value_s), six(filmed.latency.u_s)
    day = now().local().date().isoformat()
    kept = KeptLatency(value, u, filmed.frames, filmed.fps, day, terminal_words(os.environ))
    files.keep_latency(kept)
    say(f"latency: {latency_words(kept)}")
    return 0

"""Does a job keep its rules whatever is asked of it, in whatever order, by whomever, sense and nonsense alike?

Random walks (`any_order.py`, `on_soak.py`), watched by `monitor.py`. The environment variable PASSCHECK_EXAMPLES sets
how many walks are made: 5000 take some minutes.
"""

import os

from any_order import AnyOrder
from hypothesis import HealthCheck
from hypothesis import settings as run_with
from on_soak import OnSoak

EXAMPLES = int(os.environ.get("PASSCHECK_EXAMPLES", "60"))

TestAnyOrder = AnyOrder.TestCase
TestAnyOrder.settings = run_with(
    max_examples=EXAMPLES, stateful_step_count=40, deadline=None, suppress_health_check=list(HealthCheck)
)
TestOnSoak = OnSoak.TestCase
TestOnSoak.settings = run_with(
    max_examples=EXAMPLES, stateful_step_count=20, deadline=None, suppress_health_check=list(HealthCheck)
)

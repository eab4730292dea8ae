"""How are the properties tried, and where does a test get a database server from?

The properties: the same examples for everybody, or new ones for whoever goes looking.
"""

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings
from postgres_server import NoServerHereError, PostgresServer, running

# A check that decides must decide the same twice; PASSCHECK_EXPLORE=1 draws new examples each time.
settings.register_profile("same for everybody", derandomize=True)
settings.register_profile("explore", derandomize=False, print_blob=True)
settings.load_profile("explore" if os.environ.get("PASSCHECK_EXPLORE") else "same for everybody")


@pytest.fixture(scope="session")
def postgres_server() -> Iterator[PostgresServer]:
    """A server for the tests of this session; whoever stops it starts it again before the test ends.

    Where the machine has no server program its tests are skipped, unless PASSCHECK_NEEDS_POSTGRES=1 says that it must.
    """
    try:
        with running() as server:
            yield server
    except NoServerHereError as missing:
        if os.environ.get("PASSCHECK_NEEDS_POSTGRES") == "1":
            raise
        pytest.skip(str(missing))

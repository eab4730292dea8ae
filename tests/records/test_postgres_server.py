"""Is the server that tests are given a real one, that goes away and comes back?"""

import psycopg
import pytest
from postgres_server import PostgresServer


def answer(server: PostgresServer) -> int:
    with psycopg.connect(server.where) as connection:
        row = connection.execute("SELECT 6 * 7").fetchone()
    assert row is not None
    return int(row[0])


def test_a_server_that_was_taken_away_answers_again_once_it_is_back(postgres_server: PostgresServer) -> None:
    assert answer(postgres_server) == 42
    postgres_server.stop()
    try:
        assert not postgres_server.runs
        with pytest.raises(psycopg.OperationalError):
            answer(postgres_server)
    finally:
        postgres_server.start()
    assert answer(postgres_server) == 42

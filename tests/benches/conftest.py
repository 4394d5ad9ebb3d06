"""One PostgreSQL server for all tests of this folder, and an empty database for each test."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.benches.postgres import Postgres, binaries


@pytest.fixture(scope="session")
def postgres() -> Iterator[Postgres]:
    programs = binaries()
    if programs is None:
        pytest.skip("no PostgreSQL server is installed (apt install postgresql)")
    server = Postgres(programs)
    try:
        yield server
    finally:
        server.end()


@pytest.fixture
def url(postgres: Postgres) -> str:
    return postgres.new_database()

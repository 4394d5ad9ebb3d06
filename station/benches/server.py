"""Server: connections to the database that holds the shared log, each wait in them bounded."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from typing import Final
from urllib.parse import quote, quote_plus

from sqlalchemy import Connection, create_engine, make_url
from sqlalchemy.exc import SQLAlchemyError

from station.benches.faults import SharedFault, fault_for
from station.errors import StationError
from station.texts import t

CONNECT_S: Final = 5
STATEMENT_MS: Final = 8000
SILENT_NET_MS: Final = 15000


class Server:
    """The database at a URL. Nothing is opened before the first transaction. For one thread.

    `str()` is the address without name and password.
    """

    def __init__(self, url: str, connect_s: int = CONNECT_S) -> None:
        """Raises SharedFault when what talks with PostgreSQL is not installed."""
        parsed = make_url(url).set(drivername="postgresql+psycopg")
        password = str(parsed.password or "")
        self._secrets = tuple({password, quote(password, safe=""), quote_plus(password)} - {""})
        host = parsed.host or str(parsed.query.get("host", t("this machine")))
        self._place = f"{host}{f':{parsed.port}' if parsed.port else ''}/{parsed.database}"
        if find_spec("psycopg") is None:
            raise SharedFault(
                t("A shared log needs psycopg, which is not installed."), "pip install 'tarebell[shared]'"
            )
        self._engine = create_engine(
            parsed,
            pool_size=1,
            max_overflow=0,
            # After the server was away the first use would else meet a connection that is dead.
            pool_pre_ping=True,
            hide_parameters=True,
            connect_args={
                "connect_timeout": connect_s,
                "options": f"-c statement_timeout={STATEMENT_MS} -c lock_timeout={STATEMENT_MS // 2} "
                f"-c idle_in_transaction_session_timeout={2 * STATEMENT_MS} -c timezone=UTC",
                "keepalives_idle": 10,
                "keepalives_interval": 5,
                "keepalives_count": 3,
                "tcp_user_timeout": SILENT_NET_MS,
                "application_name": "tarebell",
            },
        )

    def __str__(self) -> str:
        return self._place

    @contextmanager
    def transaction(self) -> Iterator[Connection]:
        """All that is done in the block, or nothing. Raises SharedFault; then it may or may not have happened."""
        try:
            with self._engine.begin() as db:
                yield db
        except StationError:
            raise
        except (SQLAlchemyError, OSError) as why:
            raise fault_for(why, self._place, self._secrets) from None

    def close(self) -> None:
        """Let go of the connection; the next transaction opens another."""
        self._engine.dispose()

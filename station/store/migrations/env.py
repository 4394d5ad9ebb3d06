"""How a migration reaches the record: over the connection, and inside the transaction, that `versions` opened."""

from __future__ import annotations

from alembic import context

from station.store.schema import metadata

context.configure(connection=context.config.attributes["connection"], target_metadata=metadata)
with context.begin_transaction():
    context.run_migrations()

"""Several benches, one log: rows, casts and alarms of each bench in one PostgreSQL database that all of them read."""

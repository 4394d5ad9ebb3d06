"""What the service loads to start: nothing that only some page or chore needs, for memory is dear on a small board."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
LATER = (
    "alembic", "apprise", "icalendar", "numpy", "PIL", "psycopg", "reportlab", "scipy", "segno", "sqlalchemy.orm",
    "sqlalchemy.dialects.postgresql", "tomlkit", "trimesh",
)  # fmt: skip
"""One to some tens of megabytes each, up to a good part of a second: for their own process, or for the first time they
are needed."""


def test_the_service_starts_without_what_only_some_page_needs() -> None:
    code = f"import station.service, sys; print(*sorted(set({LATER!r}) & set(sys.modules)))"
    run = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert run.stdout.split() == []

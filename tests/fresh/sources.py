"""Sources to install from: this project's own commit, and made-up later versions of it, good and sick."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from tests.fresh.roots import Root, WentWrong, put_source

_MIGRATION = '''"""Version {new} of the trial: a table that no version before knows."""

import sqlalchemy as sa
from alembic import op

revision, down_revision, branch_labels, depends_on = "{new}", "{newest}", None, None


def upgrade():
    op.create_table("of_the_trial", sa.Column("id", sa.Integer, primary_key=True))
'''

Change = Callable[[Path], None]


def source(root: Root, number: str | None, *changes: Change) -> str:
    """A source in /srv of that root, calling itself `number` (None: as it is); where it lies."""
    where = f"/srv/{number or 'as-it-is'}"
    put_source(root, where)
    there = root.folder / where.lstrip("/")
    if number is not None:
        _edited(there / "station/__init__.py", r'^__version__ = ".*"$', f'__version__ = "{number}"')
    for change in changes:
        change(there)
    return where


def crashes(there: Path) -> None:
    """It opens the record and ends at once, every time."""
    _edited(
        there / "station/service.py", r"^    _on_stop\(.*$", '    raise RuntimeError("sick, as the trial wants it")'
    )


def never_ready(there: Path) -> None:
    """It runs and serves its page, but never says that it is ready."""
    _edited(there / "station/service.py", r"lambda: _answers\(station\.url\)", "lambda: False")


def changes_record(there: Path) -> None:
    """Its record has a form that no version before can read."""
    folder = there / "station/store/migrations/versions"
    newest = max(each.name for each in folder.glob("v*.py"))[1:5]
    new = f"{int(newest) + 1:04d}"
    (folder / f"v{new}_trial.py").write_text(_MIGRATION.format(new=new, newest=newest))


def _edited(file: Path, pattern: str, instead: str) -> None:
    text, count = re.subn(pattern, lambda _: instead, file.read_text("utf-8"), count=1, flags=re.MULTILINE)
    if count != 1:
        raise WentWrong(f"{file} is not as the trial knows it: {pattern}")
    file.write_text(text, "utf-8")

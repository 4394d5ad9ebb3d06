"""What all commands share: errors that people see on a terminal are sentences, with an exit code."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import click

from station.errors import SettingsError, StationError


@contextmanager
def sentences() -> Iterator[None]:
    """Says a StationError as its sentence and leaves with 1; with 2 for settings, each problem on its own line."""
    try:
        yield
    except SettingsError as wrong:
        for problem in wrong.problems:
            click.echo(problem, err=True)
        raise SystemExit(2) from None
    except StationError as error:
        click.echo(error.sentence(), err=True)
        raise SystemExit(1) from None

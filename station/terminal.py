"""What all commands share: the settings and their language, and errors as sentences with an exit code."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from station.errors import SettingsError, StationError
from station.languages import begin_to_speak_as_set

SETTINGS_FILE = Path("/etc/tarebell/station.toml")
"""Where the settings of a station lie; a command that asks for none speaks their language all the same."""


def _spoken(_context: click.Context, _option: click.Parameter, file: Path) -> Path:
    begin_to_speak_as_set(file)
    return file


CONFIG = click.option(
    "--config",
    type=click.Path(path_type=Path),
    default=SETTINGS_FILE,
    show_default=True,
    help="The station's settings.",
    callback=_spoken,
)
"""The settings that a command goes by. From its option on the command speaks their language."""


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

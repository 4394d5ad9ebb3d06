"""`tarebell doctor | support`: what is wrong and the cure, and a file for helpers. Parse, call, print, exit code."""

from __future__ import annotations

import json
import logging
import os
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import click

from station import __version__
from station.terminal import CONFIG, sentences
from station.texts import t, tc

if TYPE_CHECKING:
    from station.core.messages import Pressed
    from station.doctor.finding import Looked, Verdict
    from station.doctor.patient import Patient
    from station.signals.panel import Panel

FILE = click.Path(path_type=Path, dir_okay=False)
_COLOURS = {"pass": "green", "look": "yellow", "fail": "red"}


@click.command()
@CONFIG
@click.option("--full", is_flag=True, help="Read every row of the record, every trace and photo: may take minutes.")
@click.option("--no-questions", is_flag=True, help="Ask nobody about buzzer, lamps and pedal: for scripts.")
@click.option("--json", "as_json", is_flag=True, help="For programs; asks nobody.")
@click.option("--bundle", type=FILE, default=None, help="Write a zip of it for somebody who helps.")
def doctor(config: Path, full: bool, no_questions: bool, as_json: bool, bundle: Path | None) -> None:
    """Look at everything that the station needs, and say what is wrong and what to do about it.

    The station may run, be stopped or be broken; a running one is not disturbed. With the station stopped and somebody
    at the terminal, buzzer, lamps and pedal are tried as well. Exit code 1 when something is wrong.
    """
    with sentences():
        from station.doctor.bundled import write_bundle
        from station.doctor.finding import Verdict, worst
        from station.doctor.said import as_dict, in_short, lines_of

        who = _patient(config, full)
        found: list[Looked] = []
        for one in _looked(who, asking=not (no_questions or as_json) and sys.stdin.isatty()):
            found.append(one)
            if not as_json:
                click.echo("\n".join(lines_of(one, _painted, min(80, shutil.get_terminal_size().columns))))
        if as_json:
            click.echo(json.dumps(as_dict(found, __version__), indent=1, ensure_ascii=False))
        else:
            click.echo(f"\n{in_short(found)}")
        if bundle is not None:
            write_bundle(who.settings, found, __version__, bundle)
            click.echo(_is_written(bundle), err=as_json)
        raise SystemExit(1 if worst(found) is Verdict.FAIL else 0)


@click.command()
@click.argument("file", type=FILE)
@CONFIG
def support(file: Path, config: Path) -> None:
    """Write FILE, a zip for somebody who helps: no record, no key, no password, no name is in it.

    The same as `tarebell doctor --bundle FILE` without the rest. Made on the page Station of a running station it
    also tells the last lines of the log.
    """
    with sentences():
        from station.doctor.bundled import write_bundle

        who = _patient(config, False)
        write_bundle(who.settings, list(_looked(who, asking=False)), __version__, file)
        click.echo(_is_written(file))


def _patient(config: Path, thorough: bool) -> Patient:
    from station.doctor.patient import patient
    from station.doctor.probe import Machine

    # What parts of the station log while they are looked at is told by the findings.
    logging.getLogger("tarebell").addHandler(logging.NullHandler())
    return patient(Machine(), config, thorough=thorough)


def _looked(who: Patient, *, asking: bool) -> Iterator[Looked]:
    from station.clock import SystemClock
    from station.doctor.by_hand import tried_by_hand
    from station.doctor.examining import examined

    yield from examined(who)
    clock = SystemClock()

    @contextmanager
    def fit(press: Callable[[Pressed], object]) -> Iterator[Panel]:
        from station.signals.panel import Panel

        assert who.settings is not None
        with TemporaryDirectory() as folder:
            # lgpio leaves its notify pipes in the working directory, which is nobody's affair here.
            os.environ.setdefault("LG_WD", folder)
            with Panel(who.settings.signals, press, clock) as panel:
                yield panel

    yield from tried_by_hand(who, _Terminal() if asking else None, fit, clock)


class _Terminal:
    """Implements `by_hand.Person`."""

    def asked(self, question: str) -> bool | None:
        """Yes or no; Enter alone for neither."""
        yes, no = tc("yes, as a letter to type", "y"), tc("no, as a letter to type", "n")
        while True:
            try:
                answer = click.prompt(f"{question} [{yes}/{no}]", default="", show_default=False).strip().lower()
            except click.Abort:
                return None
            if answer in ("", yes, no):
                return None if not answer else answer == yes

    def told(self, words: str) -> None:
        """Print it at once."""
        click.echo(words)


def _painted(verdict: Verdict, word: str) -> str:
    return click.style(word, fg=_COLOURS[verdict.value], bold=True)


def _is_written(file: Path) -> str:
    return t("{file} is written. Look into it before you hand it on.", file=file)

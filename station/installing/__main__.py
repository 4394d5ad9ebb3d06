"""`systemd/install`: install, repair, change to another version, or take away. Parse, call, exit code."""

from __future__ import annotations

import argparse
import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path

from station.errors import StationError
from station.installing.bench import Bench
from station.installing.building import Builder
from station.installing.ending import last_words
from station.installing.faults import Interrupted, NotNow
from station.installing.fitness import check_fits
from station.installing.install import installed
from station.installing.log import Log
from station.installing.places import Places
from station.installing.remove import removed
from station.installing.settings_file import known
from station.installing.source import source_in
from station.installing.this_machine import ThisMachine
from station.installing.wheels import filled
from station.languages import ENGLISH, begin_to_speak, languages
from station.texts import t

HERE = Path(__file__).resolve().parents[2]
LOG = Path("/var/log/tarebell-install.log")
BUSY = 3


def main() -> int:
    """Do what is asked for. Exit code 1: it did not come off; 2: it was asked wrongly; 3: not now."""
    asked = _parser().parse_args()
    begin_to_speak(asked.language or _language())
    log = Log(None if asked.fill_wheels else LOG)
    try:
        return _done(asked, log)
    except NotNow as busy:
        log.tell(busy.sentence())
        return BUSY
    except StationError as why:
        log.tell(why.sentence())
        return 1


def _done(asked: argparse.Namespace, log: Log) -> int:
    machine, places = ThisMachine(log.note), Places()
    source = source_in(HERE)
    if asked.fill_wheels:
        folder = asked.fill_wheels.resolve()
        count = filled(machine, source, sys.executable, folder)
        log.tell(
            t("{folder} holds {count} packages. Take it to the bench beside this folder.", folder=folder, count=count)
        )
        return 0
    if os.geteuid() != 0:
        log.tell(t("Only the computer's administrator can do this: sudo systemd/install"))
        return 1
    check_fits(machine, places.root)
    wheels = None if asked.wheels is None else asked.wheels.resolve()
    bench = Bench(machine, places, source, Builder(machine, places.root, sys.executable, wheels), log.tell, asked.wait)
    _on_end(log)
    if asked.remove:
        removed(bench, data=asked.data)
    else:
        last_words(bench, installed(bench, upgrade=asked.upgrade))
    return 0


def _on_end(log: Log) -> None:
    """The first wish to end goes back in good order; a second would only leave things half done. A line that is cut
    (the terminal of a network goes away) ends nothing."""
    signal.signal(signal.SIGHUP, signal.SIG_IGN)

    def end(*_: object) -> None:
        for number in (signal.SIGINT, signal.SIGTERM):
            signal.signal(number, signal.SIG_IGN)
        log.note("asked to end")
        raise Interrupted(t("Ended on request."))

    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, end)


def _language() -> str:
    """Of the settings that are there, else of whoever sits here."""
    try:
        wanted = known(Places()).language
    except StationError:
        wanted = ""
    for each in (wanted, os.environ.get("LC_ALL", ""), os.environ.get("LANG", "")):
        if each[:2] in languages():
            return each[:2]
    return ENGLISH


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="systemd/install",
        description="Install the station on this computer, or repair what is installed. Run again it changes nothing.",
    )
    add: Callable[..., object] = parser.add_argument
    add("--upgrade", action="store_true", help="change to the version in this folder; refused while anything runs")
    add("--remove", action="store_true", help="take the station away; settings, record and backups stay")
    add("--data", action="store_true", help="with --remove: settings, record and backups too")
    add("--wheels", type=Path, metavar="FOLDER", help="without Internet: take all packages from there")
    add("--fill-wheels", type=Path, metavar="FOLDER", help="with Internet: put all packages there, and end")
    add("--language", choices=languages(), help="of this command, and of a new station")
    add("--wait", type=float, default=25.0, metavar="SECONDS", help="for a changed version to be well (%(default)g)")
    return parser


if __name__ == "__main__":
    sys.exit(main())

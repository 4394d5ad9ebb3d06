"""`tarebell scale …`: reading recordings, finding a scale and checking it, from the command line."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import BinaryIO

import click

from station.errors import StationError
from station.scale.reasons import misnamed
from station.terminal import CONFIG, sentences
from station.texts import decimal, t


@click.group()
def scale() -> None:
    """Read, find and check the bench scale."""


@scale.command()
@click.argument("recording", type=click.File("rb"), default="-")
@click.option("--family", default=None, help="Frame family, when it is known; otherwise it is found out.")
def decode(recording: BinaryIO, family: str | None) -> None:
    """Say what the bytes of a RECORDING mean (a file, or - for standard input): one JSON line a frame.

    No port is opened and nothing is sent. Exit code 1 when there was no frame at all.
    """
    from station.scale.decoded import plain
    from station.scale.recording import recorded_frames

    with sentences():
        found = recorded_frames(recording.read(), family)
        for recorded in found:
            click.echo(json.dumps(plain(recorded.frame) | {"raw": recorded.raw.decode("latin-1")}))
        if not found:
            click.echo(t("There was no frame in it: the recording is empty or holds nothing but line ends."), err=True)
            raise SystemExit(1)


STATE = click.option("--state", type=click.Path(path_type=Path), default=None, help="Folder of the record.")


@scale.command()
def ports() -> None:
    """List the serial ports by the names that last, with their USB ids."""
    from station.scale.finding.ports import listed_ports

    listed = listed_ports()
    for port in listed:
        click.echo(port.words)
        if port.note:
            click.echo(f"  {port.note}")
    if not listed:
        click.echo(
            t("There is no serial port. Is the adapter plugged in? A network port is named socket://host:number.")
        )


@scale.command()
@click.argument("port", required=False)
@CONFIG
@STATE
def find(port: str | None, config: Path, state: Path | None) -> None:
    """Find the scale at PORT (a device, socket:// or rfc2217://): bit rate, character format, family, unit.

    It listens first and asks only what harms no scale. What it finds is kept beside the record; a station whose
    settings say port = "found" uses it.
    """
    from station.clock import SystemClock
    from station.scale.finding.find import find as find_at
    from station.scale.finding.outcome import NotFound
    from station.scale.finding.profiles import Profiles

    with sentences():
        where = port or _only_port()
        if wrong := misnamed(where):
            raise StationError(wrong)
        found = find_at(where, _AtTerminal(), SystemClock(), Profiles(state or _state_of(config)))
        if isinstance(found, NotFound):
            raise StationError(
                t("No scale was found on {where}. {saw}", where=where, saw=found.saw), _numbered(found.causes)
            )
        click.echo(
            t(
                "Found: {family} at {baud} baud, {character}, {delivery}, in {unit}.",
                family=found.family,
                baud=found.baud,
                character=found.character,
                delivery=t(found.delivery.value),
                unit=found.unit,
            )
        )
        for reason in found.sure:
            click.echo(f"  {reason}")
        click.echo(t('Kept for {where}. Set port = "found" under [scale] in the settings to use it.', where=where))


@scale.command()
@click.option(
    "--placements", type=click.IntRange(5, 50), default=10, show_default=True, help="How often the weight is put on."
)
@click.option(
    "--tolerance",
    type=click.FloatRange(0.05, 50),
    default=1.0,
    show_default=True,
    help="Per cent, of a part of your mixes.",
)
@CONFIG
@STATE
def check(placements: int, tolerance: float, config: Path, state: Path | None) -> None:
    """Check the scale with a weight: zero return, repeatability, error, corners, drift; and say what it can promise.

    A workshop check, not a verification for trade. The station must not run meanwhile, or check from its page.
    """
    from station.clock import SystemClock
    from station.scale.checking import course
    from station.scale.checks import Checks, kept
    from station.scale.finding.profiles import Profiles
    from station.scale.watching import run_course
    from station.settings import read_settings

    with sentences():
        if not sys.stdin.isatty():
            raise StationError(t("A scale check asks questions."), t("Run it in a terminal, or from the page."))
        settings = read_settings(config)
        folder = state or settings.state_dir
        in_force = Profiles(folder).in_force(settings.scale)
        clock = SystemClock()
        going = course(in_force.card, clock.now().wall.date(), placements=placements, wanted_percent=tolerance)
        result = run_course(in_force, _AtTerminal(), clock, going)
        Checks(folder).append(kept(result, in_force.port, settings.temperature_c))
        click.echo(t("Verdict: {verdict}. Check again by {due}.", verdict=t(result.verdict), due=result.due))
        for reason in result.reasons:
            click.echo(f"  {reason.words}")
        click.echo(result.note)


@scale.command()
@CONFIG
@STATE
def checks(config: Path, state: Path | None) -> None:
    """List the scale checks, the newest first."""
    from station.scale.checks import Checks

    with sentences():
        listed = Checks(state or _state_of(config)).all()
        for one in listed:
            verdict, s = t(one.verdict), decimal(f"{one.promise.repeatability_g:.3f}")
            told = f"{one.on} {one.scale}: {verdict}, s {s} g"
            if one.error_g is not None:
                told += ", " + t("error {error} g", error=decimal(f"{one.error_g:+.3f}"))
            click.echo(f"{told}; " + t("due {due}", due=one.due))
        if not listed:
            click.echo(t("No scale check was made yet: tarebell scale check."))


class _AtTerminal:
    """The person at the terminal; nobody, when there is none to type."""

    def told(self, words: str) -> None:
        click.echo(words)

    def stays(self) -> None:
        """Whoever wants to leave presses Ctrl-C."""

    def confirms(self, question: str) -> bool | None:
        return click.confirm(question) if sys.stdin.isatty() else None

    def reads(self, question: str) -> str | None:
        return str(click.prompt(question)) if sys.stdin.isatty() else None


def _only_port() -> str:
    from station.scale.finding.ports import listed_ports

    listed = listed_ports()
    if len(listed) != 1:
        what = t("There is no serial port.")
        if listed:
            names = "".join(f"\n  {port.words}" for port in listed)
            what = t("There are {count} ports:", count=len(listed)) + f"{names}\n"
        raise StationError(what, t("Name the one to search: tarebell scale find PORT."))
    return listed[0].name


def _state_of(config: Path) -> Path:
    from station.settings import read_settings

    return read_settings(config).state_dir


def _numbered(causes: tuple[str, ...]) -> str:
    return t("Likeliest causes:") + "".join(f"\n  {number}. {cause}" for number, cause in enumerate(causes, 1))

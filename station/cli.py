"""`tarebell …`: parse, call, exit code. No logic."""

from __future__ import annotations

import json
import logging
import signal
import threading
from collections.abc import Callable
from pathlib import Path

import click

from station import __version__
from station.benches_cli import benches
from station.climate_cli import climate
from station.errors import StationError
from station.material_cli import material
from station.positive_cli import positive
from station.reckon_cli import reckon
from station.scale_cli import scale
from station.terminal import sentences

CONFIG = click.option(
    "--config",
    type=click.Path(path_type=Path),
    default=Path("/etc/tarebell/station.toml"),
    show_default=True,
    help="The station's settings.",
)
STATE = click.option(
    "--state", type=click.Path(path_type=Path), default=None, help="Folder of the record, instead of the settings'."
)


@click.group()
@click.version_option(__version__, prog_name="tarebell")
def main() -> None:
    """A scale-and-clock bench station for casting parts from two-part systems."""


main.add_command(benches)
main.add_command(climate)
main.add_command(material)
main.add_command(positive)
main.add_command(reckon)
main.add_command(scale)


@main.command()
@CONFIG
def run(config: Path) -> None:
    """Run the station: scale, clocks, signals, record and page, until SIGTERM."""
    logging.basicConfig(level=logging.INFO, format="%(levelname)s %(name)s %(message)s")
    for chatty in ("apscheduler", "alembic", "waitress"):
        logging.getLogger(chatty).setLevel(logging.WARNING)
    with sentences():
        from station.app import assembled
        from station.clock import SystemClock
        from station.settings import read_settings

        with assembled(read_settings(config), SystemClock()) as station:
            _on_stop(station.inbox.end)
            # A thread that dies of a bug takes the process with it: systemd starts it afresh.
            threading.excepthook = lambda died: station.inbox.end(died.exc_value)
            log = logging.getLogger("tarebell")
            log.info("page url=%s", station.url)
            if station.panel.note:
                log.info("signals note=%r", station.panel.note)
            station.loop.run()


def _on_stop(end: Callable[[], None]) -> None:
    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, lambda *_: end())


@main.command()
@click.option("--speed", type=click.FloatRange(min=0), default=4.0, show_default=True, help="Times life; 0: no pause.")
@click.option("--seed", type=int, default=1, show_default=True, help="The same seed repeats exactly.")
@click.option("--once", is_flag=True, help="End after both casts with their batch records.")
@click.option("--family", default="status-commas", show_default=True, help="Frame family of the simulated scale.")
@click.option("--port", type=click.IntRange(0, 65535), default=8060, show_default=True, help="Port of the page.")
@click.option("--keep", type=click.Path(path_type=Path), default=None, help="Folder that keeps the demo's record.")
def demo(*, speed: float, seed: int, once: bool, family: str, port: int, keep: Path | None) -> None:
    """Watch two whole casts at the invented Wrenfield Works, on a simulated scale."""
    with sentences():
        from station.demo import Script, run_demo

        script = Script(speed, seed, once, family, port, keep)
        try:
            run_demo(script, click.echo)
        except KeyboardInterrupt:
            click.echo("The demo has ended.")


@main.command()
@CONFIG
@STATE
@click.option("--limit", default=20, show_default=True, type=click.IntRange(1, 1000))
@click.option("--search", default="", help="Part of a material, mold or lot.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
def casts(config: Path, state: Path | None, limit: int, search: str, as_json: bool) -> None:
    """List the casts on record, newest first."""
    with sentences():
        from station.store.archive import Archive

        with Archive(_record(config, state)) as archive:
            lines = archive.casts(limit, 0, search)
            if as_json:
                rows = [
                    {
                        "number": line.number,
                        "begun": line.begun.wall.isoformat(),
                        "material": line.material,
                        "mold": line.mold,
                        "total_mg": line.total.mg,
                        "stage": line.stage.value,
                        "alarms_missed": line.missed,
                    }
                    for line in lines
                ]
                click.echo(json.dumps(rows, indent=1))
                return
            if not lines:
                click.echo("No cast is on record yet." if not search else f"No cast matches {search!r}.")
            for line in lines:
                begun = f"{line.begun.wall:%Y-%m-%d %H:%M}{'' if line.begun.sure else '?'}"
                click.echo(
                    f"{line.number:5}  {begun:17}  {line.total.text():>9}  {line.mold}, {line.material}: "
                    f"{line.stage.value}"
                )


@main.command()
@click.argument("number", type=int)
@CONFIG
@STATE
@click.option("--json", "as_json", is_flag=True, help="For programs.")
def record(number: int, config: Path, state: Path | None, as_json: bool) -> None:
    """Print the batch record of one cast."""
    with sentences():
        from station.store.archive import Archive
        from station.store.batch_record import as_dict, as_text

        with Archive(_record(config, state)) as archive:
            found = archive.record(number)
            if found is None:
                raise StationError(f"There is no cast {number} on record.", "`tarebell casts` lists them.")
            click.echo(json.dumps(as_dict(found), indent=1) if as_json else as_text(found))


@main.command()
@CONFIG
@STATE
def verify(config: Path, state: Path | None) -> None:
    """Walk the chain of the journal and say whether every row is as it was written."""
    with sentences():
        from station.store.verify import verify as walk

        verdict = walk(_record(config, state))
        click.echo(verdict.words)
        raise SystemExit(0 if verdict.ok else 1)


@main.command("check-settings")
@CONFIG
def check_settings(config: Path) -> None:
    """Read the settings and all sheets, and list everything that is wrong with them."""
    with sentences():
        from station.climate.report import climate_words
        from station.scale.check import check
        from station.settings import read_settings
        from station.sheet_desk import SheetDesk

        settings = read_settings(config)
        check(settings.scale)
        sheets = SheetDesk(settings.sheets, settings.state_dir).sheets()
        click.echo(
            f"{settings.name}: {len(sheets.materials)} materials, {len(sheets.molds)} molds, {len(sheets.lots)} lots; "
            f"scale {settings.scale.family} on {settings.scale.port}."
        )
        for words in climate_words(settings.climate, settings.temperature_c):
            click.echo(words)


def _record(config: Path, state: Path | None) -> Path:
    """Where the record lies."""
    if state is None:
        from station.settings import read_settings

        state = read_settings(config).state_dir
    place = state / "record.db"
    if not place.exists():
        raise StationError(
            f"There is no record in {state}.", "Has the station run there? `--state` names another folder."
        )
    return place

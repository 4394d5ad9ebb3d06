"""`tarebell …`: parse, call, exit code. No logic."""

from __future__ import annotations

import json
import logging
import os
from pathlib import Path

import click

from station import __version__
from station.benches_cli import benches
from station.climate_cli import climate
from station.doctor_cli import doctor, support
from station.export_cli import archive, export, import_
from station.insight_cli import insight
from station.languages import begin_to_speak_as_set, languages
from station.material_cli import material
from station.paper_cli import label, record
from station.positive_cli import positive
from station.reckon_cli import reckon
from station.record_cli import STATE, backup, idle, lot, read_ahead, record_place, restore, verify
from station.scale_cli import scale
from station.station_cli import address, pair
from station.terminal import CONFIG, SETTINGS_FILE, sentences
from station.texts import t
from station.wiring_cli import card, wiring


@click.group()
@click.version_option(__version__, prog_name="tarebell")
def main() -> None:
    """A scale-and-clock bench station for casting parts from two-part systems."""
    begin_to_speak_as_set(SETTINGS_FILE)  # for commands that are told no settings


main.add_command(benches)
main.add_command(climate)
main.add_command(insight)
main.add_command(material)
main.add_command(positive)
main.add_command(reckon)
main.add_command(scale)
for command in (
    *(verify, backup, restore, read_ahead, idle, lot, address, pair, doctor, support, wiring, card),
    *(export, import_, archive, record, label),
):
    main.add_command(command)


@main.command()
@CONFIG
@click.option("--safe", is_flag=True, help="In safe mode: nothing is spoken, no mesh is measured.")
def run(config: Path, safe: bool) -> None:
    """Run the station: scale, clocks, signals, record and page, until SIGTERM."""
    logging.basicConfig(level=logging.INFO, format="%(levelname)s %(name)s %(message)s")
    for chatty in ("apscheduler", "alembic", "waitress"):
        logging.getLogger(chatty).setLevel(logging.WARNING)
    with sentences():
        from station.clock import SystemClock
        from station.service import serve
        from station.settings import read_settings

        settings = read_settings(config)
        serve(settings, SystemClock(settings.time.mark), os.environ, safe=safe)


@main.command()
@click.option("--speed", type=click.FloatRange(min=0), default=4.0, show_default=True, help="Times life; 0: no pause.")
@click.option("--seed", type=int, default=1, show_default=True, help="The same seed repeats exactly.")
@click.option("--once", is_flag=True, help="End after both casts with their batch records.")
@click.option("--family", default="status-commas", show_default=True, help="Frame family of the simulated scale.")
@click.option("--port", type=click.IntRange(0, 65535), default=8060, show_default=True, help="Port of the page.")
@click.option("--keep", type=click.Path(path_type=Path), default=None, help="Folder that keeps the demo's record.")
@click.option("--language", type=click.Choice(languages()), default="en", show_default=True, help="What it speaks.")
def demo(*, speed: float, seed: int, once: bool, family: str, port: int, keep: Path | None, language: str) -> None:
    """Watch two whole casts at the invented Wrenfield Works, on a simulated scale."""
    with sentences():
        from station.demo import Script, run_demo

        script = Script(speed, seed, once, family, port, keep, language)
        try:
            run_demo(script, click.echo)
        except KeyboardInterrupt:
            click.echo(t("The demo has ended."))


@main.command()
@CONFIG
@STATE
@click.option("--limit", default=20, show_default=True, type=click.IntRange(1, 1000))
@click.option("--search", default="", help="Part of a material, mold, lot or note.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
def casts(config: Path, state: Path | None, limit: int, search: str, as_json: bool) -> None:
    """List the casts on record, newest first."""
    with sentences():
        from station.store.archive import Archive

        with Archive(record_place(config, state)) as archive:
            lines = archive.casts(limit, search)
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
                click.echo(
                    t("No cast matches {search}.", search=repr(search)) if search else t("No cast is on record yet.")
                )
            for line in lines:
                begun = f"{line.begun.wall:%Y-%m-%d %H:%M}{'' if line.begun.sure else '?'}"
                click.echo(
                    f"{line.number:5}  {begun:17}  {line.total.text():>9}  {line.mold}, {line.material}: "
                    f"{t(line.stage.value)}"
                )


@main.command("check-settings")
@CONFIG
def check_settings(config: Path) -> None:
    """Read the settings and all sheets, and list everything that is wrong with them."""
    with sentences():
        from station.climate.report import climate_words
        from station.phone.tls import context_of
        from station.scale.check import check
        from station.settings import read_settings
        from station.sheet_desk import SheetDesk
        from station.wiring.findings import findings
        from station.wiring.plan import planned

        settings = read_settings(config)
        check(settings.scale)
        context_of(settings.web)
        sheets = SheetDesk(settings.sheets, settings.state_dir).sheets()
        click.echo(
            t(
                "{name}: {materials} materials, {molds} molds, {lots} lots; scale {family} on {port}.",
                name=settings.name,
                materials=len(sheets.materials),
                molds=len(sheets.molds),
                lots=len(sheets.lots),
                family=settings.scale.family,
                port=settings.scale.port,
            )
        )
        for wrong in findings(planned(settings.signals, settings.climate)):
            click.echo(wrong.words())
        for words in climate_words(settings.climate, settings.temperature_c):
            click.echo(words)

"""`tarebell climate`: what the sensors at the bench say now. No logic."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path

import click

from station.terminal import CONFIG, sentences


@click.command()
@CONFIG
@click.option("--json", "as_json", is_flag=True, help="For programs.")
def climate(config: Path, as_json: bool) -> None:
    """Look once at the temperature and humidity sensors of the settings.

    Exit code 1 when nothing, not even the settings, tells the temperature.
    """
    with sentences():
        from station.climate.report import look_once, said
        from station.settings import read_settings

        settings = read_settings(config)
        report = look_once(settings.climate, settings.temperature_c)
        if as_json:
            click.echo(json.dumps({**asdict(report), "counts_c": report.counts_c}, indent=1, ensure_ascii=False))
        else:
            click.echo("\n".join(said(report)))
        if report.counts_c is None:
            raise SystemExit(1)

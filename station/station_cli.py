"""`tarebell address`: where a phone finds the page. Parse, call, exit code."""

from __future__ import annotations

from pathlib import Path

import click

from station.terminal import CONFIG, sentences
from station.texts import t


@click.command()
@CONFIG
def address(config: Path) -> None:
    """Print the addresses of the page, each with a code for a phone's camera.

    Exit code 1 when no phone can reach the page.
    """
    with sentences():
        from station.address.code import blocks
        from station.overview.sources import page_addresses
        from station.settings import read_settings

        settings = read_settings(config)
        found = page_addresses(settings, settings.web.port)
        for one in found:
            click.echo(f"{one.url}\n{one.words}\n\n{blocks(one.url)}")
        if not found:
            click.echo(t("No phone can reach the page: it answers on this computer only, or there is no network."))
            raise SystemExit(1)

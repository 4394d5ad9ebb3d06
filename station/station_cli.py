"""`tarebell address | support`: where a phone finds the page, and a file for helpers. Parse, call, exit code."""

from __future__ import annotations

from pathlib import Path

import click

from station import __version__
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


@click.command()
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False, exists=False))
@CONFIG
def support(file: Path, config: Path) -> None:
    """Write FILE, a zip for somebody who helps: no record, no key, no password, no name is in it.

    Made on the page Station of a running station it also tells how each part fares, and the last lines of the log.
    """
    with sentences():
        from station.overview.standing_still import support_without_the_station
        from station.settings import read_settings

        support_without_the_station(read_settings(config), __version__, file)
        click.echo(t("{file} is written. Look into it before you hand it on.", file=file))

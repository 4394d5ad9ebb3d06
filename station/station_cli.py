"""`tarebell address | pair`: the way to the page, and the code that lets a phone touch. Parse, call, exit code."""

from __future__ import annotations

from pathlib import Path

import click

from station.terminal import CONFIG, sentences
from station.texts import t

RUNTIME = Path("/run/tarebell")
"""The service's folder in memory."""


@click.command()
@CONFIG
@click.option(
    "--card",
    type=click.Path(path_type=Path, dir_okay=False),
    default=None,
    help="Write a card for the wall to this file (SVG, A6) instead.",
)
def address(config: Path, card: Path | None) -> None:
    """Print the addresses of the page, each with a code for a phone's camera.

    Exit code 1 when no phone can reach the page.
    """
    with sentences():
        from station.address.card import write_card
        from station.address.code import blocks
        from station.address.own import page_addresses
        from station.settings import read_settings

        settings = read_settings(config)
        found = page_addresses(settings, settings.web.port)
        if found and card is not None:
            write_card(card, settings.name, found)
            click.echo(t("{file} is written. Print it in its own size (A6, 105 × 148 mm).", file=card))
            return
        for one in found:
            click.echo(f"{one.url}\n{one.words}\n\n{blocks(one.url)}")
        if not found:
            click.echo(t("No phone can reach the page: it answers on this computer only, or there is no network."))
            raise SystemExit(1)


@click.command()
@CONFIG
def pair(config: Path) -> None:
    """Ask the running station for a code that lets a phone touch. For its own user and the administrator alone."""
    with sentences():
        from station.settings import read_settings
        from station.side_door import ask_for_code

        settings = read_settings(config)
        code = ask_for_code([settings.state_dir, RUNTIME])
        shown = f"{code[:3]} {code[3:]}"
        click.echo(
            t("The pairing code is {code}. It works once, for ten minutes: type it on the page Pair.", code=shown)
        )

"""`tarebell wiring | card`: what is wired to which pin, and what tones and lamps mean. Parse, call, exit code."""

from __future__ import annotations

from pathlib import Path

import click

from station.terminal import CONFIG, sentences

FILE = click.Path(path_type=Path, dir_okay=False)


@click.command()
@CONFIG
@click.option("--drawing", type=FILE, default=None, help="Write the drawing to this file, as SVG for a sheet of A4.")
@click.option("--placement", type=FILE, default=None, help="Write a drawing of where things stand at the bench.")
def wiring(config: Path, drawing: Path | None, placement: Path | None) -> None:
    """Print which pin of the header goes where, what stands beside each part and why, and what is wrong with the pins.

    Exit code 1 when something is wrong with them.
    """
    with sentences():
        from station.drawing.svg import svg
        from station.settings import read_settings
        from station.wiring.drawing import drawn
        from station.wiring.findings import findings
        from station.wiring.placement import placed
        from station.wiring.plan import planned
        from station.wiring.table import lines

        settings = read_settings(config)
        plan = planned(settings.signals, settings.climate)
        click.echo("\n".join(lines(plan)))
        if drawing is not None:
            write_drawing(drawing, svg(drawn(plan), standalone=True))
        if placement is not None:
            write_drawing(placement, svg(placed(), standalone=True))
        if findings(plan):
            raise SystemExit(1)


@click.command()
@CONFIG
@click.option("--page", type=FILE, default=None, help="Write the card to this file, as SVG for a sheet of A4.")
def card(config: Path, page: Path | None) -> None:
    """Print what each tone, lamp and press of this bench means."""
    with sentences():
        from station.drawing.svg import svg
        from station.settings import read_settings
        from station.signal_card import contents, sheet
        from station.signal_card.listed import listed

        settings = read_settings(config)
        made = contents.card(settings.name, settings.signals)
        click.echo("\n".join(listed(made)))
        if page is not None:
            write_drawing(page, svg(sheet.drawn(made), standalone=True))


def write_drawing(file: Path, text: str) -> None:
    """Write a drawing to a file, and say so. Raises Refused where it cannot be written."""
    from station.errors import Refused
    from station.texts import t

    try:
        file.write_text(text + "\n", encoding="utf-8")
    except OSError as why:
        raise Refused(
            t("{file} cannot be written: {strerror}.", file=file, strerror=why.strerror), t("Choose another place.")
        ) from None
    click.echo(t("{file} is written.", file=file))

"""`tarebell record | label`: one cast on the screen or on paper. Parse, call, exit code."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from station.errors import StationError
from station.export_desk.label_wish import KEYS, KINDS, LabelWish
from station.record_cli import STATE, record_place
from station.terminal import CONFIG, sentences
from station.texts import t, tn

if TYPE_CHECKING:
    from station.export_desk.cast_paper import Shop
    from station.store.archive import Archive
    from station.store.whole_casts import WholeCast

PDF = click.Path(path_type=Path, dir_okay=False)


@click.command()
@click.argument("number", type=int)
@CONFIG
@STATE
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@click.option("--pdf", type=PDF, default=None, help="Write it to this file as PDF (A4) instead.")
def record(number: int, config: Path, state: Path | None, as_json: bool, pdf: Path | None) -> None:
    """Print the batch record of one cast."""
    with sentences():
        from station.store.archive import Archive
        from station.store.batch_record import as_dict, as_text

        with Archive(record_place(config, state)) as archive:
            found = _cast(archive, number)
            if pdf is not None:
                from station.export.form import Told
                from station.export_desk.boxing import into_file
                from station.export_desk.cast_paper import write_casts

                with into_file(pdf) as out:
                    write_casts([Told(found.record, found.plan)], archive, shop_of(config, Path(archive.place)), out)
                click.echo(t("{file} is written.", file=pdf))
                return
            click.echo(json.dumps(as_dict(found.record), indent=1) if as_json else as_text(found.record))


@click.command()
@click.argument("number", type=int)
@click.argument("file", type=PDF)
@CONFIG
@STATE
@click.option("--on", type=click.Choice(KINDS), default=KINDS[0], show_default=True, help="What it is stuck on.")
@click.option("--size", type=click.Choice(KEYS), default=KEYS[0], show_default=True, help="In mm; a4-…: a sheet.")
@click.option("--copies", type=click.IntRange(1, 100), default=1, show_default=True, help="How many.")
@click.option("--start", type=click.IntRange(1, 65), default=1, show_default=True, help="First free place of a sheet.")
def label(
    number: int, file: Path, *, config: Path, state: Path | None, on: str, size: str, copies: int, start: int
) -> None:
    """Write labels of a cast to FILE as PDF, with a code that leads to its page. Print it in its own size."""
    with sentences():
        from station.export.form import Told
        from station.export_desk.boxing import into_file
        from station.export_desk.cast_labels import labels
        from station.store.archive import Archive

        wish = LabelWish.of(on, size, copies, start)
        with Archive(record_place(config, state)) as archive:
            found, shop = _cast(archive, number), shop_of(config, Path(archive.place))
            url = shop.page_of(number)
            if not url:
                raise StationError(
                    t("The code on a label leads to the cast's page, and this station has no address in a network."),
                    t("Name its settings with `--config`."),
                )
            with into_file(file) as out:
                labels(Told(found.record, found.plan), wish, url, out)
        click.echo(
            tn("{file}: {n} label, {size}.", "{file}: {n} labels, {size}.", copies, file=file, size=wish.size.words())
        )


def _cast(archive: Archive, number: int) -> WholeCast:
    found = archive.whole(number)
    if found is None:
        raise StationError(t("There is no cast {number} on record.", number=number), t("`tarebell casts` lists them."))
    return found


def shop_of(config: Path, record: Path) -> Shop:
    """The station's name and address by its settings; without any of them a record is printed all the same."""
    from station.address.own import page_addresses
    from station.export_desk.cast_paper import Shop
    from station.settings import read_settings
    from station.store.photos import FOLDER

    photos = record.parent / FOLDER
    if not config.is_file():
        return Shop("Tarebell", "", photos)
    settings = read_settings(config)
    found = page_addresses(settings, settings.web.port)
    return Shop(settings.name, found[0].url if found else "", photos)

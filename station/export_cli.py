"""`tarebell export | import`: the log taken away and taken over. Parse, call, exit code."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import click

from station import __version__
from station.paper_cli import shop_of
from station.record_cli import STATE, record_place, state_of
from station.terminal import CONFIG, sentences
from station.texts import t, tn

DAY = click.DateTime(["%Y-%m-%d"])


@click.command()
@click.argument("to", type=click.Path(path_type=Path))
@CONFIG
@STATE
@click.option("--since", type=DAY, default=None, help="Only casts begun on this day or later.")
@click.option("--until", type=DAY, default=None, help="Only casts begun before this day.")
@click.option("--photos/--no-photos", default=True, help="With the photos of all casts, or without.")
def export(
    to: Path, config: Path, state: Path | None, *, since: datetime | None, until: datetime | None, photos: bool
) -> None:
    """Write the log to TO: a new folder, a .zip of it, or one table as .csv or .jsonl.

    Folder and zip of all casts also hold the log itself and the photos, so that `tarebell import` has all of it.

    A file takes the table of its name (casts.csv, weighings.jsonl), else the casts; log.jsonl is the log itself, which
    `tarebell import` takes over. The station may be running.
    """
    with sentences():
        from station.export.tables import TABLES
        from station.export_desk.boxing import export_zip
        from station.export_desk.making import LOG, Source, export_folder, write_log, write_table
        from station.records import Asked

        asked = Asked(since=_utc(since), until=_utc(until))
        source = Source(record_place(config, state), __version__, asked, photos)
        if to.name == LOG and source.whole:
            rows = write_log(source, to)
            click.echo(tn("{file}: {n} row of the journal.", "{file}: {n} rows of the journal.", rows, file=to))
            return
        if to.suffix in (".csv", ".jsonl"):
            name = to.stem if to.stem in {one.name for one in TABLES} else "casts"
            casts = write_table(source, name, to)
        elif to.suffix == ".zip":
            casts = export_zip(source, to)
        else:
            casts = export_folder(source, to)
        click.echo(tn("{file}: {n} cast.", "{file}: {n} casts.", casts, file=to))


@click.command("import")
@click.argument("file", type=click.Path(path_type=Path, exists=True))
@CONFIG
@STATE
def import_(file: Path, config: Path, state: Path | None) -> None:
    """Take over a log that another station has exported: FILE is its log.jsonl, or the folder or zip with it.
    Photos that lie there come along.

    The station must be stopped and have cast nothing yet.
    """
    with sentences():
        from station.clock import SystemClock
        from station.errors import LedgerFault
        from station.export_desk.taking_over import lines_of, photos_beside
        from station.store.log_import import take_over, take_photos
        from station.store.verify import verify_photos

        folder = state_of(config, state)
        with lines_of(file) as lines:
            done = take_over(lines, folder, SystemClock().now())
        casts = tn("{n} cast", "{n} casts", done.casts)
        click.echo(
            tn(
                "Taken over: {n} row of the journal, {casts}, each as it was written.",
                "Taken over: {n} rows of the journal, {casts}, each as it was written.",
                done.rows,
                casts=casts,
            )
        )
        if done.set_aside is not None:
            click.echo(t("The earlier files are in {folder}.", folder=done.set_aside.name))
        fault: LedgerFault | None = None
        try:
            with photos_beside(file, folder) as photos:
                brought = take_photos(folder, photos)
            if brought:
                click.echo(tn("With {n} photo, as it was taken.", "With {n} photos, each as it was taken.", brought))
        except LedgerFault as why:
            fault = why
        if missing := verify_photos(folder / "record.db", reading=False).damaged:
            click.echo(
                tn(
                    "Photos of cast {which} did not come along. "
                    "Copy what the other station has in its folder “photos” into that of {folder}.",
                    "Photos of casts {which} did not come along. "
                    "Copy what the other station has in its folder “photos” into that of {folder}.",
                    len(missing),
                    which=", ".join(map(str, missing)),
                    folder=folder,
                )
            )
        if fault is not None:
            raise fault


@click.command()
@click.argument("year", type=int)
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False), required=False)
@CONFIG
@STATE
def archive(year: int, file: Path | None, config: Path, state: Path | None) -> None:
    """Put all casts of YEAR into one zip, to be kept: their records as PDF, tables, the list of photos.

    FILE is tarebell-YEAR.zip in this folder unless named. The zip is read back and checked.
    """
    with sentences():
        from station.export_desk.boxing import into_file
        from station.export_desk.year import YearOf, archive_into

        place, to = record_place(config, state), file or Path(f"tarebell-{year}.zip")
        with into_file(to) as out:
            casts = archive_into(YearOf(place, __version__, year, shop_of(config, place)), out, to.parent)
        click.echo(
            tn("{file}: {n} cast, read back and whole.", "{file}: {n} casts, read back and whole.", casts, file=to)
        )


def _utc(day: datetime | None) -> datetime | None:
    """Midnight at the bench, in UTC."""
    return None if day is None else day.astimezone().astimezone(UTC)

"""`tarebell verify | backup | restore | read-ahead | idle | lot`: the record by command. Parse, call, exit code."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from station import __version__
from station.errors import StationError
from station.terminal import CONFIG, sentences
from station.texts import t, tn

if TYPE_CHECKING:
    from station.store.backup.packing import Backup
    from station.store.backup.shelf import BackupShelf

STATE = click.option(
    "--state", type=click.Path(path_type=Path), default=None, help="Folder of the record, instead of the settings'."
)


def state_of(config: Path, state: Path | None) -> Path:
    """The state folder that is meant. Raises SettingsError."""
    if state is not None:
        return state
    from station.settings import read_settings

    return read_settings(config).state_dir


def record_place(config: Path, state: Path | None) -> Path:
    """Where the record lies. Raises StationError when there is none."""
    place = state_of(config, state) / "record.db"
    if not place.exists():
        raise StationError(
            t("There is no record in {folder}.", folder=place.parent),
            t("Has the station run there? `--state` names another folder."),
        )
    return place


@click.command()
@CONFIG
@STATE
def verify(config: Path, state: Path | None) -> None:
    """Walk the chain of the journal and say whether every row is as it was written.

    Exit code 1 when the record is damaged, 4 when only weighing traces or photos are.
    """
    with sentences():
        from station.store.photos import PhotosFound
        from station.store.verify import verify as walk
        from station.store.verify import verify_photos

        place = record_place(config, state)
        verdict = walk(place)
        photos = verify_photos(place) if verdict.ok else PhotosFound()
        click.echo(" ".join(filter(None, (verdict.words, verdict.traces.words(), photos.words()))))
        raise SystemExit(1 if not verdict.ok else 4 if verdict.traces.damaged or photos.damaged else 0)


@click.command()
@CONFIG
@STATE
@click.option("--to", type=click.Path(path_type=Path, file_okay=False), default=None, help="Another folder for it.")
@click.option("--list", "listed", is_flag=True, help="Only list the backups there are, each checked.")
def backup(config: Path, state: Path | None, to: Path | None, listed: bool) -> None:
    """Make a backup, read it back and check it; the station may be running."""
    with sentences():
        from station.clock import SystemClock
        from station.store.backup.packing import check
        from station.store.photos import FOLDER as PHOTOS

        shelf = _shelf(config, state, to)
        if not listed:
            record_place(config, shelf.belongings.state_dir)
            made = shelf.make(SystemClock().now(), t("asked for on the command line"))
            click.echo(_made_words(made))
            if (photos := shelf.carry_photos()).there:
                click.echo(
                    tn(
                        "{n} photo is in {folder}, {new} of them new.",
                        "{n} photos are in {folder}, {new} of them new.",
                        photos.there // 2,
                        folder=shelf.folder / PHOTOS,
                        new=photos.new // 2,
                    )
                )
            return
        for one in shelf.all():
            rows = tn("{n} row", "{n} rows", one.label.rows)
            words = f"{one.file.name}  {one.label.made:%Y-%m-%d %H:%M} UTC  {rows}  {one.label.why}"
            try:
                check(one.file)
            except StationError as bad:
                words = t("{backup}  NOT GOOD: {why}", backup=words, why=bad)
            click.echo(words)
        if not shelf.all():
            click.echo(t("There is no backup in {folder} yet.", folder=shelf.folder))


@click.command()
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False), required=False)
@CONFIG
@STATE
@click.option("--instead", is_flag=True, help="Go back to FILE although the present record is whole; that one is kept.")
def restore(file: Path | None, config: Path, state: Path | None, instead: bool) -> None:
    """Restore a damaged or lost record from the newest good backup, or from FILE, and from what is still whole.

    The station must be stopped. Nothing is thrown away: the present files are set aside.
    """
    with sentences():
        from station.clock import SystemClock
        from station.restoring import restored_on_request

        shelf = _shelf(config, state, None)
        for line in restored_on_request(shelf, file, instead, SystemClock().now()):
            click.echo(line)


@click.command(name="read-ahead")
@CONFIG
@STATE
def read_ahead(config: Path, state: Path | None) -> None:
    """Read the whole record as this version understands it, so that its first start after an update is short.

    The station, of this version or another, may be running; its record is only read.
    """
    with sentences():
        from station.store.ahead import read_ahead as read

        folder = state_of(config, state)
        if not (folder / "record.db").exists():
            click.echo(t("There is no record in {folder} yet.", folder=folder))
            return
        rows = read(folder)
        click.echo(tn("{n} row is read ahead.", "{n} rows are read ahead.", rows))


@click.command()
@CONFIG
@STATE
@click.option("--backup", "with_backup", is_flag=True, help="If so, make a backup too.")
@click.option("--json", "as_json", is_flag=True, help="For programs: what runs, and where the backup is.")
def idle(config: Path, state: Path | None, with_backup: bool, as_json: bool) -> None:
    """Say whether nothing is at the bench and no clock runs, so that an update may go on. Exit code 3 if not."""
    with sentences():
        from station.clock import SystemClock
        from station.restoring import what_runs

        place = state_of(config, state) / "record.db"
        busy = what_runs(place) if place.exists() else ""
        made = None
        if with_backup and not busy and place.exists():
            made = _shelf(config, state, None).make(SystemClock().now(), t("before an update"))
        if as_json:
            click.echo(json.dumps({"busy": busy, "backup": None if made is None else str(made.file)}))
        elif busy:
            click.echo(busy, err=True)
        else:
            click.echo(t("Nothing is at the bench, and no clock runs."))
        if made is not None and not as_json:
            click.echo(_made_words(made))
        if busy:
            raise SystemExit(3)


@click.command()
@click.argument("number")
@CONFIG
@STATE
@click.option("--before", type=click.IntRange(1), default=None, help="Only casts numbered below.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
def lot(number: str, config: Path, state: Path | None, before: int | None, as_json: bool) -> None:
    """List the casts that contain the lot NUMBER, and the parts to set aside if it proves bad."""
    with sentences():
        from station.phone.lot_view import LotSeen, lot_view, record_wire
        from station.store.archive import Archive

        with Archive(record_place(config, state)) as archive:
            found = archive.lot(number, before=before)
        if as_json:
            click.echo(json.dumps(record_wire(found), indent=1))
            return
        if not found.known:
            raise StationError(
                t("No cast was begun with a lot {lot}, and none was counted.", lot=number),
                t("Read the number on the container again, letter by letter."),
            )
        shown = lot_view(LotSeen((), found, None))
        for day, words in shown.counts:
            click.echo(f"{day}  {words}")
        for row in shown.rows:
            what = f"{row.mold}, {row.material}: {', '.join(filter(None, (row.stage, row.verdict)))}"
            click.echo(f"{row.number:5}  {row.begun:17}  {row.taken:>9}  {what}")
        click.echo(shown.summary)
        click.echo(shown.aside)
        if found.older:
            click.echo(t("There are older ones: add --before {number}.", number=found.casts[-1].number))


def _made_words(made: Backup) -> str:
    return tn(
        "{file}: {n} row, read back and whole.",
        "{file}: {n} rows, read back and whole.",
        made.label.rows,
        file=made.file,
    )


def _shelf(config: Path, state: Path | None, to: Path | None) -> BackupShelf:
    """The backups of the settings' station; with `--state` alone of that folder, should there be no settings."""
    from station.settings import read_settings
    from station.store.backup.contents import Belongings
    from station.store.backup.shelf import BackupShelf, shelf_of

    if state is not None and not config.is_file():
        return BackupShelf(Belongings(state), to or state / "backups", __version__)
    settings = read_settings(config)
    if state is not None:
        settings = replace(settings, state_dir=state)
    shelf = shelf_of(settings, __version__)
    return shelf if to is None else BackupShelf(shelf.belongings, to, __version__)

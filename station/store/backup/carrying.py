"""Carrying photos to the backups and back, said in sentences. What goes wrong with a photo stops no backup."""

from __future__ import annotations

import logging
from pathlib import Path

from station.errors import LedgerFault
from station.store.backup.photos import bring_back
from station.store.backup.shelf import BackupShelf
from station.store.verify import verify_photos
from station.texts import t

log = logging.getLogger("tarebell.backup")


def carried_words(shelf: BackupShelf) -> str:
    """Copy new photos beside the backups; what came of it, empty when there were none."""
    try:
        carried = shelf.carry_photos()
    except LedgerFault as fault:
        log.error("photos not copied why=%s", fault)
        return t("Photos were not copied beside it. {fault}", fault=fault.sentence())
    return t("New photos copied beside it: {n}.", n=carried.new // 2) if carried.new else ""


def trouble_at(shelf: BackupShelf, place: Path) -> str:
    """Copy new photos to another place of copies; what went wrong, empty when nothing did."""
    try:
        shelf.carry_photos(place)
    except LedgerFault as fault:
        log.error("photos not copied place=%s why=%s", place, fault)
        return t("The record's copy is in {place}, but not all photos: {fault}", place=place, fault=fault.sentence())
    return ""


def brought_words(shelf: BackupShelf) -> str:
    """Bring back photos that are damaged or gone; what came of it, empty when none had to be."""
    belongings = shelf.belongings
    try:
        brought = bring_back(belongings.record, belongings.state_dir, (shelf.folder,))
    except LedgerFault as fault:
        log.error("photos not brought back why=%s", fault)
        return t("Photos were not looked through. {fault}", fault=fault.sentence())
    return t("Photos brought back: {n}.", n=brought) if brought else ""


def gone_words(shelf: BackupShelf) -> str:
    """Bring back what photos are gone from beside a record that is whole; of which casts they still are gone.

    Empty when all are there, of which the content is not looked at. Raises LedgerFault.
    """
    record = shelf.belongings.record
    if not verify_photos(record, reading=False).damaged:
        return ""
    back = brought_words(shelf)
    found = verify_photos(record, reading=False).words()
    log.warning("photos gone words=%r back=%r", found, back)
    return f"{back} {found}".strip()

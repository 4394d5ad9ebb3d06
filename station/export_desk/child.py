"""The process that makes papers and exports: `python -m station.export_desk.child JOB LANGUAGE`, the file its output.

It stands back for the bench first, and tells on its other pipe how far it has come.
"""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path
from typing import IO, Any, Final

from station.confined.limits import MB, peak_kib, stand_back
from station.errors import StationError
from station.languages import begin_to_speak
from station.texts import t

MOST_BYTES: Final = 768 * MB
"""Address space, most of which is libraries that are only mapped."""


def main() -> None:
    """Do one job."""
    stand_back(MOST_BYTES)
    begin_to_speak(sys.argv[2])
    job: dict[str, Any] = json.loads(sys.argv[1])
    try:
        with os.fdopen(1, "r+b", closefd=False) as out:
            casts = _done(job, out)
        _tell({"done": True, "casts": casts, "peak_kib": peak_kib()})
    except StationError as why:
        kind = next((one.__name__ for one in type(why).mro() if one.__name__ in ("LedgerFault", "Refused")), "")
        _tell({"refused": str(why), "hint": t(why.hint), "kind": kind})
    except MemoryError:
        _tell({"refused": t("It would take more memory than there is."), "hint": ""})


def _done(job: dict[str, Any], out: IO[bytes]) -> int:
    place, room = Path(job["place"]), Path(job["room"])
    match job["do"]:
        case "export":
            from station.export_desk.boxing import export_into
            from station.export_desk.making import Source

            return export_into(Source(place, job["version"], photos=job["with_photos"]), out, room, _far)
        case "year":
            from station.export_desk.year import YearOf, archive_into

            return archive_into(YearOf(place, job["version"], job["year"], _shop(job)), out, room, _far)
        case "record":
            from station.export_desk.cast_paper import write_casts

            with _archive(place) as archive:
                write_casts([_told(archive, job["number"])], archive, _shop(job), out)
        case "labels":
            from station.export_desk.cast_labels import labels
            from station.export_desk.label_wish import LabelWish

            wish = LabelWish.of(job["on"], job["size"], job["copies"], job["start"])
            with _archive(place) as archive:
                labels(_told(archive, job["number"]), wish, _shop(job).page_of(job["number"]), out)
        case unknown:
            raise ValueError(unknown)
    return 1


def _shop(job: dict[str, Any]) -> Any:
    from station.export_desk.cast_paper import Shop

    return Shop(job["name"], job["address"], Path(job["photos"]))


def _archive(place: Path) -> Any:
    from station.store.archive import Archive

    return Archive(place)


def _told(archive: Any, number: int) -> Any:
    from station.errors import Refused
    from station.export.form import Told

    found = archive.whole(number)
    if found is None:
        raise Refused(t("There is no cast {number} on record.", number=number), t("Look it up in the log."))
    return Told(found.record, found.plan)


def _far(casts: int) -> None:
    _tell({"casts": casts})


def _tell(said: dict[str, Any]) -> None:
    # Fails when the station is gone: then nobody waits for the file any more.
    sys.stderr.write(json.dumps(said) + "\n")
    sys.stderr.flush()


if __name__ == "__main__":
    main()

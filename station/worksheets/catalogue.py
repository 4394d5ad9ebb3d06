"""All worksheets, in the order in which a job meets them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from station.errors import Refused
from station.texts import N_, t
from station.worksheets.form import Worksheet


@dataclass(frozen=True, slots=True)
class Chapter:
    """Worksheets that belong together. `title` is marked with `N_`, and said where it is shown."""

    title: str
    sheets: tuple[Worksheet, ...]


def chapters() -> tuple[Chapter, ...]:
    """The worksheets by what they are for. Imported when asked: starting the station need not wait for them."""
    from station.worksheets import convert
    from station.worksheets.buying import cost, project, purchase, schedule, stock
    from station.worksheets.mixing import foam, isocyanate, ratio
    from station.worksheets.room import box, volume, water
    from station.worksheets.time import moisture, times

    buying = (*stock.WORKSHEETS, *purchase.WORKSHEETS, *cost.WORKSHEETS, *schedule.WORKSHEETS, *project.WORKSHEETS)

    return (
        Chapter(N_("How much room there is"), (*volume.WORKSHEETS, *water.WORKSHEETS, *box.WORKSHEETS)),
        Chapter(N_("How much to mix"), (*ratio.WORKSHEETS, *foam.WORKSHEETS, *isocyanate.WORKSHEETS)),
        Chapter(N_("How long it takes"), (*times.WORKSHEETS, *moisture.WORKSHEETS)),
        Chapter(N_("What to buy and when"), buying),
        Chapter(N_("Units"), convert.WORKSHEETS),
    )


def worksheet(key: str) -> Worksheet:
    """The worksheet of this key. Raises Refused with the known ones."""
    found = {sheet.key: sheet for sheet in every(chapters())}
    if key not in found:
        raise Refused(
            t("There is no worksheet {key}.", key=repr(key)), t("There are: {known}.", known=", ".join(found))
        )
    return found[key]


def every(parts: Iterable[Chapter]) -> tuple[Worksheet, ...]:
    """All worksheets of these chapters."""
    return tuple(sheet for part in parts for sheet in part.sheets)

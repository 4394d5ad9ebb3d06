"""Three worked plans of Wrenfield Works, an invented workshop: every number can be followed by hand."""

from __future__ import annotations

from station.errors import Refused
from station.texts import t
from station.worksheets.guided.footbed import FOOTBED
from station.worksheets.guided.form import Guide
from station.worksheets.guided.grip import GRIP
from station.worksheets.guided.pad import PAD

GUIDES: tuple[Guide, ...] = (FOOTBED, PAD, GRIP)


def guide(key: str) -> Guide:
    """The guide of this key. Raises Refused with the known ones."""
    found = next((one for one in GUIDES if one.key == key), None)
    if found is None:
        raise Refused(
            t("There is no guide {key}.", key=repr(key)),
            t("There are: {known}.", known=", ".join(one.key for one in GUIDES)),
        )
    return found

"""Where the page's files lie: inside the package once installed, beside it in a checkout."""

from __future__ import annotations

from pathlib import Path

from station.errors import Fault
from station.texts import t

_PACKAGE = Path(__file__).resolve().parents[1]


def page_root() -> Path:
    """The folder that holds `templates` and `static`. Raises Fault when the installation lacks it."""
    # Never the other way round: beside an installed package, `web` may be somebody else's.
    for place in (_PACKAGE / "web", _PACKAGE.parent / "web"):
        if (place / "templates").is_dir():
            return place
    raise Fault(t("The page's files (web) are missing from this installation."), t("Install the station again."))

"""The station's settings, as far as installing must know them before the station's own reader is there."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from station.installing.faults import InstallFault
from station.installing.places import Places
from station.installing.source import Source
from station.texts import t


@dataclass(frozen=True, slots=True)
class Known:
    """`url`: where the page answers on this computer itself."""

    url: str
    port: int
    secure: bool
    state: Path
    shared: bool
    language: str


def known(places: Places) -> Known:
    """What the settings say; the usual where they say nothing. Raises InstallFault when they are no TOML."""
    try:
        with places.settings.open("rb") as file:
            top = tomllib.load(file)
    except FileNotFoundError:
        top = {}
    except (OSError, ValueError) as why:
        raise InstallFault(t("{file} cannot be read: {why}.", file=places.settings, why=why)) from why
    web = _table(top, "web")
    port = web.get("port", 8060)
    host = str(web.get("host", "0.0.0.0"))
    here = {"0.0.0.0": "127.0.0.1", "": "127.0.0.1", "::": "[::1]"}.get(host, f"[{host}]" if ":" in host else host)
    secure = bool(web.get("certificate"))
    state = Path(str(top.get("state_dir", "/var/lib/tarebell")))
    return Known(
        url=f"http{'s' * secure}://{here}:{port}/",
        port=port if isinstance(port, int) else 8060,
        secure=secure,
        state=places.inside(state) if state.is_absolute() else places.settings.parent / state,
        shared="shared" in top,
        language=str(top.get("language", "")),
    )


def first_settings(source: Source, language: str) -> str:
    """The settings of a new bench: the example with all its comments, and a scale that is still to be found."""
    try:
        text = (source.folder / "station/examples/station.toml").read_text("utf-8")
    except OSError as why:
        raise InstallFault(f"{why}") from why
    text = re.sub(r'^port = "/dev/serial/by-id/REPLACE-ME" ', 'port = "found"', text, flags=re.MULTILINE)
    return re.sub(r'^language = "en"', f'language = "{language}"', text, flags=re.MULTILINE)


def _table(top: dict[str, Any], name: str) -> dict[str, Any]:
    found = top.get(name)
    return found if isinstance(found, dict) else {}

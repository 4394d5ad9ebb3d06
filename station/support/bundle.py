"""The bundle itself: a zip of short texts. Whatever goes in is passed through one last sieve for known secrets."""

from __future__ import annotations

import io
import json
import platform
import re
import zipfile
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from station.config import without_passwords
from station.texts import N_, t

README = N_("""What a station tells of itself to somebody who helps.

about.json     version, computer, how long it has run
health.txt     how each part fares
settings.json  the settings, without names, addresses and folders
scale.json     the checks of the scale: figures only
files.txt      the files of the state folder: size and name
log.txt        the last lines of the log; words that it was given are dots

It holds no record of any cast, no material, no key, no password, no name of a device or a person.
""")
_SHORTEST_SECRET = 4


@dataclass(frozen=True, slots=True)
class Told:
    """What goes in. `secrets` are texts that must not come out, should any of the rest hold one."""

    about: Mapping[str, object]
    health: Sequence[tuple[str, str, str]] = ()
    settings: Mapping[str, object] = field(default_factory=dict)
    checks: Sequence[Mapping[str, object]] = ()
    files: Sequence[str] = ()
    log: Sequence[str] = ()
    secrets: Collection[str] = field(default=(), repr=False)


def system() -> Mapping[str, object]:
    """The computer, without its name in the network."""
    return {
        "python": platform.python_version(),
        "system": platform.system(),
        "release": platform.release(),
        "machine": platform.machine(),
    }


def bundle(told: Told) -> bytes:
    """The zip as bytes."""
    texts = {
        "README.txt": t(README),
        "about.json": _json(told.about),
        "health.txt": _lines(f"{t(fare):>15}  {title}: {words}" for title, fare, words in told.health),
        "settings.json": _json(told.settings),
        "scale.json": _json(list(told.checks)),
        "files.txt": _lines(told.files),
        "log.txt": _lines(told.log),
    }
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as zipped:
        for name, text in texts.items():
            # A fixed date: the same state gives the same file, and no clock is asked.
            zipped.writestr(zipfile.ZipInfo(name), sieved(text, told.secrets), zipfile.ZIP_DEFLATED)
    return out.getvalue()


def sieved(text: str, secrets: Collection[str]) -> str:
    """The text without these secrets, without passwords in addresses, and without an adapter's serial number."""
    text = without_passwords(text)
    text = re.sub(r"(/dev/serial/by-[a-z]+/)[^\s'\",;)]+", r"\1…", text)
    for secret in sorted(secrets, key=len, reverse=True):
        if len(secret) >= _SHORTEST_SECRET:
            text = text.replace(secret, "…")
    return text


def _json(value: object) -> str:
    return json.dumps(value, indent=1, ensure_ascii=False, default=str) + "\n"


def _lines(lines: Iterable[str]) -> str:
    return "".join(f"{' '.join(line.splitlines())}\n" for line in lines)

"""One file of the kernel's device tree: a short text, read in one go."""

from __future__ import annotations

from pathlib import Path

from station.climate.faults import Nonsense, SensorGone
from station.texts import t

MOST = 512


def text_of(path: Path, what: str) -> str:
    """What stands in the file, without the spaces around it. Raises SensorGone and Nonsense about `what`.

    FileNotFoundError passes, for only the caller knows whether the file had to be there.
    """
    try:
        with path.open("rb") as file:
            data = file.read(MOST + 1)
    except FileNotFoundError:
        raise
    except OSError as why:
        # The kernel gives EIO, or nothing at all, while the sensor's name is still listed and the sensor is off.
        raise SensorGone(
            t("{what} does not answer ({why}).", what=what, why=why.strerror or t("it cannot be read"))
        ) from None
    if not data.strip(b" \r\n\t\0"):
        raise SensorGone(t("{what} does not answer (its file is empty).", what=what))
    try:
        text = data.decode("ascii").strip(" \r\n\t\0")
    except UnicodeDecodeError:
        raise Nonsense(t("{what} gives bytes that are no text.", what=what)) from None
    if len(data) > MOST:
        raise Nonsense(t("{what} gives far more text than a reading has.", what=what))
    return text


def shown(text: str) -> str:
    """A text as it may stand in a sentence."""
    short = "".join(c if c.isprintable() else " " for c in text[:40])
    return repr(short) + ("…" if len(text) > 40 else "")

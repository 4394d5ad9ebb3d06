"""Whether this computer suits: its system, and that its programs are 64 bits wide."""

from __future__ import annotations

from pathlib import Path

from station.errors import Refused
from station.installing.machine import Machine
from station.installing.writing import content
from station.texts import t

LEAST = 12
FITS = ("arm64", "amd64")


def check_fits(machine: Machine, root: Path) -> None:
    """Raises Refused with what does not suit."""
    lines = [line.partition("=") for line in (content(root / "etc/os-release") or "").splitlines()]
    told = {name: value.strip('"') for name, _, value in lines}
    number = told.get("VERSION_ID", "")
    # Raspberry Pi OS, 64 bits wide, calls itself Debian as well. One that is still being made has no number.
    if told.get("ID") != "debian" or (number and not (number.isdigit() and int(number) >= LEAST)):
        raise Refused(
            t("This system is {name}.", name=told.get("PRETTY_NAME", "?")),
            t("The station is installed on Raspberry Pi OS or Debian, {least} or newer.", least=LEAST),
        )
    kind = machine.run("dpkg", "--print-architecture", limit_s=20).said.strip()
    if kind not in FITS:
        raise Refused(
            t("The programs of this system are of the kind {kind}.", kind=kind or "?"),
            t("Put the 64-bit edition of Raspberry Pi OS onto the card; many packages have no other."),
        )

"""Where everything lies. `root` is / on a real computer; tests use a folder."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

UNIT = "tarebell.service"
USER = "tarebell"
FIXED = {
    "tarebell.service": "etc/systemd/system/tarebell.service",
    "tarebell.sysusers": "etc/sysusers.d/tarebell.conf",
    "tarebell.tmpfiles": "etc/tmpfiles.d/tarebell.conf",
    "tarebell.rules": "etc/udev/rules.d/70-tarebell.rules",
}
"""Files of the folder systemd/ of the source, and where each goes."""


@dataclass(frozen=True, slots=True)
class Places:
    """All paths of an installation."""

    root: Path = Path("/")

    @property
    def opt(self) -> Path:
        """Versions lie here side by side."""
        return self.root / "opt/tarebell"

    @property
    def versions(self) -> Path:
        """A folder each."""
        return self.opt / "versions"

    @property
    def current(self) -> Path:
        """The link to the version that runs."""
        return self.opt / "current"

    @property
    def command(self) -> Path:
        """What people type."""
        return self.root / "usr/local/bin/tarebell"

    @property
    def settings(self) -> Path:
        """The station's settings."""
        return self.root / "etc/tarebell/station.toml"

    @property
    def state(self) -> Path:
        """The record's usual folder."""
        return self.root / "var/lib/tarebell"

    @property
    def announcement(self) -> Path:
        """By which the network learns the page's name."""
        return self.root / "etc/avahi/services/tarebell.service"

    @property
    def no_braille(self) -> Path:
        """A rule of other programs by this name takes serial adapters for braille displays; ours takes its place."""
        return self.root / "etc/udev/rules.d/90-brltty-usb-generic.rules"

    @property
    def manager_runs(self) -> bool:
        """Whether systemd runs here: not so in a folder that an image of a card is made from."""
        return (self.root / "run/systemd/system").is_dir()

    def fixed(self) -> dict[str, Path]:
        """Where each file of the system goes."""
        return {name: self.root / place for name, place in FIXED.items()}

    def inside(self, path: Path) -> Path:
        """An absolute path of the settings, below `root`."""
        return self.root / path.relative_to(path.anchor)

    def seen(self, path: Path) -> str:
        """A path as commands on that computer are told it."""
        return f"/{path.relative_to(self.root)}"

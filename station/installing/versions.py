"""Versions beside each other, and the link that says which one runs. What is known of each is written in its folder.

A version is built at the place where it will stay, for its programs hold their own path. It counts once its mark says
so, which is written last; what was left half-built is swept away by the next run.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path

from station.installing.places import Places
from station.installing.writing import content, point, points_at, put, taken_away

BUILT, PROVED, BEFORE = ".built", ".proved", ".before"
KEPT = 2
"""How many versions stay: the one that runs, and the one before."""
_NAME = re.compile(r"(.+)-(\d+)")


@dataclass(frozen=True, slots=True)
class Before:
    """What to go back to: the backup made before this version came (None: no record yet), and the record's version."""

    backup: str | None
    record: str | None


@dataclass(frozen=True, slots=True)
class Version:
    """A version in its folder."""

    folder: Path

    @property
    def name(self) -> str:
        """Its number and the how manieth it is here."""
        return self.folder.name

    @property
    def program(self) -> Path:
        """The command of this version."""
        return self.folder / "bin/tarebell"

    @property
    def digest(self) -> str | None:
        """Of the source that it was built from; None while it is not built to its end."""
        return content(self.folder / BUILT)

    @property
    def proved(self) -> bool:
        """Whether it has run and answered here."""
        return (self.folder / PROVED).exists()

    def prove(self) -> None:
        """It has run and answered."""
        put(self.folder / PROVED, "")

    @property
    def before(self) -> Before | None:
        """What to go back to."""
        said = content(self.folder / BEFORE)
        return None if said is None else Before(**json.loads(said))

    def put_on_trial(self, before: Before) -> None:
        """It is about to run here, for the first time or again; note what to go back to."""
        taken_away(self.folder / PROVED)
        put(self.folder / BEFORE, json.dumps({"backup": before.backup, "record": before.record}))

    def system_file(self, name: str) -> str | None:
        """A file that this version wants at a place of the system."""
        return content(self.folder / "system" / name)


@dataclass(frozen=True, slots=True)
class Versions:
    """All versions of an installation."""

    places: Places

    def current(self) -> Version | None:
        """The version that the link points at, if it is built."""
        link = self.places.current
        if not link.is_symlink():
            return None
        found = Version(self.places.versions / link.readlink().name)
        return found if found.digest is not None else None

    def built(self) -> list[Version]:
        """Every version that is built to its end, the newest first."""
        return [each for each in self._all() if each.digest is not None]

    def built_from(self, digest: str, but: Version | None = None) -> Version | None:
        """The newest version of that source, other than `but`."""
        return next((each for each in self.built() if each.digest == digest and each != but), None)

    def last_proved(self, but: Version) -> Version | None:
        """The newest other version that has run here."""
        return next((each for each in self.built() if each.proved and each != but), None)

    def next(self, number: str) -> Version:
        """A folder for one more. They are counted, not dated: a board without a battery clock does not know the day."""
        taken = [_count(each.name) for each in self._all()]
        return Version(self.places.versions / f"{number}-{max(taken, default=0) + 1}")

    def switch(self, to: Version) -> None:
        """From now on this one is current; one rename. Raises InstallFault."""
        point(self.places.current, f"versions/{to.name}")

    def is_current(self, version: Version) -> bool:
        """Whether the link points at it."""
        return points_at(self.places.current, f"versions/{version.name}")

    def half_built(self) -> list[Version]:
        """What was broken off."""
        return [each for each in self._all() if each.digest is None]

    def too_old(self) -> list[Version]:
        """Those that need not stay: all but the current one and the newest proved one beside it."""
        now = self.current()
        if now is None or not now.proved:
            return []
        beside = [each for each in self.built() if each != now]
        stay = [each for each in beside if each.proved][: KEPT - 1]
        return [each for each in beside if each not in stay]

    def let_go(self, version: Version) -> None:
        """Remove it; the mark goes first, so that half of it never counts. Raises InstallFault."""
        taken_away(version.folder / BUILT)
        taken_away(version.folder)

    def _all(self) -> list[Version]:
        if not self.places.versions.is_dir():
            return []
        there = [Version(each) for each in self.places.versions.iterdir() if _NAME.fullmatch(each.name)]
        return sorted(there, key=lambda each: _count(each.name), reverse=True)


def _count(name: str) -> int:
    found = _NAME.fullmatch(name)
    return int(found[2]) if found else 0

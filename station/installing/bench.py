"""Everything that an installation works with, joined once; and the steps that installing and changing share."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from station.installing.asking import Asking
from station.installing.building import Builder, knows_shared
from station.installing.faults import InstallFault
from station.installing.machine import Machine
from station.installing.places import Places
from station.installing.service import Service
from station.installing.settings_file import first_settings, known
from station.installing.source import Source
from station.installing.steps import Step
from station.installing.system_files import (
    announcement,
    differ,
    fetch,
    lacking,
    make_user_and_folders,
    no_braille_rule,
    put_files,
    shut_braille_rule,
    user_and_folders_are_there,
)
from station.installing.versions import Version, Versions
from station.installing.writing import content, point, points_at, put
from station.texts import language, t

FIRST_START_S = 120.0
"""The first start is waited for longer than that of a new version: nothing older could go on meanwhile."""


@dataclass(frozen=True, slots=True)
class Bench:
    """One computer, the source, and whom to tell. `patience_s`: how long a changed version may take to be well."""

    machine: Machine
    places: Places
    source: Source
    builder: Builder
    tell: Callable[[str], None]
    patience_s: float = 25.0

    @property
    def versions(self) -> Versions:
        """All versions here."""
        return Versions(self.places)

    @property
    def service(self) -> Service:
        """The station as a service."""
        return Service(self.machine, self.places)

    @property
    def asking(self) -> Asking:
        """What versions are asked."""
        return Asking(self.machine, self.places)

    @property
    def url(self) -> str:
        """Where the page answers on this computer itself."""
        return known(self.places).url

    def packages(self) -> list[str]:
        """What the system offers of what the station likes to have; what was done. Without Internet it does without."""
        wanted = lacking(self.machine, self.places)
        if not wanted:
            return []
        try:
            fetched = fetch(self.machine, wanted)
        except InstallFault as why:
            self.tell(t("Not installed: {packages}. {why}", packages=", ".join(wanted), why=why))
            self.tell(t("The station runs without them. Run the same command again once there is Internet."))
            return []
        if not fetched:
            return []
        done = t("Packages of the system are installed: {packages}.", packages=", ".join(fetched))
        self.tell(done)
        return [done]

    def settings(self) -> Step:
        """The first settings; a file that is there is never touched."""
        place = self.places.settings
        return Step(
            t("The settings are in {file}.", file=place),
            lambda: not place.exists(),
            lambda: put(place, first_settings(self.source, language())),
        )

    def around(self, version: Version) -> tuple[Step, ...]:
        """What lies around a version that is current."""
        places = self.places
        return (
            Step(
                t("Unit, user, folders and rules for ports are in place."),
                lambda: bool(differ(places, version)),
                lambda: put_files(self.machine, places, version),
            ),
            Step(
                t("The station's user and folders are in place."),
                lambda: not user_and_folders_are_there(self.machine, places),
                lambda: make_user_and_folders(self.machine),
            ),
            Step(
                t("The page is announced in the network."),
                lambda: content(places.announcement) != announcement(known(places)),
                lambda: put(places.announcement, announcement(known(places))),
            ),
            Step(
                t("Serial adapters are kept from programs for braille displays."),
                lambda: not no_braille_rule(places),
                lambda: shut_braille_rule(places),
            ),
            Step(
                t("The command tarebell is in {place}.", place=places.command),
                lambda: not points_at(places.command, f"{places.seen(places.current)}/bin/tarebell"),
                lambda: point(places.command, f"{places.seen(places.current)}/bin/tarebell"),
            ),
            Step(
                t("The driver of the shared log is installed."),
                lambda: known(places).shared and not knows_shared(version),
                lambda: self.builder.install(version, *self.source.extras["shared"]),
            ),
        )

    def at_work(self, version: Version) -> tuple[Step, ...]:
        """That it starts with the computer, and runs."""

        def start() -> None:
            self.asking.settings_hold(version)
            self.service.start()
            if why := self.service.ill(version, self.url, FIRST_START_S):
                raise InstallFault(
                    t("The station was started and is not well. {why}", why=why),
                    t("`journalctl -u tarebell` says more. Mend that and run the same command again."),
                )
            version.prove()

        return (
            Step(t("The station starts with the computer."), lambda: not self.service.enabled, self.service.enable),
            Step(
                t("The station runs."),
                lambda: self.places.manager_runs and not (version.proved and self.service.seen().active == "active"),
                start,
            ),
        )

    def leftovers(self) -> Step:
        """What was broken off while it was built."""

        def do() -> None:
            for each in self.versions.half_built():
                self.versions.let_go(each)

        return Step(t("What was left half-built is swept away."), lambda: bool(self.versions.half_built()), do)

    def too_old(self) -> Step:
        """Versions that nobody goes back to any more."""

        def do() -> None:
            for each in self.versions.too_old():
                self.versions.let_go(each)

        return Step(t("Old versions are removed; one stays."), lambda: bool(self.versions.too_old()), do)

    def built(self, but: Version | None = None) -> Version:
        """A version from the source: one built already (not `but`), or a new one. Raises InstallFault."""
        found = self.versions.built_from(self.source.digest, but)
        if found is None:
            found = self.versions.next(self.source.version)
            self.tell(t("Version {version} is built; that takes some minutes.", version=found.name))
            self.builder.build(self.source, found, shared=known(self.places).shared)
        return found

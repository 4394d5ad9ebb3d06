"""What the station needs of the system: packages, user, folders, unit, rules for ports, a name in the network."""

from __future__ import annotations

from collections.abc import Sequence

from station.installing.machine import Machine, required
from station.installing.places import FIXED, Places
from station.installing.service import Service
from station.installing.settings_file import Known
from station.installing.versions import Version
from station.installing.writing import content, point, points_at, put

PACKAGES = ("python3-lgpio", "espeak-ng", "avahi-daemon")
"""The pins, the voice, the name in the network. The station runs without each of them and says so."""
_PACKAGES_S, _QUICK_S = 1200.0, 60.0
ANNOUNCEMENT = """<?xml version="1.0" standalone='no'?>
<!DOCTYPE service-group SYSTEM "avahi-service.dtd">
<!-- Written by systemd/install from the settings, and again whenever it is run. -->
<service-group>
  <name replace-wildcards="yes">Tarebell on %h</name>
  <service>
    <type>{kind}</type>
    <port>{port}</port>
  </service>
</service-group>
"""


def lacking(machine: Machine, places: Places) -> list[str]:
    """The packages that the system has not got, and offers, as far as it can tell."""
    # On a new card it may have read no list yet, and then knows of nothing.
    knows = any((places.root / "var/lib/apt/lists").glob("*_Packages*"))
    return [each for each in PACKAGES if not _there(machine, each) and (not knows or _offered(machine, each))]


def fetch(machine: Machine, packages: Sequence[str]) -> list[str]:
    """Install those packages that the system offers, and return them. Raises InstallFault."""
    required(machine, "apt-get", "update", "--quiet", limit_s=_PACKAGES_S)
    offered = [each for each in packages if _offered(machine, each)]
    command = ("apt-get", "install", "--yes", "--quiet", "--no-install-recommends")
    if offered:
        required(machine, *command, *offered, limit_s=_PACKAGES_S)
    return offered


def _there(machine: Machine, package: str) -> bool:
    return "install ok installed" in machine.run("dpkg-query", "--status", package, limit_s=_QUICK_S).said


def _offered(machine: Machine, package: str) -> bool:
    return machine.run("apt-cache", "show", "--no-all-versions", package, limit_s=_QUICK_S).well


def differ(places: Places, version: Version) -> list[str]:
    """Which files of the system are not those of this version."""
    return [name for name, place in places.fixed().items() if content(place) != version.system_file(name)]


def put_files(machine: Machine, places: Places, version: Version) -> None:
    """Put this version's files into the system and let it read them. Raises InstallFault."""
    for name in FIXED:
        wanted = version.system_file(name)
        if wanted is not None and content(places.fixed()[name]) != wanted:
            put(places.fixed()[name], wanted)
    make_user_and_folders(machine)
    if places.manager_runs:
        Service(machine, places).reload()
    reread_ports(machine, places)


def make_user_and_folders(machine: Machine) -> None:
    """The user, then the folders that are its own. Raises InstallFault."""
    required(machine, "systemd-sysusers", "/etc/sysusers.d/tarebell.conf", limit_s=_QUICK_S)
    required(machine, "systemd-tmpfiles", "--create", "/etc/tmpfiles.d/tarebell.conf", limit_s=_QUICK_S)


def reread_ports(machine: Machine, places: Places) -> None:
    """Let what is plugged in already come under the rules. Where no udev runs, there is nothing to tell."""
    if (places.root / "run/udev/control").exists():
        machine.run("udevadm", "control", "--reload", limit_s=_QUICK_S)
        machine.run("udevadm", "trigger", "--action=change", "--subsystem-match=tty", limit_s=_QUICK_S)
        machine.run("udevadm", "trigger", "--action=change", "--subsystem-match=gpio", limit_s=_QUICK_S)


def user_and_folders_are_there(machine: Machine, places: Places) -> bool:
    """Whether user and folders are as they should be, as far as a look can tell."""
    folders = (places.state, places.state / "backups", places.settings.parent)
    return machine.run("id", "tarebell", limit_s=_QUICK_S).well and all(each.is_dir() for each in folders)


def announcement(known: Known) -> str:
    """How the page is announced in the network (DNS-SD, RFC 6763)."""
    return ANNOUNCEMENT.format(kind=f"_http{'s' * known.secure}._tcp", port=known.port)


def no_braille_rule(places: Places) -> bool:
    """Whether no rule of that name takes serial adapters away."""
    return points_at(places.no_braille, "/dev/null")


def shut_braille_rule(places: Places) -> None:
    """A scale's adapter and a braille display's are often of one kind; at the bench it is a scale."""
    point(places.no_braille, "/dev/null")

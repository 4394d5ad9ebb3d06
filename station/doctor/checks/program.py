"""Python, the program and what it stands on, the operating system and the board."""

from __future__ import annotations

import platform
import sys
from collections.abc import Iterator
from importlib import metadata

from station import __version__
from station.doctor.finding import Finding, failed, look, passed
from station.doctor.patient import Patient
from station.doctor.probe import text_of
from station.texts import t

LEAST_PYTHON = (3, 11)
LIBRARIES = (
    "alembic",
    "apprise",
    "apscheduler",
    "cattrs",
    "click",
    "flask",
    "gpiozero",
    "icalendar",
    "numpy",
    "pillow",
    "pyserial",
    "reportlab",
    "scipy",
    "segno",
    "sqlalchemy",
    "tomlkit",
    "trimesh",
    "waitress",
)
"""What the program cannot do without; a test holds this against what the package itself asks for."""
_64_BIT = ("aarch64", "x86_64")


def python(_patient: Patient, version: tuple[int, ...] = sys.version_info[:3]) -> Iterator[Finding]:
    """The interpreter that runs the doctor, which is the station's own."""
    told = ".".join(map(str, version))
    if version[:2] < LEAST_PYTHON:
        yield failed(
            t("Python {version} is too old.", version=told),
            t("Use Python {least} or newer.", least=".".join(map(str, LEAST_PYTHON))),
        )
        return
    yield passed(t("Python {version}, at {place}.", version=told, place=sys.executable), names=(sys.executable,))


def libraries(_patient: Patient) -> Iterator[Finding]:
    """The program's own version, and those of the libraries that it stands on."""
    versions = {name: _version(name) for name in LIBRARIES}
    missing = [name for name, version in versions.items() if not version]
    if missing:
        yield failed(
            t("Missing: {names}.", names=", ".join(missing)),
            t("Install the program again in its own environment."),
        )
    told = ", ".join(f"{name} {version}" for name, version in versions.items() if version)
    yield passed(t("Tarebell {version} with {libraries}.", version=__version__, libraries=told))


def system(patient: Patient) -> Iterator[Finding]:
    """The operating system, its kernel, and whether it is a 64-bit one."""
    name = _os_name(text_of(patient.place("/etc/os-release"))) or platform.system()
    kernel = text_of(patient.place("/proc/sys/kernel/osrelease")) or platform.release()
    machine = text_of(patient.place("/proc/sys/kernel/arch")) or platform.machine()
    told = t("{name}, kernel {kernel}, {machine}.", name=name, kernel=kernel, machine=machine)
    if machine not in _64_BIT:
        yield look(told, t("The station was only tried on 64-bit systems: install one of 64 bits."))
        return
    yield passed(told)


def board(patient: Patient) -> Iterator[Finding]:
    """The model of the board, as its firmware says it."""
    model = text_of(patient.place("/proc/device-tree/model"))
    if not model:
        yield passed(t("This machine does not tell a board's model: it is no board with pins of its own."))
        return
    yield passed(f"{model}.")


def _version(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return ""


def _os_name(text: str) -> str:
    for line in text.splitlines():
        if line.startswith("PRETTY_NAME="):
            return line.partition("=")[2].strip("\"'")
    return ""

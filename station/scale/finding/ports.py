"""Which ports there are, and the name by which each is found again after a restart or in another socket."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from serial.tools import list_ports

from station.texts import t

_SERIAL_LINKS = Path("/dev/serial")
_KERNEL = Path("/proc/cmdline")


@dataclass(frozen=True, slots=True)
class Device:
    """A port as the system lists it. `usb` is (vendor, product, serial number), None for what is no USB device."""

    path: str
    usb: tuple[int, int, str | None] | None
    title: str = ""


@dataclass(frozen=True, slots=True)
class FoundPort:
    """A port under the `name` that lasts: by-id, else by-path, else its device file. `note` warns of what does not."""

    name: str
    device: Device
    note: str = ""

    @property
    def words(self) -> str:
        """One line for a list."""
        usb = "" if self.device.usb is None else f", USB {self.device.usb[0]:04x}:{self.device.usb[1]:04x}"
        title = f", {self.device.title}" if self.device.title else ""
        return f"{self.name} ({self.device.path}{usb}{title})"


def named(devices: Iterable[Device], links: Mapping[str, str], console: frozenset[str]) -> list[FoundPort]:
    """The lasting name of each device; `links` leads from by-id and by-path names to device files.

    Two adapters with equal ids share one by-id name, which leads to whichever came last: they go by path, with a
    warning. The kernel's `console` ports are left out.
    """
    listed = [device for device in devices if device.path not in console]
    twins = Counter(device.usb for device in listed if device.usb is not None)
    ports = []
    for device in listed:
        by_id = _link(device, links, "by-id")
        by_path = _link(device, links, "by-path")
        alike = device.usb is not None and twins[device.usb] > 1
        if by_id and not alike:
            ports.append(FoundPort(by_id, device))
        elif by_path:
            note = (
                t("Another adapter has the same id: this one is known by its socket, so leave it there.")
                if alike
                else ""
            )
            ports.append(FoundPort(by_path, device, note))
        else:
            note = (
                ""
                if device.usb is None
                else t("Its name may change when it is plugged in again: install the udev rule.")
            )
            ports.append(FoundPort(device.path, device, note))
    return ports


def _link(device: Device, links: Mapping[str, str], folder: str) -> str | None:
    return next((name for name, path in sorted(links.items()) if path == device.path and f"/{folder}/" in name), None)


def listed_ports() -> list[FoundPort]:
    """The serial ports of this machine, the kernel's console left out."""
    devices = [
        Device(
            info.device,
            None if info.vid is None or info.pid is None else (info.vid, info.pid, info.serial_number),
            info.description if info.description not in (None, "n/a") else "",
        )
        for info in sorted(list_ports.comports())
    ]
    links = {str(link): os.path.realpath(link) for link in _SERIAL_LINKS.glob("by-*/*")}
    return named(devices, links, _consoles())


def _consoles() -> frozenset[str]:
    try:
        words = _KERNEL.read_text(encoding="ascii", errors="replace").split()
    except OSError:
        return frozenset()
    names = [word.removeprefix("console=").partition(",")[0] for word in words if word.startswith("console=")]
    # The kernel calls the primary UART serial0 on some boards; its device file is behind that link.
    return frozenset(os.path.realpath(f"/dev/{name}") for name in names)

"""The pins: whether there are any, who may use them, who has them, and whether something else wants the same ones."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from importlib.util import find_spec

from station.config import SignalSettings
from station.doctor.finding import Finding, failed, look, passed
from station.doctor.life import Life
from station.doctor.patient import Patient
from station.doctor.probe import text_of
from station.doctor.rights import READ, WRITE, group_of, may
from station.handles import programs_with
from station.settings import PINS
from station.texts import t
from station.wiring.findings import Owned, Shared, findings
from station.wiring.plan import planned

_BOARD = "Raspberry Pi"
_OWNERS = (
    ("/dev/i2c-1", (2, 3), "I2C"),
    ("/dev/serial0", (14, 15), "UART"),
    ("/dev/spidev0.0", (7, 8, 9, 10, 11), "SPI"),
    ("/sys/bus/w1/devices/w1_bus_master1", (4,), "1-Wire"),
)
"""What the kernel has switched on, by a file that it then shows, and the usual pins of it (BCM numbers)."""


def _has_library() -> bool:
    return find_spec("lgpio") is not None


def pins(patient: Patient, library: Callable[[], bool] = _has_library) -> Iterator[Finding]:
    """Whether the station can drive buzzer and lamps and hear the pedal here."""
    chips = sorted(patient.place("/dev").glob("gpiochip*"))
    with_header = _BOARD in text_of(patient.place("/proc/device-tree/model"))
    if not chips:
        if with_header:
            told = t("This board shows no GPIO chip: no buzzer, no lamps, no pedal.")
            yield failed(told, t("Bring the operating system up to date and start it again."))
            return
        yield look(
            t("This machine has no GPIO: buzzer, lamps and pedal are only simulated."),
            t("That is right on a desk. At a bench the station must run on a board with pins."),
        )
        return
    if not library():
        told = t("The library lgpio is missing, so that no pin can be used.")
        cure = t(
            "Install it (sudo apt install python3-lgpio), and let the program's environment see the system's packages."
        )
        yield failed(told, cure) if with_header else look(told, cure)
        return
    chip = chips[0]
    if not may(patient.owner, chip, READ | WRITE):
        yield failed(
            t("The station runs as {user}, who may not use the pins.", user=patient.owner.name),
            t(
                "Let that user into the group that owns the pins, then start the station again: sudo usermod -aG "
                "{group} {user}",
                group=group_of(chip),
                user=patient.owner.name,
            ),
        )
        return
    strangers = [
        one
        for each in chips
        for one in programs_with(os.path.realpath(each), patient.place("/proc"))
        if patient.station.program is None or one.pid != patient.station.program.pid
    ]
    if strangers and (patient.station.program is not None or patient.station.life is Life.STOPPED):
        told = t("The pins are also used by {program}.", program=strangers[0].words)
        yield look(told, t("If a pin does not work, end that program."))
        return
    yield passed(t("There are pins, and the station may use them."))


def pin_conflicts(patient: Patient) -> Iterator[Finding]:
    """Whether a part sits on a pin that something else of this machine has taken."""
    found = list(conflicts(patient))
    yield from found
    if not found:
        yield passed(t("No part shares its pin with anything that is switched on here."))


def conflicts(patient: Patient) -> Iterator[Finding]:
    """What is wrong with the pin map of the settings, and what this machine has switched on at a pin of it."""
    fitted = _fitted(patient.known.signals)
    taken = {
        pin: owner for file, owned, owner in _OWNERS if patient.place(file).exists() for pin in owned if pin in fitted
    }
    for pin, owner in taken.items():
        told = t(
            "[signals] {part} sits on GPIO {pin}, which {owner} usually has; {owner} is switched on.",
            part=fitted[pin],
            pin=pin,
            owner=owner,
        )
        cure = t("Move the wire to a free pin and change the settings, or switch {owner} off.", owner=owner)
        yield look(told, cure)
    cure = t("Move the wire to another pin and change the settings; tarebell wiring shows the pins.")
    for wrong in findings(planned(patient.known.signals, patient.known.climate)):
        match wrong:
            case Shared():
                yield failed(wrong.words(), cure)
            case Owned() if wrong.at.gpio in taken:  # said above, and for certain
                continue
            case _:
                yield look(wrong.words(), cure)


def _fitted(signals: SignalSettings) -> dict[int, str]:
    pins = {name: getattr(signals, name) for name in PINS}
    return {pin: name for name, pin in pins.items() if pin is not None}

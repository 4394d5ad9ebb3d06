"""What may be wrong with a sensor at the bench, each as a sentence and with what to do about it."""

from __future__ import annotations

from station.errors import Fault
from station.texts import N_


class SensorFault(Fault):
    """A temperature or humidity sensor tells nothing that can be believed."""

    hint = N_("Look at the sensor's wires; a temperature can be typed meanwhile.")


class NoSensor(SensorFault):
    """There is none of the kind, or not the one that the settings name."""


class SeveralSensors(SensorFault):
    """More than one, and the settings do not say which one hangs at the bench."""


class SensorGone(SensorFault):
    """It is listed and does not answer."""


class GarbledReading(SensorFault):
    """The check digits of its answer do not match."""

    hint = N_("The wire is long, loose or lies beside a motor: shorten it and check the pull-up resistor.")


class Nonsense(SensorFault):
    """What stands in the file is no reading."""


class OutsideWorkshop(SensorFault):
    """A reading that no workshop has."""


class PowerOnValue(SensorFault):
    """It shows what it holds before its first measurement."""

    hint = N_("It loses its supply for moments: check its wires, the 3.3 V above all.")


class Unsettled(SensorFault):
    """Two looks, one right after the other, are far apart."""

    hint = N_("A reading is believed again once two agree.")

"""What each kind of part needs, and the rule of each worked-out value, in sentences with the figures filled in."""

from __future__ import annotations

from collections.abc import Sequence

from station.texts import t
from station.wiring.figures import milliamperes, milliseconds, nanofarads, ohms, volts
from station.wiring.parts import LOGIC_V, SUPPLY_V, Buzzer, Contact, Lamp, Part, Sensor, Tone
from station.wiring.resistors import series_ohm


def needs(part: Part) -> Sequence[str]:
    """The kind of part, and what stands beside it on the board."""
    match part:
        case Lamp():
            return _lamp(part)
        case Buzzer():
            return _buzzer(part)
        case Tone():
            return _tone(part)
        case Contact():
            return _contact(part)
        case Sensor():
            return _sensor(part)


def _lamp(lamp: Lamp) -> Sequence[str]:
    exact = series_ohm(LOGIC_V, lamp.drop_v, lamp.wanted_a)
    return (
        t(
            "A light-emitting diode that drops about {drop}: red, yellow or yellow-green. A blue or white one drops "
            "3 V and stays dark.",
            drop=volts(lamp.drop_v),
        ),
        t(
            "In series {ohm}: ({logic} − {drop}) / {wanted} = {exact}, and the next value of series E12 above it. "
            "The pin gives {taken}.",
            ohm=ohms(lamp.ohm),
            logic=volts(LOGIC_V),
            drop=volts(lamp.drop_v),
            wanted=milliamperes(lamp.wanted_a),
            exact=ohms(exact),
            taken=milliamperes(lamp.pin_a),
        ),
    )


def _buzzer(buzzer: Buzzer) -> Sequence[str]:
    base_a = buzzer.buzzer_a / buzzer.drive
    return (
        t(
            "An active buzzer (it sounds by itself when it gets {supply}) that takes {taken} at most, and a small "
            "NPN transistor for 100 mA or more.",
            supply=volts(SUPPLY_V),
            taken=milliamperes(buzzer.buzzer_a),
        ),
        t(
            "To the base {ohm}: ({logic} − {base}) / {wanted} = {exact}, and the next value of series E12 below it. "
            "{wanted} is a tenth of what the buzzer takes, so the transistor is fully on. The pin gives {given}.",
            ohm=ohms(buzzer.ohm),
            logic=volts(LOGIC_V),
            base=volts(buzzer.base_v),
            wanted=milliamperes(base_a),
            exact=ohms(series_ohm(LOGIC_V, buzzer.base_v, base_a)),
            given=milliamperes(buzzer.pin_a),
        ),
        t(
            "From the base to ground {ohm}: silent while nothing drives the pin. Across the buzzer a diode for 100 "
            "mA or more, its ring to 5 V: it takes what a coil gives back.",
            ohm=ohms(buzzer.hold_off_ohm),
        ),
    )


def _tone(tone: Tone) -> Sequence[str]:
    return (
        t("A piezo disc without electronics. A coil without electronics takes far too much for a pin."),
        t(
            "In series {ohm}: {logic} / {wanted} = {exact}, and the next value of series E12 above it. The pin gives "
            "{taken} at each edge, for some microseconds.",
            ohm=ohms(tone.ohm),
            logic=volts(LOGIC_V),
            wanted=milliamperes(tone.peak_a),
            exact=ohms(series_ohm(LOGIC_V, 0.0, tone.peak_a)),
            taken=milliamperes(tone.pin_a),
        ),
    )


def _contact(contact: Contact) -> Sequence[str]:
    return (
        t(
            "A normally open contact between its cable and ground, with {pull_up} from the cable to {logic}: {taken} "
            "flow while it is closed, and a long cable is no aerial.",
            pull_up=ohms(contact.pull_up_ohm),
            logic=volts(LOGIC_V),
            taken=milliamperes(contact.rail_a),
        ),
        t(
            "Before the pin {ohm} in series and {farad} to ground: the pin follows with {closes} when it closes and "
            "with {opens} when it opens, and surely reads open after {read}. The station counts the first edge and "
            "is deaf for 50 ms, so nothing is lost by it.",
            ohm=ohms(contact.ohm),
            farad=nanofarads(contact.farad),
            closes=milliseconds(contact.closes_s),
            opens=milliseconds(contact.opens_s),
            read=milliseconds(contact.read_open_s),
        ),
    )


def _sensor(sensor: Sensor) -> Sequence[str]:
    return (
        t(
            "A 1-Wire temperature sensor with three wires, and {ohm} from its data wire to {logic}. It takes {taken} "
            "while it measures. In the boot settings: dtoverlay=w1-gpio",
            ohm=ohms(sensor.pull_up_ohm),
            logic=volts(LOGIC_V),
            taken=milliamperes(sensor.rail_a),
        ),
    )

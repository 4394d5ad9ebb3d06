"""How scale, time, climate and signals fare. Pure: values in, a word and a sentence out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from station.config import SignalSettings
from station.core.snapshot import ScaleState, ScaleView
from station.core.time_view import TimeState, TimeView
from station.metrology.verdict import Verdict
from station.phone.climate_view import ClimateSeen
from station.phone.station_view import Fare, Part

SCALE, TIME, CLIMATE, SIGNALS = "Scale", "Time", "Climate", "Signals"


@dataclass(frozen=True, slots=True)
class LastCheck:
    """The newest check of the scale in use: when, when the next is due, and what it found."""

    on: date
    due: date
    verdict: str


def scale_part(view: ScaleView, check: LastCheck | None, today: date | None) -> Part:
    """The scale now, and whether its newest check still holds; `today` None: nobody knows the day."""
    match view.state:
        case ScaleState.LOST | ScaleState.TROUBLE:
            return Part(SCALE, Fare.WRONG, view.words or "The scale is not read.", "/scale")
        case ScaleState.STALE | ScaleState.BLANK:
            return Part(SCALE, Fare.LOOK, view.words or "The scale has said nothing for a while.", "/scale")
        case ScaleState.LIVE:
            fare, words = _of_check(check, today)
            return Part(SCALE, fare, f"It is read. {words}", "/scale")


def _of_check(check: LastCheck | None, today: date | None) -> tuple[Fare, str]:
    if check is None:
        return Fare.LOOK, "It was never checked, so nobody knows how small a batch it can weigh."
    words = f"Last checked on {check.on.isoformat()}: {check.verdict}."
    if today is not None and check.due < today:
        return Fare.LOOK, f"{words} The next check was due on {check.due.isoformat()}."
    return (Fare.LOOK if check.verdict == Verdict.NOT_FIT else Fare.WELL), words


def time_part(view: TimeView | None) -> Part:
    """What the station believes of the time, and whether a power cut waits for an answer."""
    if view is None:
        return Part(TIME, Fare.UNKNOWN, "The bench has just started.", "/time")
    told = {
        TimeState.HEARD: "A time service was heard, or a battery clock agrees.",
        TimeState.SET: "Set by hand; no time service has been heard.",
        TimeState.UNKNOWN: "No time service has been heard since the power came on. Clocks run right all the same.",
    }[view.state]
    open_gaps = sum(gap.open for gap in view.gaps)
    if open_gaps:
        return Part(TIME, Fare.LOOK, f"{told} The station asks how long the power was off.", "/time")
    return Part(TIME, Fare.LOOK if view.state is TimeState.UNKNOWN else Fare.WELL, told, "/time")


def climate_part(seen: ClimateSeen) -> Part:
    """Temperature and humidity at the bench, and what is wrong with who tells them."""
    if seen.celsius is None:
        words = "The temperature at the bench is not known: no sensor tells it and nobody has typed it."
        return Part(CLIMATE, Fare.LOOK, " ".join((words, *seen.troubles)), "/climate")
    humidity = "" if seen.humidity_percent is None else f", {seen.humidity_percent:.0f} % relative humidity"
    words = f"{seen.celsius:.1f} °C{humidity}.".replace("-", "\N{MINUS SIGN}")
    troubles = " ".join(filter(None, (*seen.troubles, seen.old)))
    return Part(CLIMATE, Fare.LOOK if troubles else Fare.WELL, f"{words} {troubles}".rstrip(), "/climate")


def signals_part(settings: SignalSettings, note: str, speaks: bool) -> Part:
    """What at the bench sounds, lights and is pressed. `note` tells that the pins are only simulated."""
    if note:
        return Part(SIGNALS, Fare.LOOK, note)
    lamps = sum(pin is not None for pin in (settings.lamp_ready, settings.lamp_busy, settings.lamp_attention))
    fitted = [
        "buzzer" if settings.buzzer is not None else "",
        "tonal buzzer" if settings.tone is not None else "",
        f"{lamps} lamp{'' if lamps == 1 else 's'}" if lamps else "",
        "pedal" if settings.pedal is not None else "",
        "button" if settings.button is not None else "",
        "speech" if speaks else "",
    ]
    words = f"By the settings there are: {', '.join(filter(None, fitted))}." if any(fitted) else "Nothing is fitted."
    if settings.buzzer is None and settings.tone is None:
        return Part(SIGNALS, Fare.LOOK, f"{words} Without a buzzer an alarm is easily missed.")
    return Part(SIGNALS, Fare.WELL, f"{words} Whether they are heard and seen, only a person can tell.")

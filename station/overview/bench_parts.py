"""How scale, time, climate and signals fare. Pure: values in, a word and a sentence out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from station.config import SignalSettings
from station.core.snapshot import ScaleState, ScaleView
from station.core.time_view import TimeState, TimeView
from station.metrology.reason import Verdict
from station.phone.climate_view import ClimateSeen
from station.phone.station_view import Fare, Part
from station.texts import N_, number, t, tn

SCALE, TIME, CLIMATE, SIGNALS = N_("Scale"), N_("Time"), N_("Climate"), N_("Signals")
WIRING = "/station/wiring"


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
            return Part(SCALE, Fare.WRONG, view.words or t("The scale is not read."), "/scale")
        case ScaleState.STALE | ScaleState.BLANK:
            return Part(SCALE, Fare.LOOK, view.words or t("The scale has said nothing for a while."), "/scale")
        case ScaleState.LIVE:
            fare, words = _of_check(check, today)
            return Part(SCALE, fare, t("It is read. {words}", words=words), "/scale")


def _of_check(check: LastCheck | None, today: date | None) -> tuple[Fare, str]:
    if check is None:
        return Fare.LOOK, t("It was never checked, so nobody knows how small a batch it can weigh.")
    words = t("Last checked on {on}: {verdict}.", on=check.on.isoformat(), verdict=t(check.verdict))
    if today is not None and check.due < today:
        return Fare.LOOK, t("{words} The next check was due on {due}.", words=words, due=check.due.isoformat())
    return (Fare.LOOK if check.verdict == Verdict.NOT_FIT else Fare.WELL), words


def time_part(view: TimeView | None) -> Part:
    """What the station believes of the time, and whether a power cut waits for an answer."""
    if view is None:
        return Part(TIME, Fare.UNKNOWN, t("The bench has just started."), "/time")
    told = {
        TimeState.HEARD: t("A time service was heard, or a battery clock agrees."),
        TimeState.SET: t("Set by hand; no time service has been heard."),
        TimeState.UNKNOWN: t("No time service has been heard since the power came on. Clocks run right all the same."),
    }[view.state]
    open_gaps = sum(gap.open for gap in view.gaps)
    if open_gaps:
        return Part(TIME, Fare.LOOK, t("{told} The station asks how long the power was off.", told=told), "/time")
    return Part(TIME, Fare.LOOK if view.state is TimeState.UNKNOWN else Fare.WELL, told, "/time")


def climate_part(seen: ClimateSeen) -> Part:
    """Temperature and humidity at the bench, and what is wrong with who tells them."""
    if seen.celsius is None:
        words = t("The temperature at the bench is not known: no sensor tells it and nobody has typed it.")
        return Part(CLIMATE, Fare.LOOK, " ".join((words, *seen.troubles)), "/climate")
    celsius = number(seen.celsius, ".1f").replace("-", "\N{MINUS SIGN}")
    words = f"{celsius} °C."
    if seen.humidity_percent is not None:
        words = t(
            "{celsius} °C, {humidity} % relative humidity.", celsius=celsius, humidity=f"{seen.humidity_percent:.0f}"
        )
    troubles = " ".join(filter(None, (*seen.troubles, seen.old)))
    return Part(CLIMATE, Fare.LOOK if troubles else Fare.WELL, f"{words} {troubles}".rstrip(), "/climate")


def signals_part(settings: SignalSettings, note: str, speaks: bool, wrong: Sequence[str] = ()) -> Part:
    """What at the bench sounds, lights and is pressed. `note` tells that the pins are only simulated.

    `wrong` is what is said of badly chosen pins.
    """
    if note:
        return Part(SIGNALS, Fare.LOOK, note, WIRING)
    lamps = sum(pin is not None for pin in (settings.lamp_ready, settings.lamp_busy, settings.lamp_attention))
    fitted = [
        t("buzzer") if settings.buzzer is not None else "",
        t("tonal buzzer") if settings.tone is not None else "",
        tn("{n} lamp", "{n} lamps", lamps) if lamps else "",
        t("pedal") if settings.pedal is not None else "",
        t("button") if settings.button is not None else "",
        t("speech") if speaks else "",
    ]
    words = (
        t("By the settings there are: {filter}.", filter=", ".join(filter(None, fitted)))
        if any(fitted)
        else t("Nothing is fitted.")
    )
    if settings.buzzer is None and settings.tone is None:
        return Part(SIGNALS, Fare.LOOK, t("{words} Without a buzzer an alarm is easily missed.", words=words), WIRING)
    if wrong:
        return Part(SIGNALS, Fare.LOOK, " ".join((words, *wrong)), WIRING)
    return Part(
        SIGNALS, Fare.WELL, t("{words} Whether they are heard and seen, only a person can tell.", words=words), WIRING
    )

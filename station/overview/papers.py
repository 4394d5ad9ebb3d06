"""The two sheets to print: the card of tones, lamps and presses, and the wiring; both from the settings. Pure."""

from __future__ import annotations

from station.config import Settings
from station.errors import Refused
from station.phone.station_view import Paper
from station.signal_card import contents, sheet
from station.wiring.drawing import drawn
from station.wiring.findings import findings
from station.wiring.plan import planned


def card_paper(settings: Settings) -> Paper:
    """The card to hang up at the bench."""
    return Paper((), sheet.drawn(contents.card(settings.name, settings.signals)))


def wiring_paper(settings: Settings) -> Paper:
    """The wiring, with what is wrong with the choice of pins."""
    warnings = wrong_pins(settings)
    try:
        return Paper(warnings, drawn(planned(settings.signals, settings.climate)))
    except Refused:
        return Paper(warnings, None)  # two parts on one pin: the first of the warnings says so


def wrong_pins(settings: Settings) -> tuple[str, ...]:
    """What is wrong with the choice of pins, in sentences."""
    return tuple(one.words() for one in findings(planned(settings.signals, settings.climate)))

"""The scale's settings against what the station can read: everything that is wrong, before any port is opened."""

from __future__ import annotations

from station.config import ScaleSettings
from station.errors import SettingsError
from station.scale.bit7 import FORMATS
from station.scale.families import family_named
from station.scale.finding.profiles import FOUND
from station.scale.reasons import misnamed
from station.scale.units import GRAMS_PER
from station.texts import t

_FASTEST_BAUD = 4_000_000
"""The highest bit rate that Linux names; far beyond it the number does not even fit into the call."""


def check(settings: ScaleSettings) -> None:
    """Raises SettingsError with one sentence for each setting that no scale could have."""
    problems = []
    if settings.port != FOUND and (wrong := misnamed(settings.port)):
        problems.append(f"[scale] port: {wrong}")
    if settings.port == FOUND:
        return  # all the rest was found out
    try:
        spec = family_named(settings.family)
    except SettingsError as unknown:
        problems += unknown.problems
    else:
        if not spec.guides:
            problems.append(
                t(
                    "[scale] family: {family} is printed at a key, one line at a time, and cannot guide a weighing. "
                    "Set the scale's output to stream (continuous) or to request.",
                    family=spec.id,
                )
            )
        if spec.unitless and settings.unit is None:
            problems.append(
                t(
                    '[scale] unit: the lines of {family} carry none, so name it: unit = "g", as displayed.',
                    family=spec.id,
                )
            )
    if settings.character not in FORMATS:
        problems.append(
            t(
                "[scale] character: {character} is not known. Known formats: {known}.",
                character=repr(settings.character),
                known=", ".join(FORMATS),
            )
        )
    if settings.unit is not None and settings.unit not in GRAMS_PER:
        known = ", ".join(GRAMS_PER)
        problems.append(
            t("[scale] unit: {unit} is not known. Known units: {known}.", unit=repr(settings.unit), known=known)
        )
    if not 0 < settings.baud <= _FASTEST_BAUD:
        problems.append(
            t("[scale] baud: {baud} is not a bit rate. Common ones: 2400, 4800, 9600, 19200.", baud=settings.baud)
        )
    if settings.poll_s <= 0:
        problems.append(t("[scale] poll: {poll} s is too short. 0.5 suits most scales.", poll=settings.poll_s))
    if problems:
        raise SettingsError(problems)

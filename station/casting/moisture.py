"""Moisture in the air: the dew point, whether a cold mold or material gets wet, and when urethanes suffer from it.

Formulas: WMO-No. 8, Guide to Instruments and Methods of Observation, annex on humidity formulas: saturation over
water e = 6.112 hPa · exp(17.62 t / (243.12 °C + t)) for -45 to 60 °C, the form named after Magnus (coefficients
as an open-source library's documentation gives them for that guide; the guide's number from memory). The guide's
factor for moist air is left out: it is 0.4 % of e and the same on both sides of the dew point.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from station.casting.chemistry import Chemistry
from station.errors import Refused
from station.texts import N_, number, t

DRY_PERCENT = 30.0
"""Below this a condensation-cure silicone lacks the water that it cures with (common practice, no source)."""
LEAST_C, MOST_C = -45.0, 60.0
"""Where the formula holds."""
DAMP_PERCENT, WET_PERCENT = 60.0, 65.0
"""Relative humidity from which urethanes are in doubt, and beyond which they are in trouble.

Common practice, no source; from memory.
"""
MARGIN_C = 3.0
"""A surface counts as dry this far above the dew point: ISO 8502-4 for painting steel, from memory."""
_E0_HPA, _A, _B_C = 6.112, 17.62, 243.12
_WET = {
    "mold": N_(
        "The mold at {celsius} °C is {apart} °C below the dew point: water condenses on it. Warm it to {warm} °C or "
        "more and wipe it dry before you go on."
    ),
    "material": N_(
        "The material at {celsius} °C is {apart} °C below the dew point: water condenses on it. Warm it to {warm} °C "
        "or more and wipe it dry before you go on."
    ),
}
_NEAR = {
    "mold": N_(
        "The mold at {celsius} °C is only {apart} °C above the dew point: warm it to {warm} °C or more, or it may get "
        "wet."
    ),
    "material": N_(
        "The material at {celsius} °C is only {apart} °C above the dew point: warm it to {warm} °C or more, or it may "
        "get wet."
    ),
}


@dataclass(frozen=True, slots=True)
class Surface:
    """The mold or the material in that air (`name`: "mold" or "material"): its °C, how far it is above the dew
    point (K), and the air's humidity at it (%)."""

    name: str
    celsius: float
    above_k: float
    percent: float

    @property
    def wet(self) -> bool:
        """Whether water condenses on it."""
        return self.above_k <= 0

    @property
    def near(self) -> bool:
        """Whether it is not wet, and too near to it."""
        return 0 < self.above_k < MARGIN_C


def saturation_hpa(celsius: float) -> float:
    """Pressure of water vapour over water at saturation, in hPa (WMO-No. 8). Raises Refused outside -45…60 °C."""
    if not LEAST_C <= celsius <= MOST_C:
        raise Refused(
            t("{celsius} °C is outside what the dew point can be worked out for.", celsius=number(celsius)),
            t("Give a temperature from {least_c} to {most_c} °C.", least_c=number(LEAST_C), most_c=number(MOST_C)),
        )
    return _E0_HPA * math.exp(_A * celsius / (_B_C + celsius))


def dew_point_c(celsius: float, percent: float) -> float:
    """The temperature in °C to which this air must be cooled until water condenses (WMO-No. 8, solved for t).

    `percent` is the relative humidity. Raises Refused for air outside -45…60 °C or 1…100 %.
    """
    if not 1 <= percent <= 100:
        raise Refused(
            t("{percent} % is no relative humidity of air.", percent=number(percent)), t("Give one from 1 to 100 %.")
        )
    part = math.log(percent / 100 * saturation_hpa(celsius) / _E0_HPA)
    return _B_C * part / (_A - part)


def surface(name: str, celsius: float, air_c: float, percent: float) -> Surface:
    """A mold or a material of `celsius` in air of `air_c` and relative humidity `percent`. Raises Refused."""
    dew = dew_point_c(air_c, percent)
    here = percent * saturation_hpa(air_c) / saturation_hpa(celsius)
    return Surface(name, celsius, celsius - dew, min(100.0, here))


def surface_caution(found: Surface) -> str:
    """What to do about a cold surface, as a sentence; empty when it stays dry."""
    if not (found.wet or found.near):
        return ""
    return t(
        (_WET if found.wet else _NEAR)[found.name],
        celsius=number(found.celsius, ".1f"),
        apart=number(abs(found.above_k), ".1f"),
        warm=number(found.celsius - found.above_k + MARGIN_C, ".1f"),
    )


def urethane_caution(percent: float) -> str:
    """What this relative humidity means for urethanes, as a sentence; empty when it is dry enough.

    Common practice, no source.
    """
    if percent > WET_PERCENT:
        return t(
            "The air has {percent} % humidity; above {damp_percent} to {wet_percent} % urethanes take up "
            "water and bubble or rise too far. Dry the air or wait; else open cans only to pour and close "
            "them at once.",
            percent=number(percent, ".0f"),
            damp_percent=number(DAMP_PERCENT, ".0f"),
            wet_percent=number(WET_PERCENT, ".0f"),
        )
    if percent >= DAMP_PERCENT:
        return t(
            "The air has {percent} % humidity, near where urethanes take up water ({wet_percent} %). "
            "Close cans at once after pouring, and make a small trial first.",
            percent=number(percent, ".0f"),
            wet_percent=number(WET_PERCENT, ".0f"),
        )
    return ""


def chemistry_caution(chemistry: Chemistry, percent: float) -> str:
    """What this relative humidity means for a system, as a sentence; empty when it does not matter.

    Common practice, no source.
    """
    if chemistry.isocyanate:
        return urethane_caution(percent)
    if chemistry is Chemistry.CONDENSATION_SILICONE:
        if percent > WET_PERCENT:
            return t(
                "In air of {percent} % humidity a condensation-cure silicone skins first and stays soft "
                "inside: give it longer before you demold.",
                percent=number(percent, ".0f"),
            )
        if percent < DRY_PERCENT:
            return t(
                "In air of {percent} % humidity a condensation-cure silicone cures slowly, for it needs a "
                "little water: give it longer before you demold.",
                percent=number(percent, ".0f"),
            )
    return ""

"""How the computer, the program and the other benches fare. Pure: values in, a word and a sentence out."""

from __future__ import annotations

from station.computer.health import HOT_C, Health
from station.core.moment import Moment
from station.core.spans import about
from station.neighbours import Neighbourhood
from station.phone.benches_view import sounding
from station.phone.station_view import Fare, Part
from station.phone.words import day_text


def heat_part(health: Health) -> Part:
    """Whether the computer is so warm that it slows down."""
    if health.celsius is None:
        return Part("Computer", Fare.UNKNOWN, "This computer does not tell its temperature.")
    words = f"Its processor has {health.celsius:.0f} °C."
    if health.hot:
        return Part("Computer", Fare.LOOK, f"{words} From {HOT_C:.0f} °C it slows down: give it air.")
    return Part("Computer", Fare.WELL, words)


def supply_part(health: Health) -> Part:
    """Whether the computer's supply holds its voltage."""
    match health.supply_low:
        case None:
            return Part("Supply", Fare.UNKNOWN, "This computer does not tell whether its supply holds.")
        case True:
            return Part(
                "Supply",
                Fare.WRONG,
                "The supply sags: it may fail in the middle of a cast and spoil the card. Use a stronger one, and a "
                "short, thick cable.",
            )
        case False:
            return Part("Supply", Fare.WELL, "The supply holds its voltage.")


def program_part(version: str, started: Moment, now: Moment, safe: str) -> Part:
    """Which version runs and since when; `safe` tells why it is in safe mode."""
    since = about(max(0.0, float(int(now.boot_s - started.boot_s))))
    words = f"Version {version}, running for {since}"
    if now.trusted:
        words += f", now {day_text(now.wall)}"
    if safe:
        return Part("Program", Fare.LOOK, f"{words}. {safe}")
    return Part("Program", Fare.WELL, f"{words}.")


def benches_part(hood: Neighbourhood | None) -> Part:
    """The log that several benches share; None where this one keeps its own."""
    if hood is None:
        return Part("Benches", Fare.OFF, "This bench keeps a log of its own.")
    if hood.trouble or hood.refused:
        said = "It takes nothing from this bench." if hood.refused else "It is not to be had now."
        return Part("Benches", Fare.LOOK, f"Something is wrong with the shared log. {said}", "/benches")
    if hood.read is None:
        return Part("Benches", Fare.UNKNOWN, "The shared log has not been read yet.", "/benches")
    count, alarms = len(hood.benches), sounding(hood)
    others = "1 other bench" if count == 1 else f"{count} other benches"
    if alarms:
        told = "1 alarm sounds" if alarms == 1 else f"{alarms} alarms sound"
        return Part("Benches", Fare.LOOK, f"{others} at this log; {told} there.", "/benches")
    return Part("Benches", Fare.WELL, f"{others} at this log; nothing sounds there.", "/benches")

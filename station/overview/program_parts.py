"""How the computer, the program and the other benches fare. Pure: values in, a word and a sentence out."""

from __future__ import annotations

from station.computer.health import HOT_C, Health
from station.core.moment import Moment
from station.core.spans import about
from station.neighbours import Neighbourhood
from station.phone.benches_view import sounding
from station.phone.station_view import Fare, Part
from station.phone.words import day_text
from station.texts import t, tn


def heat_part(health: Health) -> Part:
    """Whether the computer is so warm that it slows down."""
    if health.celsius is None:
        return Part(t("Computer"), Fare.UNKNOWN, t("This computer does not tell its temperature."))
    words = t("Its processor has {celsius} °C.", celsius=f"{health.celsius:.0f}")
    if health.hot:
        return Part(
            t("Computer"),
            Fare.LOOK,
            t("{words} From {hot_c} °C it slows down: give it air.", words=words, hot_c=f"{HOT_C:.0f}"),
        )
    return Part(t("Computer"), Fare.WELL, words)


def supply_part(health: Health) -> Part:
    """Whether the computer's supply holds its voltage."""
    match health.supply_low:
        case None:
            return Part(t("Supply"), Fare.UNKNOWN, t("This computer does not tell whether its supply holds."))
        case True:
            return Part(
                t("Supply"),
                Fare.WRONG,
                t(
                    "The supply sags: it may fail in the middle of a cast and spoil the card. Use a stronger "
                    "one, and a short, thick cable."
                ),
            )
        case False:
            return Part(t("Supply"), Fare.WELL, t("The supply holds its voltage."))


def program_part(version: str, started: Moment, now: Moment, safe: str) -> Part:
    """Which version runs and since when; `safe` tells why it is in safe mode."""
    since = about(max(0.0, float(int(now.boot_s - started.boot_s))))
    words = t("Version {version}, running for {since}.", version=version, since=since)
    if now.trusted:
        day = day_text(now.wall)
        words = t("Version {version}, running for {since}, now {day}.", version=version, since=since, day=day)
    if safe:
        return Part(t("Program"), Fare.LOOK, f"{words} {safe}")
    return Part(t("Program"), Fare.WELL, words)


def benches_part(hood: Neighbourhood | None) -> Part:
    """The log that several benches share; None where this one keeps its own."""
    if hood is None:
        return Part(t("Benches"), Fare.OFF, t("This bench keeps a log of its own."))
    if hood.trouble or hood.refused:
        said = t("It takes nothing from this bench.") if hood.refused else t("It is not to be had now.")
        return Part(t("Benches"), Fare.LOOK, t("Something is wrong with the shared log. {said}", said=said), "/benches")
    if hood.read is None:
        return Part(t("Benches"), Fare.UNKNOWN, t("The shared log has not been read yet."), "/benches")
    count, alarms = len(hood.benches), sounding(hood)
    others = tn("{n} other bench is at this log.", "{n} other benches are at this log.", count)
    if alarms:
        told = tn("{n} alarm sounds there.", "{n} alarms sound there.", alarms)
        return Part(t("Benches"), Fare.LOOK, f"{others} {told}", "/benches")
    told = t("Nothing sounds there.")
    return Part(t("Benches"), Fare.WELL, f"{others} {told}", "/benches")

"""How paired phones and the messages to phones fare. Pure: values in, a word and a sentence out."""

from __future__ import annotations

from station.phone.push_view import AddressLine, PushView
from station.phone.station_view import Fare, Part
from station.texts import t, tn


def phones_part(paired: int) -> Part:
    """How many devices may touch the bench."""
    if paired == 0:
        return Part(
            t("Phones"), Fare.OFF, t("No device is paired: whoever opens the page can look, not touch."), "/devices"
        )
    told = tn(
        "{n} device is paired and may touch the bench.", "{n} devices are paired and may touch the bench.", paired
    )
    return Part(t("Phones"), Fare.WELL, told, "/devices")


def messages_part(view: PushView | None) -> Part:
    """Whether alarms reach somebody who is away from the bench; None while no messages are sent."""
    if view is None:
        return Part(t("Messages"), Fare.LOOK, t("No messages are sent to a phone in safe mode."), "/push")
    if view.trouble:
        return Part(t("Messages"), Fare.LOOK, t("What was chosen for messages to a phone cannot be read."), "/push")
    count = len(view.addresses)
    if count == 0:
        return Part(t("Messages"), Fare.OFF, t("No address is entered: nothing is sent to a phone."), "/push")
    unreached = sum(_unreached(line) for line in view.addresses)
    if unreached:
        told = tn(
            "{n} address was not reached by the last message.",
            "{n} addresses were not reached by the last message.",
            unreached,
        )
        return Part(t("Messages"), Fare.LOOK, told, "/push")
    told = tn(
        "They go to {n} address, and nothing is known to be lost.",
        "They go to {n} addresses, and nothing is known to be lost.",
        count,
    )
    return Part(t("Messages"), Fare.WELL, told, "/push")


def _unreached(line: AddressLine) -> bool:
    return line.bad is not None and (line.good is None or line.bad > line.good)

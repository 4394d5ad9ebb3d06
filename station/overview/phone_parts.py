"""How paired phones and the messages to phones fare. Pure: values in, a word and a sentence out."""

from __future__ import annotations

from station.phone.push_view import AddressLine, PushView
from station.phone.station_view import Fare, Part


def phones_part(paired: int) -> Part:
    """How many devices may touch the bench."""
    if paired == 0:
        return Part("Phones", Fare.OFF, "No device is paired: whoever opens the page can look, not touch.", "/devices")
    told = "1 device is" if paired == 1 else f"{paired} devices are"
    return Part("Phones", Fare.WELL, f"{told} paired and may touch the bench.", "/devices")


def messages_part(view: PushView | None) -> Part:
    """Whether alarms reach somebody who is away from the bench; None while no messages are sent."""
    if view is None:
        return Part("Messages", Fare.LOOK, "No messages are sent to a phone in safe mode.", "/push")
    if view.trouble:
        return Part("Messages", Fare.LOOK, "What was chosen for messages to a phone cannot be read.", "/push")
    count = len(view.addresses)
    if count == 0:
        return Part("Messages", Fare.OFF, "No address is entered: nothing is sent to a phone.", "/push")
    unreached = sum(_unreached(line) for line in view.addresses)
    if unreached:
        told = "1 address was" if unreached == 1 else f"{unreached} addresses were"
        return Part("Messages", Fare.LOOK, f"{told} not reached by the last message.", "/push")
    told = "1 address" if count == 1 else f"{count} addresses"
    return Part("Messages", Fare.WELL, f"They go to {told}, and nothing is known to be lost.", "/push")


def _unreached(line: AddressLine) -> bool:
    return line.bad is not None and (line.good is None or line.bad > line.good)

"""How paired phones and the messages to phones fare. Pure: values in, a word and a sentence out."""

from __future__ import annotations

from dataclasses import dataclass

from station.phone.station_view import Fare, Part


@dataclass(frozen=True, slots=True)
class MessagesSeen:
    """Addresses that messages go to, how many of them the last message did not reach, and whether all is readable."""

    addresses: int
    unreached: int
    readable: bool = True


def phones_part(paired: int | None) -> Part:
    """Who may touch the bench; None where nobody counts them."""
    if paired is None:
        return Part(
            "Phones", Fare.OFF, "Each is paired with a code that only the bench shows.", "/pair"
        )
    if paired == 0:
        return Part("Phones", Fare.OFF, "No device is paired: whoever opens the page can look, not touch.", "/devices")
    told = "1 device is" if paired == 1 else f"{paired} devices are"
    return Part("Phones", Fare.WELL, f"{told} paired and may touch the bench.", "/devices")


def messages_part(seen: MessagesSeen) -> Part:
    """Whether alarms reach somebody who is away from the bench."""
    if not seen.readable:
        return Part("Messages", Fare.LOOK, "What was chosen for messages to a phone cannot be read.", "/push")
    if seen.addresses == 0:
        return Part("Messages", Fare.OFF, "No address is entered: nothing is sent to a phone.", "/push")
    if seen.unreached:
        told = "1 address was" if seen.unreached == 1 else f"{seen.unreached} addresses were"
        return Part("Messages", Fare.LOOK, f"{told} not reached by the last message.", "/push")
    told = "1 address" if seen.addresses == 1 else f"{seen.addresses} addresses"
    return Part("Messages", Fare.WELL, f"Sent to {told}; nothing is known to be lost.", "/push")

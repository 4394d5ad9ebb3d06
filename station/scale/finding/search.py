"""The search for a scale at one port, as a conversation: it wishes, the world answers. Pure.

It listens first, reads rate and parity from the bytes, asks a silent scale only harmless questions, has the pan
pressed, and has the person confirm what the display shows.
"""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import replace

from station.scale.delivery import CURE, Delivery
from station.scale.finding.confirm import confirmed
from station.scale.finding.outcome import NotFound, Profile
from station.scale.finding.queries import RATES
from station.scale.finding.questions import answering
from station.scale.finding.rates import RATE_S, talking_rate
from station.scale.finding.score import Candidate, hearing_of
from station.scale.finding.setting import Heard, listen, sampled
from station.scale.finding.wishes import Answer, Tell, Wish
from station.texts import N_, number, t, tn

Search = Generator[Wish, Answer, Profile | NotFound]
"""Yields wishes, is sent their answers, returns what was found."""

LISTEN_S = 2.5
_PRESS_S = 6.0
_NOISE = 8
"""Bytes that an adapter or a plug may send by itself."""
_PRESS = N_("Press the pan with a finger for two seconds, then let go.")


def search(port: str, fixed_rate: int | None = None) -> Search:
    """Search at `port`; `fixed_rate` where the rate cannot be set from here (a raw network port)."""
    rates = RATES if fixed_rate is None else (fixed_rate,)
    yield Tell(t("Listening on {port} for {time} s, without sending anything.", port=port, time=number(LISTEN_S)))
    data = yield from listen(rates[0], LISTEN_S)
    if data:
        yield Tell(
            tn(
                "{n} byte came unasked. Looking for the bit rate.",
                "{n} bytes came unasked. Looking for the bit rate.",
                len(data),
            )
        )
        talking = yield from talking_rate(rates, data)
        if talking is not None:
            return (yield from _proven(port, talking, Delivery.STREAM))
        if len(data) > _NOISE:
            return NotFound(_saw(data), _causes(data))  # whatever talks there is not asked anything
    yield Tell(t("Nothing readable came unasked. Press the print key on the scale now, then touch the pan."))
    printed = yield from listen(rates[0], _PRESS_S)
    first = Heard(rates[0], hearing_of(printed, synced=True), printed) if printed else None
    yield Tell(
        t(
            "Now questions are sent that no scale takes amiss. At a wrong bit rate they arrive as noise, so clear the "
            "pan and look at the display afterwards: if it was zeroed or changed, switch the scale off and on."
        )
    )
    asked = yield from answering(rates, first)
    if asked is not None:
        return (yield from _proven(port, asked, Delivery.ON_REQUEST))
    if first is not None and first.hearing.best is not None:
        family = first.hearing.best.spec.id
        saw = t("Lines of the family {family} came, but only at the key or at rest.", family=family)
        return NotFound(saw, (t(CURE),))
    return NotFound(_saw(data + printed), _causes(data + printed))


def _proven(port: str, heard: Heard, delivery: Delivery) -> Search:
    """The touch test and the question to the person."""
    sure = [_speaks(heard)]
    for words in (t(_PRESS), t("The number did not change.") + f" {t(_PRESS)}"):
        yield Tell(words)
        data = yield from sampled(heard, _PRESS_S)
        pressed = replace(heard, data=data, hearing=hearing_of(data, synced=heard.query is not None))
        best = pressed.hearing.best
        if best is not None and _moved(best):
            break
    else:
        saw = t("Lines that look like a scale came, but their number never changed.")
        return NotFound(f"{saw} {_saw(heard.data)}", tuple(map(t, _UNMOVED)))
    if not best.spec.guides:
        return NotFound(t("The scale prints tickets ({family}).", family=best.spec.id), (t(CURE),))
    sure.append(
        t("The number changed when the pan was pressed, so it is a scale, of the family {family}.", family=best.spec.id)
    )
    if best.spec.mute_moving:
        sure.append(
            t("It sends no number while the load moves, so pours are not guided: choose another format if it has one.")
        )
    profile = Profile(
        port=port,
        family=best.spec.id,
        baud=heard.baud,
        character=pressed.format,
        delivery=delivery,
        request=heard.query,
        sure=tuple(sure),
    )
    # Long enough for two whole frames after the first piece.
    latest_s = max(RATE_S, _FRAMES_TO_BE_SURE * _PRESS_S / len(best.frames))
    return (yield from confirmed(profile, pressed.hearing, lambda: sampled(heard, latest_s)))


_FRAMES_TO_BE_SURE = 4


def _moved(candidate: Candidate) -> bool:
    """Three different numbers; two, one of them called moving; or, where such has no number, moving among rest."""
    values = {frame.value for frame in candidate.loads if frame.value is not None}
    said = [frame.stable for frame in candidate.frames if frame.stable is not None]
    if len(values) > 1 and False in said:
        return True
    return len(values) >= _DIFFERENT or (said.count(False) >= _MOVING and True in said)


_DIFFERENT, _MOVING = 3, 2


def _speaks(heard: Heard) -> str:
    best = heard.hearing.best
    return t(
        "It speaks at {baud} baud, {character}: {frames} whole frames there, {rule} in bit 7, score {score} of 1.",
        baud=heard.baud,
        character=heard.format,
        frames=0 if best is None else len(best.frames),
        rule=t(heard.hearing.bit7.value),
        score=number(heard.hearing.score, ".2f"),
    )


def _saw(data: bytes) -> str:
    if not data:
        return t("Not a single byte came.")
    return tn(
        "Heard {n} byte that no known family explains: {beginning}.",
        "Heard {n} bytes that no known family explains, beginning {beginning}.",
        len(data),
        beginning=data[:24].hex(" "),
    )


_UNMOVED = (
    N_("The display is held, or the scale is locked: end hold, and press harder."),
    N_("It is another instrument (a thermometer, a counter): choose another port."),
    N_("It sends a stored value: set its output to the live weight (gross or net)."),
)


def _causes(data: bytes) -> tuple[str, ...]:
    if data:
        return (
            t("The scale sends a format that the station does not know: save the bytes and send them in."),
            t("A wrong level: RS-232 needs an RS-232 adapter, a board's TTL pins need a TTL one."),
            t("Two programs read the port at once and each gets half: end the other one."),
        )
    return (
        t("The cable is straight where it must be crossed (null modem), or ground is not connected."),
        t("The scale sends only at its key or not at all: set its output to stream (continuous) in its menu."),
        t("The scale waits for hardware handshake on a three-wire cable: switch handshake off in its menu."),
    )

"""The search for a scale at one port, as a conversation: it wishes, the world answers. Pure: no port, no clock, no
person.

It listens first, reads rate and parity from the bytes, asks a silent scale only harmless questions, has the pan
pressed, and has the person confirm what the display shows.
"""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import dataclass, replace

from station.scale.bit7 import Bit7
from station.scale.delivery import CURE, Delivery
from station.scale.finding.confirm import confirmed
from station.scale.finding.queries import ENQUIRY, FIRST, LATER, RATES, SEND, SETTINGS, wait_for
from station.scale.finding.score import ACCEPT, ENOUGH, Candidate, Hearing, hearing_of
from station.scale.finding.wishes import Answer, Listen, NotFound, Profile, Query, Tell, Wish

Search = Generator[Wish, Answer, Profile | NotFound]
"""Yields wishes, is sent their answers, returns what was found."""

LISTEN_S = 2.5
_RATE_S = 1.2
_LONGER_S = 4.0
_PRESS_S = 6.0
_REFUSE = 0.2
_PATIENT_RATES = 3
_REAL_PARITY = ("8O1",)
"""Parity errors are passed on, so 8E1 is read just as well; odd is what scales with eight data bits usually have."""
_NOISE = 8
"""Bytes that an adapter or a plug may send by itself."""
_FORMAT_OF = {Bit7.DATA: "8N1", Bit7.EVEN: "7E1", Bit7.ODD: "7O1", Bit7.ONE: "7N2"}
_PRESS = "Press the pan with a finger for two seconds, then let go."


@dataclass(frozen=True, slots=True)
class _Heard:
    """What one setting gave; `query` is what was sent for it."""

    baud: int
    hearing: Hearing
    data: bytes
    character: str = ""
    query: bytes | None = None

    @property
    def format(self) -> str:
        """The character format: the one set, or what bit 7 shows."""
        best = self.hearing.best
        binary = best is not None and best.spec.eight_bit
        return self.character or ("8N1" if binary else _FORMAT_OF[self.hearing.bit7])


def search(port: str, fixed_rate: int | None = None) -> Search:
    """Search at `port`; `fixed_rate` where the rate cannot be set from here (a raw network port)."""
    rates = RATES if fixed_rate is None else (fixed_rate,)
    yield Tell(f"Listening on {port} for {LISTEN_S:g} s, without sending anything.")
    data = yield from _listen(rates[0], LISTEN_S)
    if data:
        yield Tell(f"{len(data)} bytes came unasked. Looking for the bit rate.")
        talking = yield from _rate(rates, data)
        if talking is not None:
            return (yield from _proven(port, talking, Delivery.STREAM))
        if len(data) > _NOISE:
            return NotFound(_saw(data), _causes(data))  # whatever talks there is not asked anything
    yield Tell("Nothing readable came unasked. Press the print key on the scale now, then touch the pan.")
    printed = yield from _listen(rates[0], _PRESS_S)
    first = _Heard(rates[0], hearing_of(printed, synced=True), printed) if printed else None
    yield Tell(
        "Now questions are sent that no scale takes amiss. At a wrong bit rate they arrive as noise, so clear the pan "
        "and look at the display afterwards: if it was zeroed or changed, switch the scale off and on."
    )
    asked = yield from _asked(rates, first)
    if asked is not None:
        return (yield from _proven(port, asked, Delivery.ON_REQUEST))
    if first is not None and first.hearing.best is not None:
        best = first.hearing.best
        return NotFound(f"Lines of the family {best.spec.id} came, but only at the key or at rest.", (CURE,))
    return NotFound(_saw(data + printed), _causes(data + printed))


def _listen(baud: int, seconds: float, character: str = "8N1") -> Generator[Wish, Answer, bytes]:
    answer = yield Listen(baud, character, seconds)
    return answer if isinstance(answer, bytes) else b""


def _rate(rates: tuple[int, ...], first: bytes) -> Generator[Wish, Answer, _Heard | None]:
    """The setting at which the stream makes sense, or None.

    Read without parity, 8E1 and 8O1 come through with framing errors on most receivers; some take the parity bit for
    the next start bit, so real parity is tried last.
    """
    for character in ("8N1", *_REAL_PARITY):
        best = yield from _best_rate(rates, first if character == "8N1" else None, character)
        if best is not None:
            yield Tell(f"It speaks at {best.baud} baud, {best.format} (score {best.hearing.score:.2f} of 1).")
            return best
    return None


def _best_rate(rates: tuple[int, ...], first: bytes | None, character: str) -> Generator[Wish, Answer, _Heard | None]:
    real = character if character in _REAL_PARITY else ""
    tried: list[_Heard] = []
    for baud in rates:
        given = first if baud == rates[0] else None
        data = given if given is not None else (yield from _listen(baud, _RATE_S, character))
        tried.append(_Heard(baud, hearing_of(data), data, real))
        tried.sort(key=_promise)
        if _sure(tried):
            break
    for place in range(min(_PATIENT_RATES, len(tried))):
        if _sure(tried):
            break
        more = yield from _listen(tried[place].baud, _LONGER_S, character)
        tried[place] = _Heard(tried[place].baud, hearing_of(more), more, real)
    best = min(tried, key=_promise)
    if best.hearing.best is None or best.hearing.score < _REFUSE or not best.hearing.best.loads:
        return None
    return best


def _promise(heard: _Heard) -> tuple[float, float]:
    return -heard.hearing.score, -heard.hearing.likeness


def _sure(tried: list[_Heard]) -> bool:
    best = tried[0].hearing
    frames = 0 if best.best is None else len(best.best.frames)
    runner_up = tried[1].hearing.score if len(tried) > 1 else 0.0
    return best.score >= ACCEPT and frames >= ENOUGH and runner_up < _REFUSE


def _asked(rates: tuple[int, ...], printed: _Heard | None) -> Generator[Wish, Answer, _Heard | None]:
    """The setting and the query that a silent scale answers with its load, or None."""
    settings = SETTINGS if len(rates) > 1 else ((rates[0], "8N1"),)
    if printed is not None and printed.hearing.best is not None:
        settings = ((printed.baud, printed.format),)
    for queries in (FIRST, LATER):
        for baud, character in settings:
            yield Tell(f"Asking at {baud} baud, {character}.")
            answered = yield from _answered(baud, character, queries)
            if answered is not None and answered.hearing.best is not None and answered.hearing.best.loads:
                return answered
            if answered is not None:
                # A refusal is an answer too: the setting is right, only the question was not.
                settings = ((baud, answered.format),)
                break
    return None


def _answered(baud: int, character: str, queries: tuple[bytes, ...]) -> Generator[Wish, Answer, _Heard | None]:
    refusal = None
    for query in queries:
        heard = yield from _query(baud, character, query)
        if query == ENQUIRY and heard.data[-1:] in (b"\x06", b"\x86"):
            heard = yield from _query(baud, character, SEND)
            heard = replace(heard, query=ENQUIRY + SEND)
        best = heard.hearing.best
        if best is None:
            continue
        own = best.spec.request
        if not best.loads and own is not None and own != query:
            # The family has shown itself: its own question cannot harm it.
            heard = yield from _query(baud, character, own)
            best = heard.hearing.best
        if best is not None and best.loads:
            return heard
        refusal = heard
    return refusal


def _query(baud: int, character: str, query: bytes) -> Generator[Wish, Answer, _Heard]:
    answer = yield Query(baud, character, query, wait_for(query))
    data = answer if isinstance(answer, bytes) else b""
    heard = _Heard(baud, hearing_of(data, synced=True), data, query=query)
    return replace(heard, character=character) if character in _REAL_PARITY else heard


def _proven(port: str, heard: _Heard, delivery: Delivery) -> Search:
    """The touch test and the question to the person."""
    sure = [f"It speaks at {heard.baud} baud, {heard.format}: {_share(heard)}."]
    for words in (_PRESS, f"The number did not change. {_PRESS}"):
        yield Tell(words)
        data = yield from _sampled(heard, _PRESS_S)
        pressed = replace(heard, data=data, hearing=hearing_of(data, synced=heard.query is not None))
        best = pressed.hearing.best
        if best is not None and _moved(best):
            break
    else:
        saw = f"Lines that look like a scale came, but their number never changed. {_saw(heard.data)}"
        return NotFound(saw, _UNMOVED)
    if not best.spec.guides:
        return NotFound(f"The scale prints tickets ({best.spec.id}).", (CURE,))
    sure.append(f"The number changed when the pan was pressed, so it is a scale, of the family {best.spec.id}.")
    if best.spec.mute_moving:
        sure.append(
            "It sends no number while the load moves, so pours are not guided: choose another format if it has one."
        )
    profile = Profile(
        port=port,
        family=best.spec.id,
        baud=heard.baud,
        character=pressed.format,
        delivery=delivery,
        request=heard.query,
        decimals=max((frame.decimals for frame in best.loads), default=0),
        cadence_s=round(_PRESS_S / len(best.frames), 3),
        sure=tuple(sure),
    )
    # Long enough for two whole frames after the first piece.
    latest_s = max(_RATE_S, _FRAMES_TO_BE_SURE * profile.cadence_s)
    return (yield from confirmed(profile, pressed.hearing, lambda: _sampled(heard, latest_s)))


_FRAMES_TO_BE_SURE = 4


def _sampled(heard: _Heard, seconds: float) -> Generator[Wish, Answer, bytes]:
    """What comes in `seconds`, asked for again and again where the scale must be asked."""
    if heard.query is None:
        return (yield from _listen(heard.baud, seconds, heard.character or "8N1"))
    data = b""
    for _ in range(max(2, round(seconds / _POLL_S))):
        answer = yield Query(heard.baud, heard.character or heard.format, heard.query, _POLL_S)
        data += answer if isinstance(answer, bytes) else b""
    return data


_POLL_S = 0.5


def _moved(candidate: Candidate) -> bool:
    """Three different numbers; two, one of them called moving; or, where such has no number, moving among rest."""
    values = {frame.value for frame in candidate.loads if frame.value is not None}
    said = [frame.stable for frame in candidate.frames if frame.stable is not None]
    if len(values) > 1 and False in said:
        return True
    return len(values) >= _DIFFERENT or (said.count(False) >= _MOVING and True in said)


_DIFFERENT, _MOVING = 3, 2


def _share(heard: _Heard) -> str:
    best = heard.hearing.best
    frames = 0 if best is None else len(best.frames)
    return f"{frames} whole frames there, {heard.hearing.bit7.value} in bit 7, score {heard.hearing.score:.2f} of 1"


def _saw(data: bytes) -> str:
    if not data:
        return "Not a single byte came."
    return f"Heard {len(data)} bytes that no known family explains, beginning {data[:24].hex(' ')}."


_UNMOVED = (
    "The display is held, or the scale is locked: end hold, and press harder.",
    "It is another instrument (a thermometer, a counter): choose another port.",
    "It sends a stored value: set its output to the live weight (gross or net).",
)


def _causes(data: bytes) -> tuple[str, ...]:
    if data:
        return (
            "The scale sends a format that the station does not know: save the bytes and send them in.",
            "A wrong level: RS-232 needs an RS-232 adapter, a board's TTL pins need a TTL one.",
            "Two programs read the port at once and each gets half: end the other one.",
        )
    return (
        "The cable is straight where it must be crossed (null modem), or ground is not connected.",
        "The scale sends only at its key or not at all: set its output to stream (continuous) in its menu.",
        "The scale waits for hardware handshake on a three-wire cable: switch handshake off in its menu.",
    )

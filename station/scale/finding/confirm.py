"""The last step of a search: what unit and point mean, and the person's word that the display shows the same. Pure."""

from __future__ import annotations

import re
from collections.abc import Callable, Generator
from dataclasses import replace
from decimal import Decimal

from station.scale.bit7 import Bit7, masked
from station.scale.decoded import Frame
from station.scale.decoder import Decoder
from station.scale.finding.outcome import NotFound, Profile
from station.scale.finding.score import Candidate, Hearing, hearing_of
from station.scale.finding.wishes import Answer, AskShown, Confirm, Tell, Wish
from station.scale.meaning import Kind, Mode
from station.scale.number import number
from station.scale.units import GRAMS_PER, PLAIN

Sample = Callable[[], Generator[Wish, Answer, bytes]]

_SHOWN = re.compile(r"(?P<number>[^A-Za-z]+)(?P<unit>[A-Za-z]+)")
_TRIES = 3


def confirmed(profile: Profile, hearing: Hearing, sample: Sample) -> Generator[Wish, Answer, Profile | NotFound]:
    """Ask until one family's reading is what the display shows; the profile, or why there is none."""
    for candidate in _different(hearing.candidates):
        data = yield from sample()
        frame = _latest(data, candidate, profile.request is not None)
        if frame is None or frame.value is None:
            continue
        told = replace(profile, family=candidate.spec.id)
        if frame.unit is None:
            return (yield from _with_unit(told, candidate, sample))
        if frame.unit not in GRAMS_PER:
            continue
        answer = yield Confirm(f"The scale should now show {frame.value:f} {frame.unit}. Does it?")
        if answer is None:
            note = f"Nobody confirmed {frame.value:f} {frame.unit}: compare the display before the first weighing."
            return replace(told, unit=frame.unit, sure=(*told.sure, note))
        if answer:
            note = f"You confirmed that the display shows {frame.value:f} {frame.unit}."
            return replace(told, unit=frame.unit, sure=(*told.sure, note))
    saw = f"Lines of the family {profile.family} came, but the display shows something else."
    return NotFound(saw, _DIFFERENT)


def _with_unit(profile: Profile, candidate: Candidate, sample: Sample) -> Generator[Wish, Answer, Profile | NotFound]:
    """The unit and, where the frames have no point either, its place, from what the display shows."""
    for _ in range(_TRIES):
        data = yield from sample()
        frame = _latest(data, candidate, profile.request is not None)
        if frame is None or frame.value is None:
            break
        if not frame.value:
            yield Tell("The scale sends 0. Put something on the pan, so that the place of the point can be seen.")
        shown = yield AskShown(
            f"The scale sends {frame.value:f} without a unit. "
            "What does its display show now, with the unit (as in 123.4 g)?"
        )
        answer = shown if isinstance(shown, str) else ""
        worth_unit = _worth(frame, answer)
        if worth_unit is not None:
            worth, unit = worth_unit
            note = f"You read {answer} off the display, so the unit is {unit}" + (
                "." if worth == 1 else f" and one of the last digit is {worth:f} {unit}."
            )
            return replace(profile, unit=unit, worth=f"{worth:f}", sure=(*profile.sure, note))
        yield Tell("That does not go together with what the scale sends.")
    return NotFound(f"Lines of the family {profile.family} came, but the display shows something else.", _DIFFERENT)


def _worth(frame: Frame, shown: str) -> tuple[Decimal, str] | None:
    """What one of the last digit counts, and the unit; a number with a point must be the one shown."""
    found = _SHOWN.fullmatch(shown.strip())
    value = None if found is None else number(found["number"].strip())
    unit = None if found is None else PLAIN.get(found["unit"].lower())
    if value is None or unit is None or unit not in GRAMS_PER or frame.value is None:
        return None
    if frame.value == value.value:
        return Decimal(1), unit
    if frame.decimals or not frame.value or not value.value:
        return None
    worth = Decimal(1).scaleb(-value.decimals)
    return (worth, unit) if frame.value * worth == value.value else None


def _latest(data: bytes, candidate: Candidate, synced: bool) -> Frame | None:
    text = data if candidate.spec.eight_bit or hearing_of(data, synced).bit7 is Bit7.DATA else masked(data)
    frames = Decoder(candidate.spec, synced).feed(text)
    return next(
        (frame for frame in reversed(frames) if frame.kind is Kind.WEIGHT and frame.mode is not Mode.TARE), None
    )


def _different(candidates: tuple[Candidate, ...]) -> list[Candidate]:
    """One candidate for each reading of the same bytes: families that agree need no second question."""
    kept: list[Candidate] = []
    for candidate in candidates:
        told = [(frame.value, frame.unit) for frame in candidate.loads]
        if told and not any(told == [(frame.value, frame.unit) for frame in other.loads] for other in kept):
            kept.append(candidate)
    return kept


_DIFFERENT = (
    "The display shows net and the line gross (or the other way round): press tare twice on an empty pan, find again.",
    "The display counts or shows percent: switch the scale to weighing.",
    "The scale sends another unit than it shows: set both to g in its menu.",
)

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
from station.texts import N_, decimal, t

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
        shown = f"{decimal(f'{frame.value:f}')} {frame.unit}"
        answer = yield Confirm(t("The scale should now show {shown}. Does it?", shown=shown))
        if answer is None:
            note = t("Nobody confirmed {shown}: compare the display before the first weighing.", shown=shown)
            return replace(told, unit=frame.unit, sure=(*told.sure, note))
        if answer:
            note = t("You confirmed that the display shows {shown}.", shown=shown)
            return replace(told, unit=frame.unit, sure=(*told.sure, note))
    return _shows_something_else(profile)


def _shows_something_else(profile: Profile) -> NotFound:
    saw = t("Lines of the family {family} came, but the display shows something else.", family=profile.family)
    return NotFound(saw, tuple(map(t, _DIFFERENT)))


def _with_unit(profile: Profile, candidate: Candidate, sample: Sample) -> Generator[Wish, Answer, Profile | NotFound]:
    """The unit and, where the frames have no point either, its place, from what the display shows."""
    for _ in range(_TRIES):
        data = yield from sample()
        frame = _latest(data, candidate, profile.request is not None)
        if frame is None or frame.value is None:
            break
        if not frame.value:
            yield Tell(t("The scale sends 0. Put something on the pan, so that the place of the point can be seen."))
        shown = yield AskShown(
            t(
                "The scale sends {value} without a unit. What does its display show now, with the unit "
                "(as in 123.4 g)?",
                value=decimal(f"{frame.value:f}"),
            )
        )
        answer = shown if isinstance(shown, str) else ""
        worth_unit = _worth(frame, answer)
        if worth_unit is not None:
            worth, unit = worth_unit
            note = t("You read {answer} off the display, so the unit is {unit}.", answer=answer, unit=unit)
            if worth != 1:
                note = t(
                    "You read {answer} off the display, so the unit is {unit} and one of the last digit is {worth} "
                    "{unit}.",
                    answer=answer,
                    unit=unit,
                    worth=decimal(f"{worth:f}"),
                )
            return replace(profile, unit=unit, worth=f"{worth:f}", sure=(*profile.sure, note))
        yield Tell(t("That does not go together with what the scale sends."))
    return _shows_something_else(profile)


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
    N_(
        "The display shows net and the line gross (or the other way round): press tare twice on an empty pan, find "
        "again."
    ),
    N_("The display counts or shows percent: switch the scale to weighing."),
    N_("The scale sends another unit than it shows: set both to g in its menu."),
)

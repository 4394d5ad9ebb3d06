"""What a person types into the form of judging, read block by block; what is wrong is told at its field."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from station.core.judging_events import Defect, DefectKind, HardnessScale, Severity, Verdict
from station.core.judging_messages import Judge, JudgingCommand, MeasureShrinkage, ReadHardness, WeighPart
from station.errors import SettingsError, StationError
from station.phone.orders import TEXT_LIMIT
from station.quantities import length, mass, seconds
from station.texts import t

READINGS: Final = 5
"""Rows for hardness: ISO 48-4 asks for five readings at different positions (from memory)."""
PLACE_LIMIT: Final = 60
OF_ONE_KIND: Final = 3
"""Defects of one kind, each at its own place, that the form has room for."""
BLOCKS: Final = ("mass", "hardness", "lengths", "verdict")

Typed = Mapping[str, str]


class Slip(SettingsError):
    """Something typed cannot be taken. `fields` names each field and what is wrong with it."""

    def __init__(self, fields: Mapping[str, str]) -> None:
        super().__init__(list(fields.values()))
        self.fields = dict(fields)


def block_of(typed: Typed, block: str, number: int, by: str) -> tuple[JudgingCommand, ...]:
    """What a block of the form says of a cast; nothing when it was left empty. Raises Slip."""
    match block:
        case "mass":
            return _mass(typed, number, by)
        case "hardness":
            return _hardness(typed, number, by)
        case "lengths":
            return _lengths(typed, number, by)
        case _:
            return _verdict(typed, number, by)


def _mass(typed: Typed, number: int, by: str) -> tuple[JudgingCommand, ...]:
    if not typed.get("mass", "").strip():
        return ()
    with _Field("mass"):
        return (WeighPart(number, mass(typed["mass"], bare="g"), typed.get("trimmed") == "yes", by),)


def _hardness(typed: Typed, number: int, by: str) -> tuple[JudgingCommand, ...]:
    rows = [row for row in range(1, READINGS + 1) if typed.get(f"value-{row}", "").strip()]
    if not rows:
        return ()
    scale = next((one for one in HardnessScale if one.name == typed.get("scale")), None)
    if scale is None:
        raise Slip({"scale": t("Say which scale the durometer has: readings of two scales cannot be compared.")})
    after_s = None
    if typed.get("after", "").strip():
        with _Field("after"):
            after_s = seconds(typed["after"], bare="h")
    found = []
    for row in rows:
        with _Field(f"value-{row}"):
            value = reading(typed[f"value-{row}"])
        found.append(ReadHardness(number, scale, value, _place(typed, f"at-{row}"), after_s, by))
    return tuple(found)


def reading(text: str) -> float:
    """A durometer's reading as it is typed, with a point or a comma. Raises SettingsError."""
    clean = text.strip().replace(",", ".")
    if clean.count(".") <= 1 and clean.replace(".", "").isascii() and clean.replace(".", "").isdigit():
        value = float(clean)
        if value <= 100:
            return value
    raise SettingsError([t("{typed} is no reading: a durometer shows 0 to 100.", typed=repr(text[:20]))])


def _lengths(typed: Typed, number: int, by: str) -> tuple[JudgingCommand, ...]:
    named = {name: typed.get(name, "").strip() for name in ("mold-mm", "part-mm")}
    if not any(named.values()):
        return ()
    missing = next((name for name, text in named.items() if not text), None)
    if missing is not None:
        raise Slip({missing: t("Both lengths are needed: in the mold and on the part.")})
    with _Field("mold-mm"):
        of_mold = length(named["mold-mm"], bare="mm")
    with _Field("part-mm"):
        of_part = length(named["part-mm"], bare="mm")
    return (MeasureShrinkage(number, of_mold, of_part, _place(typed, "along"), by),)


def _verdict(typed: Typed, number: int, by: str) -> tuple[JudgingCommand, ...]:
    defects = _defects(typed)
    note = cleaned(typed.get("note", ""))[:TEXT_LIMIT]
    verdict = next((one for one in Verdict if one.name == typed.get("verdict")), None)
    if verdict is None:
        if defects or note:
            raise Slip({"verdict": t("Say what the part is worth: good, usable or scrap.")})
        return ()
    return (Judge(number, verdict, defects, note, by),)


def _defects(typed: Typed) -> tuple[Defect, ...]:
    found: list[Defect] = []
    for kind in DefectKind:
        for row in range(OF_ONE_KIND):
            field = f"{kind.name}-{row}"
            severity = next((one for one in Severity if one.name == typed.get(field)), None)
            if severity is not None:
                found.append(Defect(kind, severity, _place(typed, f"{field}-at")))
    return tuple(found)


def _place(typed: Typed, field: str) -> str:
    return cleaned(typed.get(field, ""))[:PLACE_LIMIT]


def cleaned(words: str) -> str:
    """Words without control characters and needless spaces."""
    return " ".join("".join(c if c.isprintable() else " " for c in words).split())


class _Field:
    """What goes wrong inside is told at this field."""

    def __init__(self, name: str) -> None:
        self._name = name

    def __enter__(self) -> None:
        pass

    def __exit__(self, _kind: object, wrong: BaseException | None, _at: object) -> None:
        if isinstance(wrong, StationError):
            raise Slip({self._name: wrong.sentence()}) from wrong

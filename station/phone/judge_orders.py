"""What a program says of a part by the API, turned into commands; nonsense gets a sentence that names the field."""

from __future__ import annotations

import math
from collections.abc import Iterator
from enum import Enum
from typing import TypeVar

from station.core.judging_events import Defect, DefectKind, HardnessScale, Severity, Verdict
from station.core.judging_messages import Judge, JudgingCommand, MeasureShrinkage, ReadHardness, TakePart, WeighPart
from station.core.mass import Mass
from station.phone.judge_form import PLACE_LIMIT, cleaned
from station.phone.orders import TEXT_LIMIT, NotUnderstood, Said, number, text
from station.texts import t

MOST_AT_ONCE = 20
_Kind = TypeVar("_Kind", bound=Enum)


def taken_from_pan(said: Said, by: str) -> TakePart:
    """`number` and `trimmed`, which may be left out."""
    return TakePart(number(said), _flag(said, "trimmed"), by)


def judged(said: Said, by: str) -> tuple[JudgingCommand, ...]:
    """`number`, and any of `mass_mg` with `trimmed`, `hardness`, `lengths` and `verdict`."""
    cast = number(said)
    found: list[JudgingCommand] = []
    if said.get("mass_mg") is not None:
        mg = _figure(said, "mass_mg")
        if mg != int(mg):
            raise NotUnderstood(t("mass_mg must be whole milligrams."))
        found.append(WeighPart(cast, Mass(int(mg)), _flag(said, "trimmed"), by))
    for one in _each(said, "hardness"):
        since = None if one.get("since_demold_s") is None else _figure(one, "since_demold_s")
        scale = _named(HardnessScale, one, "scale")
        found.append(ReadHardness(cast, scale, _figure(one, "value"), _words(one, "place", PLACE_LIMIT), since, by))
    for one in _each(said, "lengths"):
        found.append(
            MeasureShrinkage(
                cast, _figure(one, "mold_mm"), _figure(one, "part_mm"), _words(one, "place", PLACE_LIMIT), by
            )
        )
    if said.get("verdict") is not None:
        found.append(_verdict(said["verdict"], cast, by))
    if not found:
        raise NotUnderstood(t("Nothing is said of the part: send mass_mg, hardness, lengths or verdict."))
    return tuple(found)


def _verdict(said: object, cast: int, by: str) -> Judge:
    if not isinstance(said, dict):
        raise NotUnderstood(t('verdict must be an object such as {"worth": "GOOD"}.'))
    defects = tuple(
        Defect(_named(DefectKind, one, "kind"), _named(Severity, one, "severity"), _words(one, "place", PLACE_LIMIT))
        for one in _each(said, "defects")
    )
    return Judge(cast, _named(Verdict, said, "worth"), defects, _words(said, "note", TEXT_LIMIT), by)


def _each(said: Said, field: str) -> Iterator[Said]:
    value = said.get(field)
    if value is None:
        return
    if not isinstance(value, list) or len(value) > MOST_AT_ONCE or not all(isinstance(one, dict) for one in value):
        raise NotUnderstood(t("{field} must be a list of at most {most} objects.", field=field, most=MOST_AT_ONCE))
    yield from value


def _figure(said: Said, field: str) -> float:
    value = said.get(field)
    if isinstance(value, bool) or not isinstance(value, int | float) or abs(value) > 1e12 or not math.isfinite(value):
        raise NotUnderstood(t("{field} must be a number.", field=field))
    return float(value)


def _flag(said: Said, field: str) -> bool:
    value = said.get(field)
    if value in (None, "", "no", "false", False):
        return False
    if value in ("yes", "true", True):
        return True
    raise NotUnderstood(t("{field} must be true or false.", field=field))


def _words(said: Said, field: str, limit: int) -> str:
    """Words that may be left out."""
    value = said.get(field)
    if value is None or (isinstance(value, str) and not cleaned(value)):
        return ""
    return text(said, field, t("it in words"), limit)


def _named(kinds: type[_Kind], said: Said, field: str) -> _Kind:
    value = said.get(field)
    for kind in kinds:
        if isinstance(value, str) and value.upper() == kind.name:
            return kind
    known = ", ".join(kind.name for kind in kinds)
    raise NotUnderstood(t("{field} must be one of {known}.", field=field, known=known))

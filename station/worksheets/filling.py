"""Filling in a worksheet: typed texts into values, with every problem told at once under its field's label."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from station.errors import Refused, SettingsError
from station.texts import decimal, t
from station.worksheets.form import Field, Worked, Worksheet
from station.worksheets.kinds import NUMBERS, Kind, read


@dataclass(frozen=True, slots=True)
class Slip:
    """What is wrong with one field (its key), as a sentence; key "" when it concerns several."""

    key: str
    said: str


class NotFilledIn(Refused):
    """Some fields cannot be read, or do not go together. `slips` tells each."""

    def __init__(self, slips: tuple[Slip, ...]) -> None:
        super().__init__(" ".join(slip.said for slip in slips))
        self.slips = slips


def worked(sheet: Worksheet, typed: Mapping[str, str]) -> Worked:
    """The answer for what was typed, defaults filled in. Raises NotFilledIn."""
    values: dict[str, Any] = {}
    slips: list[Slip] = []
    unknown = sorted(set(typed) - {field.key for field in sheet.fields})
    if unknown:
        known = ", ".join(field.key for field in sheet.fields)
        slips.append(
            Slip(
                "",
                t(
                    "{unknown}: {sheet} has no such field. It has: {known}.",
                    unknown=", ".join(unknown),
                    sheet=t(sheet.title),
                    known=known,
                ),
            )
        )
    for field in sheet.fields:
        try:
            values[field.key] = value_of(field, typed.get(field.key))
        except SettingsError as wrong:
            slips.append(Slip(field.key, t("{field}: {wrong}", field=t(field.label), wrong=wrong)))
    if slips:
        raise NotFilledIn(tuple(slips))
    try:
        return sheet.work(values)
    except Refused as refusal:
        raise NotFilledIn((Slip("", refusal.sentence()),)) from None
    except SettingsError as wrong:
        raise NotFilledIn((Slip("", str(wrong)),)) from None
    except ValueError as wrong:
        raise NotFilledIn((Slip("", _as_sentence(str(wrong))),)) from None


def value_of(field: Field, typed: str | None) -> Any:
    """The value of one field; its default when nothing was typed. Raises SettingsError (NotAQuantity)."""
    text = typed if typed is not None and typed.strip() else _default(field)
    if not text.strip():
        if field.kind is Kind.YES:
            return False
        if field.optional:
            return () if field.kind is Kind.LINES else None
        raise SettingsError([t("is empty. {hint}", hint=t(field.hint)) if field.hint else t("is empty. Fill it in.")])
    return read(field.kind, text, bare=field.bare, choices=field.choices)


def prefilled(field: Field) -> str:
    """The default of a field as it is shown."""
    return as_typed(field, field.default)


def as_typed(field: Field, text: str) -> str:
    """A text that is filled in for a person, as people who speak the station's language would type it."""
    return decimal(text) if field.kind in NUMBERS else text


def _default(field: Field) -> str:
    return field.choices[0] if field.kind is Kind.CHOICE and not field.default else field.default


def _as_sentence(words: str) -> str:
    return words[:1].upper() + words[1:] + ("" if words.endswith((".", "!", "?")) else ".")

"""Enums and masses as plain values: for programs by name and in milligrams, for people in words."""

from __future__ import annotations

from enum import Enum

from station.core.mass import Mass
from station.phone.words import mass_text
from station.texts import t

Json = dict[str, object]


def named(value: Enum) -> Json:
    """An enum by name, for programs, and in words, for people."""
    return {"name": value.name, "words": t(value.value)}


def mass(value: Mass, step: Mass) -> Json:
    """A mass in milligrams and as a scale of readability `step` shows it."""
    return {"mg": value.mg, "text": mass_text(value, step)}

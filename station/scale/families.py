"""The table of frame families: how scales speak, by shape. A further family is a row here and a grammar.

The format is a setting in the scale's menu, not a property of its maker, so families carry names of our own.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from station.errors import SettingsError
from station.scale.framing import Framer, Marks
from station.scale.grammars.bare_number import bare_number
from station.scale.grammars.reply_letter import reply_letter
from station.scale.grammars.status_commas import status_commas
from station.scale.grammars.status_mode_commas import status_mode_commas
from station.scale.grammars.value_unit import value_unit
from station.scale.meaning import Meaning

LINES = Marks()
"""Text lines that end with CR, LF, or both."""

Grammar = Callable[[str], Meaning | None]


@dataclass(frozen=True, slots=True)
class FamilySpec:
    """One family. `sample` shows a line; `request` asks for a reading now, None where the scale speaks unasked.

    `baud` and `character` are what most scales of the family leave the works with; the settings decide.
    """

    id: str
    sample: str
    grammar: Grammar
    marks: Marks = LINES
    request: bytes | None = None
    baud: int = 9600
    character: str = "8N1"

    def framer(self, synced: bool) -> Framer:
        """A fresh framer; `synced` when no frame can be under way."""
        return Framer(self.marks, synced)


_STX, _ETX, _ACK = b"\x02", b"\x03", b"\x06"

FAMILIES: Mapping[str, FamilySpec] = MappingProxyType(
    {
        spec.id: spec
        for spec in (
            FamilySpec(
                "status-commas",
                "ST,+00123.45  g",
                status_commas,
                Marks(singles=_ACK),
                baud=2400,
                character="7E1",
            ),
            FamilySpec(
                "status-mode-commas",
                "ST,GS,+  1.234kg",
                status_mode_commas,
                Marks(enders=b"\r\n" + _ETX, starters=_STX),
            ),
            FamilySpec("reply-letter", "S S     123.45 g", reply_letter, request=b"SI\r\n"),
            FamilySpec("value-unit", "    123.45 g", value_unit),
            FamilySpec("bare-number", "+00123.45", bare_number),
        )
    }
)
"""Every family the station can read, by its name in the settings."""


def family_named(name: str) -> FamilySpec:
    """The family called `name`. Raises SettingsError that lists the known ones."""
    try:
        return FAMILIES[name]
    except KeyError:
        near = difflib.get_close_matches(name, FAMILIES, 1)
        hint = f" Did you mean {near[0]!r}?" if near else ""
        known = ", ".join(FAMILIES)
        raise SettingsError([f"[scale] family: {name!r} is not known.{hint} Known families: {known}."]) from None

"""The kinds of sheets that a form writes into a file of their own."""

from __future__ import annotations

from dataclasses import dataclass

from station.sheet_form.fields import MATERIAL
from station.sheet_form.form import Group
from station.sheet_form.mold_fields import MOLD
from station.texts import N_


@dataclass(frozen=True, slots=True)
class Kind:
    """`table` is its name in the file; the rest are words about it. `before` stands before the key in a file's name."""

    table: str
    groups: tuple[Group, ...]
    before: str
    remark: str
    such_as: str
    called_by: str

    def file(self, key: str) -> str:
        """The name of the file for this key."""
        return f"{self.before}{key}.toml"


OF_MATERIAL = Kind(
    "material",
    MATERIAL,
    "",
    N_("Entered on the station's page from a data sheet."),
    "soft-foam-96",
    N_("lots and casts"),
)
OF_MOLD = Kind("mold", MOLD, "mold-", N_("Entered on the station's page."), "paddle-grip", N_("casts"))


def is_key(key: str) -> bool:
    """Whether this can be a short name, and so the name of a file."""
    return bool(key) and all(c.isascii() and (c.islower() or c.isdigit() or c == "-") for c in key)

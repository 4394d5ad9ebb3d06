"""What a worksheet is: fields as a person fills them in, and an answer with its numbers, rule and drawing.

A worksheet is declared once. The page makes a form of it, the command line an option of each field, and a
program gets `figures` as JSON.

What is declared stands at import: titles, purposes, labels, hints and choices are marked with `N_`, and said with `t`
by whoever shows them. What `work` tells is said with `t` when it is made.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from station.core.material import Material
from station.drawing.marks import Drawing
from station.worksheets.kinds import Kind

Values = Mapping[str, Any]
"""Field key → value in the station's own units (see Kind); None for an optional field that is empty."""

Figure = float | int | str | bool | None
Figures = Mapping[str, "Figure | list[Any] | dict[str, Any]"]


@dataclass(frozen=True, slots=True)
class Field:
    """One thing to fill in. `key` is lower case with hyphens: the form's field and the command line's --option.

    `default` is a text as typed. `hint` says in a sentence what it is and where it is found. `choices` go with
    Kind.CHOICE, the first is the default; `work` gets them as they stand here, in any language. `bare` is the unit
    meant when none is typed. `pan` offers to take the mass from the scale.
    """

    key: str
    label: str
    kind: Kind
    default: str = ""
    hint: str = ""
    optional: bool = False
    choices: tuple[str, ...] = ()
    bare: str | None = None
    pan: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the answer: `value` with its unit, `rule` how it comes about in the person's own numbers."""

    label: str
    value: str
    rule: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A table: `head` and `rows` of the same length."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Worked:
    """An answer: what matters most first. `figures` has the same numbers unrounded, keys with their unit
    (`shot_g`, `volume_cm3`); `warnings` tell of something wrong with the plan, `notes` explain, `cautions` are
    about safety. `onward` are links to other pages, path with filled-in fields → words.
    """

    rows: tuple[Row, ...]
    figures: Figures
    warnings: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    tables: tuple[Table, ...] = ()
    onward: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Worksheet:
    """A calculation. `purpose` is one sentence: the question it answers.

    `work` raises Refused or SettingsError with sentences when the values do not go together.
    `from_material` gives what a material sheet knows of the fields, as typed texts.
    """

    key: str
    title: str
    purpose: str
    fields: tuple[Field, ...]
    work: Callable[[Values], Worked]
    from_material: Callable[[Material], Mapping[str, str]] | None = None

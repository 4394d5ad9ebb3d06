"""What a form is made of: entries in groups, each group a table of the sheet that is written from it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing to fill in. `number` and `yes` say that it is written without quotes; `lines`: a list of texts.

    A `yes` without `choices` is a tick: where it is not set, nothing is written.
    """

    key: str
    label: str
    hint: str = ""
    choices: tuple[str, ...] = ()
    number: bool = False
    yes: bool = False
    lines: bool = False
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Entries of one table. `table` is its place in the sheet ("" for the sheet itself), `times` how often.

    `each` is what one of several is called. At `least` so many of them are needed.
    `folded`: most sheets have nothing for it, so it need not be looked at.
    """

    table: str
    title: str
    entries: tuple[Entry, ...]
    times: int = 1
    hint: str = ""
    folded: bool = False
    least: int = 0
    each: str = ""


def field(group: Group, entry: Entry, number: int = 1) -> str:
    """The name of a field in a form: "component 2 parts"."""
    return " ".join(filter(None, (group.table, str(number) if group.times > 1 else "", entry.key)))

"""What is wrong with a form, each sentence at the field that it is about."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from station.errors import SettingsError
from station.reading import Problem
from station.sheet_form.form import Group, field
from station.sheet_form.writing import rows_typed
from station.texts import t

WHOLE = ""
"""Stands for the form as a whole."""


class Slips(SettingsError):
    """A form cannot be taken as it is. `at` holds the sentences by field; WHOLE for those of no single one."""

    def __init__(self, at: Mapping[str, Sequence[str]]) -> None:
        super().__init__([said for each in at.values() for said in each])
        self.at = at


def missing(groups: Sequence[Group], typed: Mapping[str, str]) -> dict[str, list[str]]:
    """The fields that must be filled in and are not."""
    found = {
        field(group, entry): [t("{label} is empty: the sheet needs it.", label=t(entry.label))]
        for group in groups
        for entry in group.entries
        if entry.needed and not typed.get(field(group, entry), "").strip()
    }
    for group in groups:
        rows = rows_typed(group, typed)
        if len(rows) < group.least:
            first_empty = next(n for n in range(1, group.times + 1) if n not in rows)
            found[field(group, group.entries[0], first_empty)] = [t("At least {least} are needed.", least=group.least)]
    return found


def placed(groups: Sequence[Group], typed: Mapping[str, str], problems: Sequence[str]) -> dict[str, list[str]]:
    """Problems of the sheet that was written from the form, by the field that each is about."""
    found: dict[str, list[str]] = {}
    for problem in problems:
        place = _place(groups, typed, problem) if isinstance(problem, Problem) else None
        if place is None or not isinstance(problem, Problem):
            found.setdefault(WHOLE, []).append(str(problem))
        else:
            found.setdefault(place, []).append(f"{problem.told[0].upper()}{problem.told[1:]}")
    return found


def _place(groups: Sequence[Group], typed: Mapping[str, str], problem: Problem) -> str | None:
    """The field of a problem: from the path and key of its table, and from the row in which that table was typed."""
    if not problem.path:
        return None
    by_table = {group.table: group for group in groups}
    names, key = [name for name, _ in problem.path[1:]], problem.key
    while ".".join(names) not in by_table:
        key = names.pop()  # a table that the form holds in one field, such as the parts of a kit
    group = by_table[".".join(names)]
    entry = next((one for one in group.entries if one.key == key), None)
    if entry is not None:
        rows, row = rows_typed(group, typed), problem.path[len(names)][1]
        return field(group, entry, rows[row - 1] if 1 <= row <= len(rows) else 1)
    inside = by_table.get(".".join([*names, key])) if key else None
    return None if inside is None else field(inside, inside.entries[0])

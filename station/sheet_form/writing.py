"""What was typed into a form as a table of TOML, as typed, and a table of TOML as what to type for it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from station.errors import Refused
from station.sheet_form.form import Entry, Group, field
from station.texts import t

if TYPE_CHECKING:
    from tomlkit.items import Table

_NAME = re.compile(r"component \d name")


def rows_typed(group: Group, typed: Mapping[str, str]) -> tuple[int, ...]:
    """The numbers of the group's rows in which something is typed: they become its tables, in this order."""
    return tuple(
        number
        for number in range(1, group.times + 1)
        if any(typed.get(field(group, entry, number), "").strip() for entry in group.entries)
    )


def written(groups: Sequence[Group], typed: Mapping[str, str]) -> Table:
    """What was typed as a TOML table, as typed. Empty fields, and repeated tables without any, are left out."""
    import tomlkit  # only for what is entered

    sheet = tomlkit.table()
    inner: dict[str, Table] = {"": sheet}
    names = sorted((text.strip() for key, text in typed.items() if _NAME.fullmatch(key)), key=len, reverse=True)
    for group in groups:
        rows = [_row(group, typed, number, names) for number in rows_typed(group, typed)]
        owner, _, name = group.table.rpartition(".")
        if not rows:
            continue
        if group.table == "":
            for key, value in rows[0].items():
                sheet.add(key, value)
        elif group.times == 1:
            inner[group.table] = rows[0]
            sheet.add(group.table, rows[0])
        else:
            if owner not in inner:
                inner[owner] = tomlkit.table()
                sheet.add(owner, inner[owner])
            many = tomlkit.aot()
            for row in rows:
                many.append(row)
            inner[owner].add(name, many)
    return sheet


def _row(group: Group, typed: Mapping[str, str], number: int, names: Sequence[str]) -> Table:
    import tomlkit

    row = tomlkit.table()
    for entry in group.entries:
        text = typed.get(field(group, entry, number), "").strip()
        if text:
            row.add(entry.key, _value(entry, text, names))
    return row


def _value(entry: Entry, text: str, names: Sequence[str]) -> object:
    if entry.yes:
        return text == "yes"
    if entry.number:
        return _number(text)
    if entry.lines:
        lines = [" ".join(line.split()) for line in text.splitlines() if line.strip()]
        return [_part(line, names) for line in lines] if entry.key == "part" else lines
    return " ".join(text.split())


def _number(text: str) -> float | int | str:
    """A number, or the text as it is: then reading it back tells what is wrong with it."""
    try:
        found = float(text.replace(",", "."))
    except ValueError:
        return text
    return int(found) if found.is_integer() and abs(found) < 1e9 else found


def _part(line: str, names: Sequence[str]) -> dict[str, str]:
    """A line such as "A 1 kg". A component may be called by several words; the longest name that fits is meant."""
    name = next((name for name in names if name and line.startswith(f"{name} ")), line.partition(" ")[0])
    return {"component": name, "mass": line[len(name) :].strip()}


def typed_from(groups: Sequence[Group], sheet: Mapping[str, Any]) -> dict[str, str]:
    """What to type for a table of TOML. Raises Refused when the table says more than the form has room for."""
    typed: dict[str, str] = {}
    for group in groups:
        found: Any = sheet
        for name in filter(None, group.table.split(".")):
            found = found.get(name, {})
        rows = found if isinstance(found, list) else [found]
        for number, row in enumerate(rows[: group.times], 1):
            typed |= {
                field(group, entry, number): _text(entry, row[entry.key]) for entry in group.entries if entry.key in row
            }
    if written(groups, typed).unwrap() != sheet:
        raise Refused(
            t("This sheet says more than the form has room for, or says it in another way."),
            t("Change its file instead; the old one stays until you do."),
        )
    return typed


def _text(entry: Entry, value: Any) -> str:
    if entry.yes:
        return "yes" if value is True else "no" if entry.choices else ""
    if isinstance(value, list):
        return "\n".join(f"{v.get('component')} {v.get('mass')}" if isinstance(v, dict) else str(v) for v in value)
    return str(value)

"""The form in which a sheet is entered: what was typed stays, and what is wrong with it is told at its field."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from flask import render_template, request

from station.errors import SettingsError, StationError
from station.sheet_form.form import Group, field
from station.sheet_form.slips import WHOLE, Slips
from station.sheet_form.writing import rows_typed

TEXT_LIMIT = 2000


def typed_form() -> dict[str, str]:
    """What the request brings, without the token; each text cut where no form has room for more."""
    return {name: value[:TEXT_LIMIT] for name, value in request.form.items() if name != "token"}


Offered = Mapping[str, Sequence[tuple[str, str]]]


def sheet_form(
    back: str,
    title: str,
    groups: tuple[Group, ...],
    typed: Mapping[str, str],
    wrong: StationError | None = None,
    *,
    offered: Offered | None = None,
) -> str:
    """A form of these groups with what was typed, and each thing wrong with it at its field.

    `back` is the page that it belongs to, `offered` the values to choose from by the key of their field.
    """
    at: Mapping[str, Sequence[str]] = {}
    if isinstance(wrong, Slips):
        at = wrong.at
    elif isinstance(wrong, SettingsError):
        at = {WHOLE: wrong.problems}
    elif wrong is not None:
        at = {WHOLE: [wrong.sentence()]}
    return render_template(
        "sheet_form.html",
        title=title,
        back=back,
        groups=[(group, _open(group, typed, at)) for group in groups],
        field=field,
        typed=typed,
        at=at,
        offered=offered or {},
    )


def _open(group: Group, typed: Mapping[str, str], at: Mapping[str, Sequence[str]]) -> bool:
    """Whether a folded group has something to be seen."""
    if not group.folded or rows_typed(group, typed):
        return True
    return any(field(group, entry, n) in at for entry in group.entries for n in range(1, group.times + 1))

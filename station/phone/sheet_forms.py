"""The form in which a sheet is entered or changed: what was typed stays, what is wrong is told at its field."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response as Answer

from station.errors import SettingsError, StationError
from station.sheet_form.form import Group, field
from station.sheet_form.slips import WHOLE, Slips
from station.sheet_form.writing import rows_typed
from station.texts import t

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


class Keep(Protocol):
    """Writes a sheet down; gives its key. Raises Slips, SettingsError for another file, Fault for the disk."""

    def __call__(self, typed: Mapping[str, str], /, instead_of: str = "") -> str:
        """`instead_of`: the key of the sheet that it replaces."""
        ...


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of sheet that a page lets people enter: the page, its two headings, its fields, and where it is kept.

    `typed` gives what to fill into the form to get a kept sheet; it raises Refused for one that the form cannot show.
    """

    place: str
    enter: str
    change: str
    groups: tuple[Group, ...]
    typed: Callable[[str], Mapping[str, str]]
    keep: Keep


def entry_routes(bp: Blueprint, kind: Kind, under: str = "") -> None:
    """The routes by which a sheet of this kind is entered and changed, below the blueprint's page `everything`.

    `under`: the path of that page where the blueprint itself has none.
    """

    def kept(title: str, instead_of: str = "") -> Answer | tuple[str, int]:
        typed = typed_form()
        try:
            key = kind.keep(typed, instead_of=instead_of)
        except StationError as wrong:
            return sheet_form(kind.place, title, kind.groups, typed, wrong), 409
        return redirect(url_for(f"{bp.name}.everything", _anchor=key), 303)

    @bp.get(f"{under}/new")
    def form() -> str:
        return sheet_form(kind.place, t(kind.enter), kind.groups, {})

    @bp.post(f"{under}/new")
    def entered() -> Answer | tuple[str, int]:
        return kept(t(kind.enter))

    @bp.get(f"{under}/<key>/change")
    def change_form(key: str) -> str:
        return sheet_form(kind.place, t(kind.change), kind.groups, kind.typed(key))

    @bp.post(f"{under}/<key>/change")
    def changed(key: str) -> Answer | tuple[str, int]:
        kind.typed(key)  # only what the form could show may be written over by it
        return kept(t(kind.change), key)


def _open(group: Group, typed: Mapping[str, str], at: Mapping[str, Sequence[str]]) -> bool:
    """Whether a folded group has something to be seen."""
    if not group.folded or rows_typed(group, typed):
        return True
    return any(field(group, entry, n) in at for entry in group.entries for n in range(1, group.times + 1))

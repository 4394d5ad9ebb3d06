"""What a page sends, turned into a command for the bench; nonsense gets a sentence that names the field."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

from station.core.clocks import ClockKind
from station.core.messages import (
    Abort,
    Acknowledge,
    AddNote,
    ApplyRelease,
    BeginCast,
    Demold,
    Press,
    Pressed,
    RetireMold,
    ReturnMold,
    TakeQueued,
)
from station.errors import Refused
from station.phone.shelf import Chosen, Shelf
from station.texts import t

Said = Mapping[str, object]
_Kind = TypeVar("_Kind", Press, ClockKind)

TEXT_LIMIT = 500
NUMBER_END = 10**9


class NotUnderstood(Refused):
    """What was sent cannot be read. Nothing has changed."""


def text(said: Said, field: str, what: str, limit: int = TEXT_LIMIT) -> str:
    """A text of 1 to `limit` characters; control characters become spaces. Raises NotUnderstood."""
    value = said.get(field)
    if not isinstance(value, str) or not value.strip():
        raise NotUnderstood(t("Please say {what} ({field} is empty).", what=what, field=field))
    clean = " ".join("".join(c if c.isprintable() else " " for c in value).split())
    if len(clean) > limit:
        raise NotUnderstood(
            t(
                "{field} has {count} characters; at most {limit} are kept. Please shorten it.",
                field=field,
                count=len(clean),
                limit=limit,
            )
        )
    if not clean:
        raise NotUnderstood(t("Please say {what} ({field} is empty).", what=what, field=field))
    return clean


def number(said: Said, field: str = "number", of: str = "a cast") -> int:
    """The number of a cast, or of something else. Raises NotUnderstood."""
    value = said.get(field)
    if isinstance(value, str) and value.isascii() and value.isdigit() and len(value) < 10:
        value = int(value)
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value < NUMBER_END:
        raise NotUnderstood(
            t(
                "{field} must be the number of {of}, such as 12; {value} is none.",
                field=field,
                of=of,
                value=_shown(value),
            )
        )
    return value


def pressed(said: Said, by: str) -> Pressed:
    """`press`: short or long."""
    return Pressed(_named(Press, said, "press"), by)


def acknowledged(said: Said, by: str) -> Acknowledge:
    """`number` and `clock`, the name of a clock such as POT_LIFE."""
    return Acknowledge(number(said), _named(ClockKind, said, "clock"), by)


def given_up(said: Said, by: str) -> Abort:
    """`number` and `reason`."""
    return Abort(number(said), text(said, "reason", t("why the cast is given up")), by)


def demolded(said: Said, by: str) -> Demold:
    """`number`."""
    return Demold(number(said), by)


def noted(said: Said, by: str) -> AddNote:
    """`number` and `text`."""
    return AddNote(number(said), text(said, "text", t("what to note")), by)


def taken(said: Said, by: str) -> TakeQueued:
    """`ticket`: which of the plans that wait is to be begun."""
    return TakeQueued(number(said, "ticket", t("a plan that waits")), by)


def begun(said: Said, by: str, shelf: Shelf) -> BeginCast:
    """As `asked`. Raises Refused, also when the batch is impossible."""
    wanted = asked(said)
    return shelf.plan(wanted.material, wanted.mold, wanted.amount, wanted.lots, by)


def released(said: Said, by: str, shelf: Shelf) -> ApplyRelease:
    """`mold`, the key of a mold that release agent was put on."""
    return ApplyRelease(_mold(said, shelf), by)


def retired(said: Said, by: str, shelf: Shelf) -> RetireMold:
    """`mold`, a key, and `reason`."""
    return RetireMold(_mold(said, shelf), text(said, "reason", t("why the mold is retired"), 200), by)


def returned(said: Said, by: str, shelf: Shelf) -> ReturnMold:
    """`mold`, the key of a mold that is cast in again."""
    return ReturnMold(_mold(said, shelf), by)


def _mold(said: Said, shelf: Shelf) -> str:
    key = text(said, "mold", t("which mold"), 120)
    if all(mold.key != key for mold in shelf.molds()):
        raise Refused(t("There is no mold {key}.", key=_shown(key)), t("Look it up under Molds."))
    return key


def asked(said: Said) -> Chosen:
    """`material`, `mold`, `amount` (may be empty or left out) and `lots`, an object: component → lot number.

    From a form, the lots are fields named "lot A", "lot B". Raises NotUnderstood.
    """
    amount = said.get("amount") or ""
    if not isinstance(amount, str):
        raise NotUnderstood(t('amount must be a text such as "220 g"; {amount} is none.', amount=_shown(amount)))
    lots = said.get("lots")
    if lots is None:
        lots = {name.removeprefix("lot "): value for name, value in said.items() if name.startswith("lot ")}
    if not isinstance(lots, dict) or not all(isinstance(name, str) and isinstance(lots[name], str) for name in lots):
        raise NotUnderstood(t('lots must be an object such as {"A": "0417"}.'))
    material = text(said, "material", t("which material"), 120)
    mold = text(said, "mold", t("which mold"), 120)
    return Chosen(material, mold, amount.strip()[:40], {k: v.strip()[:60] for k, v in lots.items() if v.strip()})


def _named(kinds: type[_Kind], said: Said, field: str) -> _Kind:
    value = said.get(field)
    for kind in kinds:
        if isinstance(value, str) and value.upper() == kind.name:
            return kind
    known = ", ".join(kind.name for kind in kinds)
    raise NotUnderstood(
        t("{field} must be one of {known}; {value} is none of them.", field=field, known=known, value=_shown(value))
    )


def _shown(value: object) -> str:
    return "nothing" if value is None else repr(value)[:40]

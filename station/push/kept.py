"""What of the messages is kept beside the record, in two small files that only the station's user may read.

One holds what people have chosen: addresses, occasions, quiet hours. The other holds what was sent, so that nothing is
sent again after a restart, and how each address last fared.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final

from station.addresses import Address
from station.core.matters import USUAL, Occasion
from station.core.quiet import QuietHours
from station.errors import LedgerFault
from station.keeping import replace_whole
from station.push.outbox import DONE, Letter, Letters, Stage
from station.texts import t

CHOSEN: Final = "messages.json"
SENT: Final = "messages-sent.json"


@dataclass(frozen=True, slots=True)
class Choices:
    """What people have chosen on the page."""

    addresses: tuple[Address, ...] = ()
    occasions: frozenset[Occasion] = USUAL
    quiet: QuietHours | None = None


@dataclass(frozen=True, slots=True)
class Fared:
    """How an address last fared: when it took a message and when it did not (UTC), and `why` not.

    `good_sure`, `bad_sure`: whether the clock was trusted then.
    """

    good: datetime | None = None
    good_sure: bool = False
    bad: datetime | None = None
    bad_sure: bool = False
    why: str = ""


@dataclass(frozen=True, slots=True)
class Sent:
    """Letters that are done with, and how each address fared, by its key."""

    done: Letters = ()
    fared: tuple[tuple[str, Fared], ...] = ()


def read_choices(folder: Path) -> Choices:
    """What was chosen; the usual when nothing was. Raises LedgerFault when it cannot be read."""
    said = _read(folder / CHOSEN)
    if said is None:
        return Choices()
    try:
        quiet = said["quiet"]
        return Choices(
            tuple(Address(str(url)) for url in said["addresses"]),
            frozenset(Occasion[name] for name in said["occasions"] if name in Occasion.__members__),
            None if quiet is None else QuietHours(int(quiet[0]), int(quiet[1])),
        )
    except (KeyError, TypeError, ValueError, IndexError):
        raise _spoilt(folder / CHOSEN) from None


def keep_choices(folder: Path, choices: Choices) -> None:
    """Keep them. Raises LedgerFault; the file then is as it was."""
    quiet = choices.quiet
    said = {
        "addresses": [address.url for address in choices.addresses if not address.fixed],
        "occasions": sorted(occasion.name for occasion in choices.occasions),
        "quiet": None if quiet is None else [quiet.begin, quiet.end],
    }
    replace_whole(folder / CHOSEN, json.dumps(said, indent=1) + "\n", private=True)


def read_sent(folder: Path) -> Sent:
    """What was sent. Raises LedgerFault when it cannot be read."""
    said = _read(folder / SENT)
    if said is None:
        return Sent()
    try:
        done = tuple(Letter(str(m), str(to), Stage[str(stage)]) for m, to, stage in said["done"])
        return Sent(
            tuple(letter for letter in done if letter.stage in DONE),
            tuple((str(key), _fared(one)) for key, one in said["fared"].items()),
        )
    except (KeyError, TypeError, ValueError, AttributeError):
        raise _spoilt(folder / SENT) from None


def keep_sent(folder: Path, letters: Iterable[Letter], fared: Iterable[tuple[str, Fared]]) -> None:
    """Keep the letters that are done with, and how the addresses fared. Raises LedgerFault."""
    said = {
        "done": [[one.matter, one.to, one.stage.name] for one in letters if one.stage in DONE],
        "fared": {
            key: {
                "good": _text(one.good),
                "good_sure": one.good_sure,
                "bad": _text(one.bad),
                "bad_sure": one.bad_sure,
                "why": one.why,
            }
            for key, one in fared
        },
    }
    replace_whole(folder / SENT, json.dumps(said, indent=1) + "\n", private=True)


def _fared(said: dict[str, Any]) -> Fared:
    return Fared(_when(said["good"]), bool(said["good_sure"]), _when(said["bad"]), bool(said["bad_sure"]), said["why"])


def _when(text: str | None) -> datetime | None:
    return None if text is None else datetime.fromisoformat(text).astimezone(UTC)


def _text(when: datetime | None) -> str | None:
    return None if when is None else when.isoformat(timespec="seconds")


def _read(file: Path) -> dict[str, Any] | None:
    try:
        said = json.loads(file.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return None
    except OSError as why:
        raise LedgerFault(t("{file} cannot be read: {why}.", file=file.name, why=why.strerror)) from why
    except ValueError:
        raise _spoilt(file) from None
    if not isinstance(said, dict):
        raise _spoilt(file)
    return said


def _spoilt(file: Path) -> LedgerFault:
    # Without what stands in it: that is a secret.
    return LedgerFault(t("{file} cannot be understood.", file=file.name), t("Choose anew on the page of the messages."))

"""Reading a TOML table key by key: every wrong key and value is collected, none stops the rest."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, Self, TypeVar

from station.errors import SettingsError
from station.texts import number, t

LONGEST = 300

T = TypeVar("T")
D = TypeVar("D")
Convert = Callable[[object], T]


def toml_table(path: Path) -> dict[str, Any]:
    """The file as a table. Raises SettingsError with file and line when it cannot be read."""
    try:
        # Some editors put a byte order mark first; it is no part of the text.
        return tomllib.loads(path.read_text("utf-8-sig"))
    except FileNotFoundError:
        raise SettingsError([t("{path}: there is no such file; check the path.", path=path)]) from None
    except UnicodeDecodeError as why:
        raise SettingsError(
            [t("{path}: not UTF-8 text (byte {byte}). Save it as UTF-8.", path=path, byte=why.start)]
        ) from None
    except tomllib.TOMLDecodeError as why:
        raise SettingsError([t("{path}: not TOML: {why}.", path=path, why=why)]) from None
    except RecursionError:
        raise SettingsError([t("{path}: not TOML: brackets inside brackets without end.", path=path)]) from None
    except ValueError:
        # The reader's own limit on the digits of a number; it gives no line.
        raise SettingsError([t("{path}: not TOML: a number in it has thousands of digits.", path=path)]) from None
    except OSError as why:
        raise SettingsError([t("{path}: cannot be read: {why}.", path=path, why=why.strerror)]) from None


Step = tuple[str, int]
"""The name of a table inside another, and its number; 0 for the one that there can be."""


class Problem(str):
    """A sentence with its place: `path` from the file to the table `where`, `key` in that ("": several).

    `said` is the sentence without the place; `told` is it without key and value, for where these are in view.
    """

    __slots__ = ("key", "path", "said", "told", "where")
    where: str
    said: str
    path: tuple[Step, ...]
    key: str
    told: str

    def __new__(cls, where: str, said: str, path: tuple[Step, ...] = (), key: str = "", told: str = "") -> Self:
        """The sentence is the place and what is said of it."""
        problem = super().__new__(cls, f"{where}: {said}")
        problem.where, problem.said, problem.path, problem.key, problem.told = where, said, path, key, told or said
        return problem


class Reader:
    """One table of one file; `where` names both. Problems go into a list that all readers share."""

    def __init__(self, table: Mapping[str, Any], where: str, problems: list[str], path: tuple[Step, ...] = ()) -> None:
        self._table, self.where, self.problems, self._path = table, where, problems, path
        self._known: set[str] = set()
        self.spoiled = False
        """Whether this table has a problem, so that comparing its values would only repeat it."""

    def take(self, key: str, convert: Convert[T], default: D) -> T | D:
        """The converted value of a key that may be missing."""
        self._known.add(key)
        return default if key not in self._table else self._converted(key, convert, default)

    def need(self, key: str, convert: Convert[T], stand_in: D) -> T | D:
        """The converted value of a key that must be there; `stand_in` goes on when it is not."""
        self._known.add(key)
        if key not in self._table:
            self.complain(t("{key} is missing", key=key), key)
            return stand_in
        return self._converted(key, convert, stand_in)

    def tables(self, key: str) -> list[Reader]:
        """The tables of an array of tables, each with a reader of its own."""
        self._known.add(key)
        found = self._table.get(key, [])
        if not isinstance(found, list) or not all(isinstance(entry, dict) for entry in found):
            self.complain(t("{key} must be written as [[{key}]] tables", key=key), key)
            return []
        return [
            Reader(
                entry,
                t("{where} [[{key}]] number {at}", where=self.where, key=key, at=i),
                self.problems,
                (*self._path, (key, i)),
            )
            for i, entry in enumerate(found, 1)
        ]

    def table(self, key: str) -> Reader:
        """The table of this name; an empty one when it is missing."""
        self._known.add(key)
        found = self._table.get(key, {})
        if not isinstance(found, dict):
            self.complain(t("{key} must be written as a table [{key}]", key=key), key)
            found = {}
        return Reader(found, f"{self.where} [{key}]", self.problems, (*self._path, (key, 0)))

    def has(self, key: str) -> bool:
        """Whether the key is there."""
        return key in self._table

    def complain(self, what: str, key: str = "", value: str = "") -> None:
        """Add a problem of this table, of one key where it is of one, of its value where one is `what` it is."""
        self.spoiled = True
        end = "" if what.endswith("?") else "."
        said = f"{key} = {value}: {what}{end}" if value else f"{what}{end}"
        self.problems.append(Problem(self.where, said, self._path, key, f"{what}{end}"))

    def done(self) -> None:
        """Complain about every key that nobody asked for."""
        for key in self._table:
            if key not in self._known:
                near = difflib.get_close_matches(key, self._known, 1)
                said = (
                    t("{key} is not a key here; did you mean {near}?", key=key, near=repr(near[0]))
                    if near
                    else t(
                        "{key} is not a key here; known keys: {known}", key=key, known=", ".join(sorted(self._known))
                    )
                )
                self.complain(said, key)

    def _converted(self, key: str, convert: Convert[T], stand_in: D) -> T | D:
        try:
            return convert(self._table[key])
        except SettingsError as wrong:
            self.complain(str(wrong).rstrip("."), key, _shown(self._table[key]))
            return stand_in
        except ValueError:  # of a number that cannot even be written out, see _shown
            self.complain(t("no value here is that long"), key, _shown(self._table[key]))
            return stand_in


def _shown(value: object) -> str:
    """The value as it was written, shortened when it would fill the page."""
    try:
        shown = repr(value)
    except ValueError:  # a hexadecimal number may be longer than Python agrees to write out
        return t("a number with thousands of digits")
    return shown if len(shown) <= LONGEST else f"{shown[:LONGEST]}…"


def text(value: object) -> str:
    """A text that is not empty, as one line of at most 300 characters."""
    if not isinstance(value, str) or not (line := " ".join(value.split())):
        raise SettingsError([t("must be a text in quotes")])
    if len(line) > LONGEST or not line.isprintable():
        raise SettingsError([t("must be a text of at most {most} printable characters", most=LONGEST)])
    return line


def texts(value: object) -> tuple[str, ...]:
    """A list of texts."""
    if not isinstance(value, list) or not all(isinstance(entry, str) and entry.strip() for entry in value):
        raise SettingsError([t('must be a list of texts, such as ["gloves", "clamps"]')])
    return tuple(text(entry) for entry in value)


def yes_no(value: object) -> bool:
    """true or false."""
    if not isinstance(value, bool):
        raise SettingsError([t("must be true or false, without quotes")])
    return value


def one_of(*names: str) -> Convert[str]:
    """One of these texts."""

    def convert(value: object) -> str:
        if not isinstance(value, str) or value not in names:
            near = difflib.get_close_matches(value, names, 1) if isinstance(value, str) else []
            known = ", ".join(repr(name) for name in names)
            raise SettingsError(
                [
                    t("must be one of {known}; did you mean {near}?", known=known, near=repr(near[0]))
                    if near
                    else t("must be one of {known}", known=known)
                ]
            )
        return value

    return convert


def whole(least: int, most: int) -> Convert[int]:
    """A whole number within limits."""

    def convert(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            raise SettingsError([t("must be a whole number from {least} to {most}", least=least, most=most)])
        return value

    return convert


def positive(value: object) -> float:
    """A number above zero."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 < value < 1e6:
        raise SettingsError([t("must be a number above zero")])
    return float(value)


def within(convert: Convert[float], least: float, most: float, unit: str) -> Convert[float]:
    """A converted quantity within limits (both included)."""

    def checked(value: object) -> float:
        found = convert(value)
        if not least <= found <= most:
            raise SettingsError(
                [t("must lie between {least} and {most} {unit}", least=number(least), most=number(most), unit=unit)]
            )
        return found

    return checked

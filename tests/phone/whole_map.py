"""The pages of a whole station, every part fitted: what they map, how addresses are filled in, what acting leaves.

A new part of `Web`, or a new kind of argument in an address, has to be told here; until then the tests that go through
the whole map fail.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field, fields, replace
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.routing import Rule

from station.config import Look
from station.core.messages import Command
from station.phone.app import Web, create_app
from station.phone.devices import MOST
from tests.phone.test_benches_pages import SmallDesk as Benches
from tests.system.whole import Whole

OURS = {"Origin": "http://localhost"}
TOKEN = "the token of the page"
SENSE: dict[str, list[str]] = {
    "number": ["1", "14"],
    "ticket": ["1"],
    "trial": ["1"],
    "bench": ["2"],
    "secret": ["a-secret-that-is-none"],
    "key": ["box", "example-silicone", "footbed"],
    "filename": ["station.css", "live.js"],
    "mark": ["0123456789ab"],
    "photo": ["0123456789abcdef"],
}
"""Values that make sense for an argument in an address, by its name."""
NONSENSE = ["0", "7" * 40, "<script>alert(1)</script>", "..", "a b", "%00", "né", "x" * 900, "box'--", "{{7*7}}"]
LOOKING = frozenset({"GET", "HEAD", "OPTIONS"})
_SOURCES = Path(__file__).parents[2] / "station" / "phone"


@dataclass
class Map:
    """One station's pages, and every sign of something having been done."""

    web: Web
    folder: Path
    codes: list[str]
    commands: list[Command] = field(default_factory=list)
    apps: dict[Look, Flask] = field(default_factory=dict)

    def app(self, look: Look = Look.FREE) -> Flask:
        if look not in self.apps:
            self.apps[look] = create_app(replace(self.web, look=look, ask=self._asked))
        return self.apps[look]

    def _asked(self, command: Command) -> int | None:
        self.commands.append(command)
        return self.web.ask(command)

    def rules(self, acting: bool = False) -> list[Rule]:
        """Every address that is looked at, or every one that acts."""
        rules = list(self.app().url_map.iter_rules())
        return [one for one in rules if ((one.methods or set()) - LOOKING if acting else "GET" in (one.methods or ()))]

    def client(self, look: Look = Look.FREE, *, paired: bool = False) -> FlaskClient:
        """A browser that has a page open, perhaps one of a paired device."""
        client = self.app(look).test_client()
        with client.session_transaction("/") as session:
            session["token"] = TOKEN
            if paired:
                if len(self.web.door.paired()) >= MOST - 1:
                    # Each way to act has a device of its own, and there are more ways than a station keeps devices.
                    self.web.door.lock_out(self.web.door.paired()[0].id)
                self.web.door.ask()
                session["pairing"] = self.web.door.open(self.web.door.waiting(), "test phone")
        return client

    def _rows(self) -> int:
        with closing(sqlite3.connect(self.folder / "record.db")) as record:
            return int(record.execute("SELECT count(*) FROM journal").fetchone()[0])

    def traces(self) -> dict[str, Any]:
        """What would differ if anything had been done: commands, codes, devices, errands, files."""
        assert self.web.desk is not None
        return {
            "commands": list(self.commands),
            "codes": list(self.codes),
            "devices": [one.id for one in self.web.door.paired()],
            "errand": self.web.desk.errand(),
            "files": {
                str(file): (file.stat().st_size, file.stat().st_mtime_ns)
                for file in sorted(self.folder.rglob("*"))
                # Heartbeats and shortcuts come into the record by themselves: what was done is a row of its journal.
                if file.is_file() and not file.name.startswith("record.db")
            },
            "rows": self._rows(),
        }


@contextmanager
def whole_map(folder: Path) -> Iterator[Map]:
    """A whole station's pages. Fails when a part of them is not fitted."""
    seen: list[Web] = []

    def caught(web: Web) -> Flask:
        seen.append(web)
        return create_app(web)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("station.app.create_app", caught)
        with Whole(folder) as whole:
            web = replace(seen[0], benches=Benches())
            left_out = [part.name for part in fields(web) if getattr(web, part.name) is None]
            assert left_out == [], "a part of the pages is not fitted here, so nothing of it is proved"
            yield Map(web, folder, whole.codes)


def places(rule: Rule, values: list[str] | None = None) -> list[str]:
    """The rule's address with sensible values filled in, or with these where its converters take them."""
    unknown = rule.arguments - SENSE.keys()
    if unknown:
        pytest.fail(f"{rule.rule}: say in SENSE which values {sorted(unknown)} may have")
    count = max((len(values or SENSE[name]) for name in rule.arguments), default=1)
    found = []
    for turn in range(count):
        place = rule.rule
        for name in rule.arguments:
            offered = values or SENSE[name]
            # A function, so that no backslash in a value means anything.
            filled = partial(_given, offered[turn % len(offered)])
            place = re.sub(rf"<(\w+:)?{name}>", filled, place)
        found.append(place)
    return found


def _given(value: str, _: re.Match[str]) -> str:
    return value


def query_names() -> list[str]:
    """Every name that some page looks for in a query."""
    sources = "".join(file.read_text(encoding="utf-8") for file in _SOURCES.glob("*.py"))
    names = set(re.findall(r'args\.get(?:list)?\(\s*"([^"]+)"', sources))
    assert {"search", "unit", "said"} <= names, "the way in which pages ask for a query has changed: look for it anew"
    return sorted(names)

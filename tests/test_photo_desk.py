"""The desk of the photos: the bench comes first, and no file is left that the record does not know."""

from __future__ import annotations

import io
import shutil
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any, BinaryIO

import pytest

from station.core import events as ev
from station.core.bench import Bench, step
from station.core.messages import AddPhoto, Command, RemovePhoto
from station.core.photo_events import MOST_OF_A_CAST
from station.core.standing import Standing
from station.errors import Fault, LedgerFault, Refused
from station.photo_desk import PhotoDesk, PhotoTools, taking
from station.photos.taking import Taken
from station.store.archive import Archive
from station.store.ledger import SqlLedger
from station.store.photos import FOLDER
from tests.store.photo_story import add
from tests.store.stories import a_day

BY = "page (test phone)"
NOW = a_day()[-1].at


class Room:
    """A desk over a real record of three casts; its bench writes down what it is told."""

    def __init__(self, state: Path, ledger: SqlLedger, archive: Archive) -> None:
        self.state, self.ledger = state, ledger
        self.unsaved, self.opened = 0, 0
        self.refuses: Exception | None = None
        self.bench = Bench(Standing(last_number=3))
        self.desk = PhotoDesk(
            PhotoTools(state / FOLDER, archive, self._take, self._ask, lambda: SimpleNamespace(unsaved=self.unsaved))  # type: ignore[arg-type, return-value]
        )
        self.archive = archive

    def _take(self, file: BinaryIO, /) -> Taken:
        self.opened += 1
        content = file.read()
        return Taken(b"\xff\xd8\xff" + content, b"\xff\xd8\xff small", 1600, 1200)

    def _ask(self, command: Command) -> int | None:
        if self.refuses is not None:
            raise self.refuses
        self.bench, effects = step(self.bench, command, NOW)
        self.ledger.write([ev.Entry(effect.event, NOW) for effect in effects if hasattr(effect, "event")])
        return None

    def send(self, content: bytes, number: int = 1, caption: str = "the heel") -> None:
        self.desk.add(number, io.BytesIO(content), caption, BY)

    def files(self) -> list[Path]:
        folder = self.state / FOLDER
        return sorted(folder.iterdir()) if folder.exists() else []


@pytest.fixture
def room(tmp_path: Path) -> Iterator[Room]:
    with SqlLedger(tmp_path) as ledger:
        ledger.write(a_day())
        with Archive(tmp_path / "record.db") as archive:
            yield Room(tmp_path, ledger, archive)


def test_a_photo_comes_into_the_record_of_a_cast_that_ended_long_ago(room: Room) -> None:
    room.send(b"one")
    (photo,) = room.archive.photos(1)
    assert (photo.caption, photo.added.by, photo.wide, photo.high) == ("the heel", BY, 1600, 1200)
    assert room.desk.picture(1, photo.name, small=False) == b"\xff\xd8\xffone"
    assert room.desk.picture(1, photo.name, small=True) == b"\xff\xd8\xff small"
    assert room.desk.picture(2, photo.name, small=False) is None
    assert len(room.files()) == 2


def test_the_same_photo_sent_twice_is_there_once_until_it_was_removed(room: Room) -> None:
    room.send(b"one")
    room.send(b"one")
    assert (len(room.archive.photos(1)), len(room.files()), room.opened) == (1, 2, 2)
    room.desk.remove(1, room.archive.photos(1)[0].name, BY)
    room.send(b"one")
    assert [one.removed is None for one in room.archive.photos(1)] == [False, True]


def test_a_photo_that_was_removed_is_not_shown_and_its_file_stays(room: Room) -> None:
    room.send(b"one")
    name = room.archive.photos(1)[0].name
    room.desk.remove(1, name, BY)
    assert room.desk.picture(1, name, small=False) is None
    assert len(room.files()) == 2
    with pytest.raises(Refused, match="no such photo"):
        room.desk.remove(1, name, BY)
    with pytest.raises(Refused, match="no such photo"):
        room.desk.remove(2, name, BY)


def test_there_is_no_cast_of_that_number(room: Room) -> None:
    with pytest.raises(Refused, match="There is no cast 4"):
        room.send(b"one", number=4)
    assert (room.opened, room.files()) == (0, [])


def test_a_cast_has_twenty_photos_at_most_and_removing_one_makes_room(room: Room) -> None:
    for place in range(MOST_OF_A_CAST):
        add(room.ledger, room.state, 1, f"{place}")
    with pytest.raises(Refused, match="Cast 1 has 20 photos"):
        room.send(b"one")
    assert room.opened == 0
    room.send(b"one", number=2)
    room.desk.remove(1, room.archive.photos(1)[0].name, BY)
    room.send(b"one")


def test_while_the_card_takes_no_entries_it_takes_no_photos(room: Room) -> None:
    room.unsaved = 3
    with pytest.raises(Refused, match="the bench comes first"):
        room.send(b"one")
    assert (room.opened, room.files()) == (0, [])


def test_a_card_that_is_nearly_full_is_left_to_the_bench(room: Room, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "disk_usage", lambda _: SimpleNamespace(free=199 * 1024 * 1024))
    with pytest.raises(Refused, match="nearly full: 199 MiB"):
        room.send(b"one")
    assert room.opened == 0


def test_what_the_bench_refuses_leaves_no_file(room: Room) -> None:
    room.refuses = Refused("There is no cast 1.")
    with pytest.raises(Refused):
        room.send(b"one")
    assert room.files() == []


def test_a_file_stays_when_nobody_knows_whether_the_bench_has_written_it_down(room: Room) -> None:
    room.refuses = Fault("The bench did not answer.")
    with pytest.raises(Fault):
        room.send(b"one")
    assert len(room.files()) == 2


def test_a_file_that_is_damaged_or_gone_is_a_sentence_and_never_shown(room: Room) -> None:
    room.send(b"one")
    name = room.archive.photos(1)[0].name
    (room.state / FOLDER / f"{name}.jpg").write_bytes(b"\xff\xd8\xff other")
    (room.state / FOLDER / f"{name}-small.jpg").unlink()
    with pytest.raises(LedgerFault, match="damaged"):
        room.desk.picture(1, name, small=False)
    with pytest.raises(LedgerFault, match="cannot be read"):
        room.desk.picture(1, name, small=True)


def test_a_photo_that_is_refused_lets_the_next_one_in(room: Room, monkeypatch: pytest.MonkeyPatch) -> None:
    room.refuses = Refused("no")
    for content in (b"one", b"two"):
        with pytest.raises(Refused):
            room.send(content)
    room.refuses = None
    room.send(b"three")


def test_in_safe_mode_no_photo_is_opened() -> None:
    with pytest.raises(Refused, match="safe mode"):
        taking(safe=True)(io.BytesIO(b"one"))


@pytest.mark.parametrize("number", [0, -1, 4])
def test_the_bench_knows_which_casts_there_were(number: int) -> None:
    bench = Bench(Standing(last_number=3))
    told: list[Any] = [AddPhoto(number, "n", "d", "s", 1, 1, "", BY), RemovePhoto(number, "n", BY)]
    for command in told:
        with pytest.raises(Refused, match="There is no cast"):
            step(bench, command, NOW)

"""Rows of each bench in the shared log: all of them, once, in order, and nobody else's."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from traceback import format_exception

import psycopg
import pytest

from station.benches.faults import NotTaken, SharedFault
from station.benches.server import Server
from station.benches.shelf import newest
from station.benches.tables import prepare
from station.core import events as ev
from station.store.batch_record import as_text
from tests.benches.desk import Desk, copied, day, dsn, wrong_with

Open = Callable[..., Desk]


@pytest.fixture
def opened(tmp_path: Path, url: str) -> Iterator[Open]:
    desks: list[Desk] = []

    def open_one(bench: int, folder: str = "", station_id: str = "", batch: int = 7) -> Desk:
        desks.append(Desk(tmp_path / (folder or f"bench-{bench}"), url, bench, station_id=station_id, batch=batch))
        return desks[-1]

    yield open_one
    for desk in desks:
        desk.close()


def test_the_copy_is_the_journal_row_for_row(opened: Open, url: str) -> None:
    one, two = opened(1), opened(2)
    one.write(*day(2))
    two.write(*day(1))
    while one.copy() + two.copy():
        pass
    for desk in (one, two):
        assert copied(url, desk.own.bench) == desk.rows()
        assert wrong_with(copied(url, desk.own.bench)) == ""
    one.write(*[ev.Entry(ev.Noted(1, "later", "page"), day(2)[-1].at)])
    assert (one.copy(), one.copy(), two.copy()) == (1, 0, 0)
    assert copied(url, 1) == one.rows()


def test_each_cast_stands_there_as_its_own_bench_shows_it(opened: Open) -> None:
    desk = opened(4)
    desk.write(*day(2))
    desk.copy_all()
    with desk.server.transaction() as db:
        mine = newest(db, but=None, limit=9)
        assert newest(db, but=4, limit=9) == ()
        again = newest(db, but=None, limit=1, known=mine)
    assert sorted(cast.number for cast in mine) == [1, 2]
    record = desk.feed._archive.record(2)
    assert record is not None
    cast = next(cast for cast in mine if cast.number == 2)
    assert cast.text == as_text(record)
    assert (cast.bench, cast.stage, cast.total) == (4, "demolded", record.planned_total)
    assert cast.begun == record.course.begun.wall
    assert again[0] is mine[0]


def test_a_second_station_with_the_same_digit_is_refused_and_nothing_is_lost(opened: Open, url: str) -> None:
    first, second = opened(3), opened(3, "other", "f" * 32)
    first.write(*day(1))
    second.write(*day(2))
    first.copy_all()
    with pytest.raises(NotTaken, match="Another station, Bench 3, is bench 3"):
        second.copy()
    assert copied(url, 3) == first.rows()
    second.own = type(second.own)(5, second.own.station_id, "Bench 5")
    second.copy_all()
    assert copied(url, 5) == second.rows()


def test_a_record_brought_back_from_an_older_state_is_refused_and_overwrites_nothing(
    opened: Open, url: str, tmp_path: Path
) -> None:
    desk = opened(2)
    desk.write(*day(1)[:10])
    shutil.copytree(tmp_path / "bench-2", tmp_path / "backup")
    desk.write(*day(1)[10:])
    desk.copy_all()
    before = copied(url, 2)
    older = opened(2, "backup")
    with pytest.raises(NotTaken, match="an older state of the record was brought back"):
        older.copy()
    # It grows past the copy: still another record.
    older.write(*day(3)[12:])
    assert len(older.rows()) > len(before)
    with pytest.raises(NotTaken, match="two different records"):
        older.copy()
    assert copied(url, 2) == before


def test_a_journal_whose_chain_is_broken_is_copied_up_to_there(
    opened: Open, url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = opened(2, batch=5)
    desk.write(*day(1))
    whole = desk.feed.rows_after
    monkeypatch.setattr(desk.feed, "rows_after", lambda seq, limit: [r for r in whole(seq, limit) if r.seq != 14])
    with pytest.raises(NotTaken, match="Row 15 of this station's record does not follow"):
        desk.copy_all()
    assert len(copied(url, 2)) == 10


def test_a_log_of_a_newer_version_is_refused_and_left_alone(opened: Open, url: str) -> None:
    desk = opened(2)
    desk.write(*day(1))
    desk.copy()
    with psycopg.connect(dsn(url)) as db:
        db.execute("UPDATE shared_version SET version = 99")
    with pytest.raises(NotTaken, match="newer version of the station"):
        desk.copy()
    assert len(copied(url, 2)) == 7


def test_the_key_itself_keeps_a_row_from_standing_there_twice(opened: Open, url: str) -> None:
    """The control: a copier that keeps its own account of how far it came, on a server without the key, doubles."""
    desk = opened(2)
    desk.write(*day(1))
    desk.copy()
    row = "INSERT INTO shared_journal SELECT * FROM shared_journal WHERE seq = 5"
    with psycopg.connect(dsn(url)) as db, pytest.raises(psycopg.errors.UniqueViolation):
        db.execute(row)
    with psycopg.connect(dsn(url)) as db:
        db.execute("ALTER TABLE shared_journal DROP CONSTRAINT shared_journal_pkey")
        db.execute(row)
    assert wrong_with(copied(url, 2)) == "row 5 stands there twice"


@pytest.mark.parametrize("change", ["DELETE FROM shared_journal WHERE seq = 4", "UPDATE shared_journal SET boot_s = 1"])
def test_a_row_that_somebody_changed_on_the_server_is_found(opened: Open, url: str, change: str) -> None:
    desk = opened(2)
    desk.write(*day(1))
    desk.copy_all()
    assert wrong_with(copied(url, 2)) == ""
    with psycopg.connect(dsn(url)) as db:
        db.execute(change)
    assert wrong_with(copied(url, 2)) != ""


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (("s3cret%40w0rd", "wr0ng%40w0rd"), "does not take this name or password"),
        (("/casts_", "/nothing_"), "no database of that name"),
        (("127.0.0.1:", "127.0.0.1:1"), "cannot be reached"),
        (("wren:", "nobody-known:"), "does not take this name or password"),
    ],
)
def test_what_keeps_the_log_away_is_told_without_the_password(url: str, spoil: tuple[str, str], told: str) -> None:
    spoilt = url.replace(*spoil)
    server = Server(spoilt)
    assert "w0rd" in spoilt
    with pytest.raises(SharedFault) as fault, server.transaction() as db:
        prepare(db)
    assert told in fault.value.sentence()
    traceback = "".join(format_exception(fault.value))
    assert "w0rd" not in f"{fault.value.sentence()}{fault.value!r}{server}{traceback}"


def test_a_station_without_the_driver_is_told_what_to_install(url: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("station.benches.server.find_spec", lambda _: None)
    with pytest.raises(SharedFault, match="needs psycopg"):
        Server(url)

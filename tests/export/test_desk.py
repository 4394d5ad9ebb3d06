"""The desk of papers and exports: what it makes in processes of their own, and what becomes of those that go wrong."""

from __future__ import annotations

import io
import json
import shutil
import threading
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from station.errors import Fault, LedgerFault, Refused, WrongField
from station.export import read, table_names
from station.export_desk.boxing import check, into_file
from station.export_desk.cast_paper import Shop
from station.export_desk.desk import CHILD, PaperDesk, PaperTools
from station.export_desk.in_hand import ROOM
from station.export_desk.year import YearOf, archive_into, of_year
from station.phone.paper_view import Making
from station.store.archive import Archive
from station.store.backup.contents import RECORD
from tests.export.logs import two_casts, written
from tests.paper.printed import Printed
from tests.phone.shown import WEIGHING
from tests.store.photo_story import picture_of, with_photos

ADDRESS = "http://wrenfield.local:8060/"
PATIENCE = 3000


def place_of(state: Path) -> Path:
    """The record in a state folder; a new one of two casts where there is none."""
    return state / RECORD if (state / RECORD).exists() else written(state, two_casts())


@contextmanager
def opened(
    state: Path, version: str = "0.1.0", addresses: tuple[str, ...] = (ADDRESS,), child: str = CHILD
) -> Iterator[PaperDesk]:
    with Archive(place_of(state)) as archive:
        desk = PaperDesk(PaperTools(archive, "Wrenfield Works", version, lambda: addresses, lambda: None, child))
        yield desk
        desk.stop()


def until(true: Callable[[], bool]) -> None:
    for _ in range(PATIENCE):
        if true():
            return
        threading.Event().wait(0.02)
    raise AssertionError("it never came to that")


def test_a_record_and_labels_come_as_pdf_and_lead_to_the_stations_own_address(tmp_path: Path) -> None:
    with opened(tmp_path, addresses=(ADDRESS, "http://192.0.2.7:8060/")) as desk:
        with desk.record(1, "http://localhost/") as pdf:
            paper = Printed(pdf.read())
        assert [one.text for one in paper.codes()] == [f"{ADDRESS}log/1"]
        assert "Cast 1: Kayak seat pad" in paper.text()
        typed = {"on": "cup", "size": "a4-3x7", "copies": "2", "start": "3", "at": "http://192.0.2.7:8060/"}
        with desk.labels(2, typed, "http://localhost/") as pdf:
            assert {one.text for one in Printed(pdf.read()).codes()} == {"http://192.0.2.7:8060/log/2"}
        with pytest.raises(WrongField):
            desk.labels(2, {"size": "1x1"}, "http://localhost/")
        with pytest.raises(Refused, match="no cast 9"):
            desk.record(9, "http://localhost/")


def test_a_code_leads_nowhere_but_to_addresses_of_the_station(tmp_path: Path) -> None:
    typed = {"at": "http://elsewhere.example/"}
    with opened(tmp_path, addresses=()) as desk, desk.labels(1, typed, "http://localhost/") as pdf:
        assert [one.text for one in Printed(pdf.read()).codes()] == ["http://localhost/log/1"]


def test_an_export_is_made_beside_and_is_the_whole_log(tmp_path: Path) -> None:
    with opened(tmp_path / "state") as desk:
        assert desk.state().state is Making.NONE
        desk.begin("all")
        with pytest.raises(Refused, match="already"):
            desk.begin("2026")
        until(lambda: desk.state().state is not Making.MAKING)
        view = desk.state()
        assert (view.state, view.casts, view.name) == (Making.MADE, 3, "tarebell-export.zip")
        _, content = desk.made()
        _, again = desk.made()
        with content, again:
            # Two at once, each at its own place.
            content.read(100)
            (tmp_path / "got.zip").write_bytes(again.read())
        assert view.size == (tmp_path / "got.zip").stat().st_size
        assert "log.jsonl" in check(io.BytesIO((tmp_path / "got.zip").read_bytes()))
        assert [one["number"] for one in read(tmp_path / "got.zip")] == [1, 2, 3]
        desk.stop()
        with pytest.raises(Refused, match="no export any more"):
            desk.made()
    assert not list((tmp_path / "state").glob(f"{ROOM}*"))
    left = {file.name.partition("-")[0] for file in (tmp_path / "state").iterdir()}
    assert left == {"record.db", "record.end", "station.lock"}


@pytest.mark.parametrize(("what", "along"), [("all", 2), ("all-without-photos", 0)])
def test_photos_go_along_as_they_are_unless_that_is_not_wanted(tmp_path: Path, what: str, along: int) -> None:
    state = tmp_path / "state"
    with_photos(state, 2)
    with opened(state) as desk:
        assert desk.photos_mib() == sum(file.stat().st_size for file in (state / "photos").iterdir()) / 2**20 > 0
        desk.begin(what)
        until(lambda: desk.state().state is not Making.MAKING)
        assert desk.state().state is Making.MADE, desk.state().words
        _, content = desk.made()
        with content, zipfile.ZipFile(content) as box:
            photos = [one for one in box.infolist() if one.filename.startswith("photos/")]
            assert len(photos) == along
            assert {one.compress_type for one in photos} <= {zipfile.ZIP_STORED}
            assert json.loads(box.read("contents.json"))["photos"] == along // 2


def test_photos_need_room_only_where_they_go_along(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    state = tmp_path / "state"
    (shot,) = with_photos(state, 2)
    with picture_of(state, shot).open("r+b") as picture:
        picture.truncate(10**9)
    monkeypatch.setattr(shutil, "disk_usage", lambda _: shutil._ntuple_diskusage(10**10, 10**10, 10**9))
    with opened(state) as desk:
        with pytest.raises(Refused, match="too full"):
            desk.begin("all")
        desk.begin("all-without-photos")
        desk.stop()


def test_the_archive_of_a_year_holds_its_casts_on_paper_and_as_tables(tmp_path: Path) -> None:
    place = written(tmp_path / "state", two_casts())
    out = io.BytesIO()
    shop = Shop("Wrenfield Works", ADDRESS, tmp_path / "state" / "photos")
    assert archive_into(YearOf(place, "0.1.0", 2026, shop), out, tmp_path) == 3
    files = check(out)
    assert "records/casts-000001-000003.pdf" in files
    assert "photos.csv" in files
    assert "log.jsonl" not in files
    (tmp_path / "2026.zip").write_bytes(out.getvalue())
    assert "casts" in table_names(tmp_path / "2026.zip")
    with zipfile.ZipFile(tmp_path / "2026.zip") as box:
        paper = Printed(box.read("records/casts-000001-000003.pdf"))
    assert paper.pages == 3
    with Archive(place) as archive:
        assert archive.years() == (2026,)
    with pytest.raises(Refused, match="Nothing was cast in 2025"):
        archive_into(YearOf(place, "0.1.0", 2025, shop), io.BytesIO(), tmp_path)
    with pytest.raises(Refused, match="no year"):
        of_year(20266)
    assert sorted(file.name for file in tmp_path.iterdir()) == ["2026.zip", "state"]


def test_what_may_not_begin_is_refused_in_a_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with opened(tmp_path) as desk:
        for what in ("", "1999", "²⁰²⁶", "../2026", "everything"):
            with pytest.raises(Refused, match="no such export"):
                desk.begin(what)
        busy = PaperDesk(PaperTools(desk._tools.archive, "W", "0.1.0", tuple, lambda: WEIGHING))
        with pytest.raises(Refused, match="A cast is at the bench"):
            busy.begin("all")
        monkeypatch.setattr(shutil, "disk_usage", lambda _: shutil._ntuple_diskusage(10**9, 10**9, 10**6))
        with pytest.raises(Refused, match="too full"):
            desk.begin("all")


def test_a_process_that_goes_wrong_is_told_and_leaves_nothing(tmp_path: Path) -> None:
    for what, said, kind in (("dies", "without having made the file", Fault), ("refuses", "card is full", LedgerFault)):
        with opened(tmp_path / what, version=what, child="tests.export.hanging") as desk:
            desk.begin("all")
            until(lambda desk=desk: desk.state().state is Making.FAILED)
            assert said in desk.state().words
            with pytest.raises(kind, match=said):
                desk.record(1, ADDRESS)
        assert not list((tmp_path / what).glob(f"{ROOM}*"))


def test_an_export_that_hangs_can_be_stopped_and_the_next_begins(tmp_path: Path) -> None:
    with opened(tmp_path / "hangs", version="hangs", child="tests.export.hanging") as desk:
        for _ in range(2):
            desk.begin("all")
            until(lambda: desk.state().casts == 42)
            desk.stop()
            assert desk.state().state is Making.NONE
        until(lambda: not any(thread.name == "errand export" for thread in threading.enumerate()))
    assert not list((tmp_path / "hangs").glob(f"{ROOM}*"))
    (tmp_path / "makes" / f"{ROOM}left").mkdir(parents=True)
    with opened(tmp_path / "makes") as desk:
        assert not list((tmp_path / "makes").glob(f"{ROOM}*")), "what an earlier run left is cleared away"
        desk.begin("2026")
        until(lambda: desk.state().state is Making.MADE)
        assert desk.state().name == "tarebell-2026.zip"


def test_a_mistyped_name_costs_no_other_file(tmp_path: Path) -> None:
    sheet, paper = tmp_path / "materials.toml", tmp_path / "one.pdf"
    sheet.write_text("[[material]]")
    with pytest.raises(LedgerFault, match="neither a PDF nor a zip"), into_file(sheet) as out:
        out.write(b"%PDF-1.7")
    assert sheet.read_text() == "[[material]]"
    assert [each.name for each in tmp_path.iterdir()] == ["materials.toml"]
    for content in (b"%PDF-1.7 first", b"%PDF-1.7 second"):
        with into_file(paper) as out:
            out.write(content)
        assert paper.read_bytes() == content

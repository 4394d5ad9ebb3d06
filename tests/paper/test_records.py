"""The batch record on paper: read back as text, as codes and as pictures, by other hands than those that wrote it."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from station.core.photo_events import PhotoAdded
from station.export.form import Told
from station.export_desk.cast_paper import Shop, write_casts
from station.languages import begin_to_speak
from station.paper import fonts as lettering
from station.store.archive import Archive
from station.store.photos import digest_of, files_of, keep
from tests.export.logs import played, two_casts, with_parts, written
from tests.paper.printed import Printed
from tests.photos.pictures import jpeg

ADDRESS = "http://wrenfield.local:8060/"


def printed(place: Path, *numbers: int, address: str = ADDRESS) -> Printed:
    out = io.BytesIO()
    with Archive(place) as archive:
        wholes = [archive.whole(number) for number in numbers]
        told = [Told(one.record, one.plan) for one in wholes if one is not None]
        write_casts(told, archive, Shop("Wrenfield Works", address, place.parent / "photos"), out)
    return Printed(out.getvalue())


def test_it_says_masses_ratio_times_lots_alarms_and_leads_to_its_page(tmp_path: Path) -> None:
    paper = printed(written(tmp_path, two_casts()), 1)
    said = paper.text()
    needed = [
        "Cast 1: Kayak seat pad",
        "Seat foam, 2026-03-02",
        "189.4 g",
        "190.0 g",
        "A-0417",
        "187.2 g in the mix: mass gained while combining",
        "299.3 g, planned 300.0 g",
        "A 100.00 : B 59.88",
        "17 s of mixing",
        "31 s after first contact, pot life 50 s",
        "21.5 °C",
        "demold",
        "heard by button 25 s later",
        "Fills the corner well.",
        "Wrenfield Works · Cast 1",
    ]
    assert [words for words in needed if words not in said] == []
    assert [one.text for one in paper.codes()] == [f"{ADDRESS}log/1"]
    assert paper.size_mm() == pytest.approx((210, 297), abs=0.1)


def test_a_pour_is_drawn_where_its_trace_was_kept(tmp_path: Path) -> None:
    place, _ = played(tmp_path)
    said = printed(place, 1).text()
    assert "How it was poured" in said
    assert said.count("grams in the cup") == 2
    assert "4 accepted after" in said
    assert "Missed: demold: nobody has answered it" in said


def test_a_judged_part_has_its_verdict_mass_hardness_and_shrinkage_on_paper(tmp_path: Path) -> None:
    said = printed(with_parts(tmp_path), 1).text()
    needed = [
        "usable; bubbles (slight), under the rim; flash (clear)",
        "208.5 g, trimmed",
        "28 Shore A (median of 3 readings: 27.5 to 29)",
        "0.40 %",
        "trimmed with scissors",
        "What was said of the part",
        "214.0 g",
    ]
    assert [words for words in needed if words not in said] == []


def test_without_an_address_there_is_no_code(tmp_path: Path) -> None:
    paper = printed(written(tmp_path, two_casts()), 1, address="")
    assert paper.codes() == []
    assert "http" not in paper.text()


def test_some_casts_in_one_file_each_begin_a_page_with_their_own_foot(tmp_path: Path) -> None:
    paper = printed(written(tmp_path, two_casts()), 1, 2, 3)
    assert paper.pages == 3
    assert [paper.codes(page)[0].text for page in range(3)] == [f"{ADDRESS}log/{number}" for number in (1, 2, 3)]
    assert [paper.text().count(f"Wrenfield Works · Cast {number}") for number in (1, 2, 3)] == [1, 1, 1]


def test_the_same_record_gives_the_same_bytes(tmp_path: Path) -> None:
    place = written(tmp_path, two_casts())
    made = []
    for _ in range(2):
        out = io.BytesIO()
        with Archive(place) as archive:
            whole = archive.whole(1)
            assert whole is not None
            write_casts([Told(whole.record, whole.plan)], archive, Shop("W", "", tmp_path), out)
        made.append(out.getvalue())
    assert made[0] == made[1]


def test_photos_come_along_but_a_damaged_one_keeps_nothing_from_being_printed(tmp_path: Path) -> None:
    story, folder = two_casts(), tmp_path / "photos"
    picture = jpeg(40, 30)
    names = []
    for caption in ("heel, sound", "heel, torn"):
        names.append(keep(folder, picture, picture))
        seal = digest_of(picture)
        story.tell(PhotoAdded(1, names[-1], seal, seal, 40, 30, caption, "page"), 1)
    place = written(tmp_path, story)
    files_of(folder, names[1]).small.write_bytes(b"\xff\xd8\xff none")
    paper = printed(place, 1)
    assert paper.images() == 1
    assert "heel, sound" in paper.text()


@pytest.fixture
def shipped_font(monkeypatch: pytest.MonkeyPatch):
    """A computer without other fonts than the library's own."""
    monkeypatch.setattr(lettering, "_PLACES", lettering._PLACES[-1:])
    lettering.fonts.cache_clear()
    yield
    lettering.fonts.cache_clear()


def test_umlauts_in_german_with_the_font_that_comes_along(tmp_path: Path, shipped_font: None) -> None:
    place = written(tmp_path, two_casts())
    begin_to_speak("de")
    try:
        paper = printed(place, 2)
    finally:
        begin_to_speak("en")
    said = paper.text()
    needed = [
        "Guss 2: Kayak seat pad",
        "entformt",
        "190,0 g",
        "Verhältnis des Blatts",
        "31 s nach dem ersten Kontakt",
        "and ü €",
    ]
    assert [words for words in needed if words not in said] == []
    assert paper.codes()[0].text == f"{ADDRESS}log/2"


def test_letters_that_a_font_lacks_are_spelt_or_marked_and_never_fail(shipped_font: None) -> None:
    known = lettering.fonts()
    assert known.plain == "Vera"
    assert known.legible("Größe ½ 3×4 ≥ 5 €") == "Größe ½ 3×4 ≥ 5 €"
    assert known.legible("ế") == "e"
    assert known.legible("模\U0001f600") == "??"
    assert known.legible("1\N{NARROW NO-BREAK SPACE}234") == "1 234"
    assert known.cut("a very long title of a mold", 10, 40).endswith("…")

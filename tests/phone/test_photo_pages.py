"""Photos on a cast's page: sent by paired devices only, shown to whoever may look, refused with a sentence."""

import io
import re
from dataclasses import replace
from datetime import timedelta

import pytest

from station.core.photo_events import MOST_BYTES, MOST_OF_A_CAST
from station.errors import Fault, Refused
from station.phone.photos_sent import FORM_BYTES, MOST_AT_ONCE
from station.records import PhotoRecord, RemarkRecord
from tests.phone.shown import QUIET, opened_station
from tests.phone.small_log import RECORD, WALL, When

OURS = {"Origin": "http://localhost"}


def photo(place, caption="", removed=False, sides=(1600, 1200)):
    at = When(WALL + timedelta(minutes=place), True)
    gone = RemarkRecord(at, "photo removed", "page (other phone)") if removed else None
    name = f"{place:016x}"
    return PhotoRecord(name, "d", "s", *sides, caption, RemarkRecord(at, "photo added", "page (test phone)"), gone)


class SmallDesk:
    """A `PhotoDesk` that keeps what it is given, and refuses files by their content."""

    def __init__(self):
        self.photos = [photo(1, "The heel <b>tore</b>"), photo(2, removed=True), photo(3, sides=(900, 1600))]
        self.given = []
        self.removed = []
        self.refuses = {}

    def add(self, number, file, caption, by):
        content = file.read()
        if content in self.refuses:
            raise self.refuses[content]
        self.given.append((number, content, caption, by))

    def remove(self, number, name, by):
        if name not in {one.name for one in self.photos}:
            raise Refused("There is no such photo of this cast any more.", "Load the page again.")
        self.removed.append((number, name, by))

    def picture(self, number, name, *, small):
        known = number == 3 and any(one.name == name and one.removed is None for one in self.photos)
        return (b"small " if small else b"large ") + name.encode() if known else None


@pytest.fixture
def desk():
    return SmallDesk()


@pytest.fixture
def station(desk):
    with opened_station(photos=desk) as opened:
        opened.post(QUIET)
        opened.log.record = lambda number: (
            replace(RECORD, number=number, photos=tuple(desk.photos)) if number < 41 else None
        )
        yield opened


@pytest.fixture
def visitor(station):
    return station.paired()


def send(visitor, *contents, number="3", **form):
    files = [(io.BytesIO(content), name) for name, content in contents]
    data = {"token": visitor.token, "photo": files, **form}
    return visitor.client.post(f"/photos?number={number}", data=data, headers=OURS)


def section(page):
    return re.search(r'<section class="whole" id="photos">.*?</section>', page, re.DOTALL)[0]


def test_photos_are_shown_with_their_captions_to_whoever_may_look(station):
    page = section(station.client().get("/log/3").get_data(as_text=True))
    images = re.findall(r'<img src="([^"]+)" width="(\d+)" height="(\d+)" loading="lazy" alt="([^"]+)">', page)
    assert images == [
        (f"/log/3/photos/small/{1:016x}.jpg", "320", "240", "The heel &lt;b&gt;tore&lt;/b&gt;"),
        (f"/log/3/photos/small/{3:016x}.jpg", "180", "320", "Photo 2 of cast 3, without a caption"),
    ]
    assert f'href="/log/3/photos/{1:016x}.jpg"' in page
    assert "page (test phone)" in page
    assert "One photo was removed." in page
    assert "<form" not in page


def test_a_picture_is_a_jpeg_for_ever_and_only_under_a_name_that_the_record_knows(station):
    client = station.client()
    answer = client.get(f"/log/3/photos/{1:016x}.jpg")
    assert (answer.data, answer.mimetype) == (f"large {1:016x}".encode(), "image/jpeg")
    assert answer.headers["Cache-Control"] == "private, max-age=31536000, immutable"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert client.get(f"/log/3/photos/small/{1:016x}.jpg").data.startswith(b"small")
    for place in (
        f"/log/3/photos/{2:016x}.jpg",
        f"/log/4/photos/{1:016x}.jpg",
        f"/log/3/photos/{9:016x}.jpg",
        "/log/3/photos/..%2f..%2fstation.toml.jpg",
        f"/log/3/photos/{1:016x}-small.jpg",
        f"/log/3/photos/{1:016x}",
    ):
        assert client.get(place).status_code == 404, place


def test_a_paired_device_has_a_form_that_works_without_a_script(visitor):
    page = section(visitor.look("/log/3"))
    assert 'action="/photos?number=3#photos" enctype="multipart/form-data"' in page
    assert 'capture="environment"' in page
    assert re.search(r'name="photo" accept="[^"]+" multiple', page)
    assert "10 MB each and 20 of a cast at most" in page


def test_several_photos_are_added_with_one_caption(visitor, desk):
    answer = send(visitor, ("", b""), ("a.jpg", b"one"), ("b.jpg", b"two"), caption="  after\tdemolding ")
    assert (answer.status_code, answer.headers["Location"]) == (303, "/log/3#photos")
    by = "page (test phone)"
    assert desk.given == [(3, b"one", "after demolding", by), (3, b"two", "after demolding", by)]


def test_each_photo_that_is_refused_is_named_and_the_others_are_kept(visitor, desk):
    desk.refuses = {b"bad": Refused("It is empty.", "Take it again."), b"worse": Fault("It broke.", "Try again.")}
    answer = send(visitor, ("1.jpg", b"good"), ("<i>2.heic", b"bad"), ("3.jpg", b"worse"), caption="the toe")
    page = section(answer.get_data(as_text=True))
    assert answer.status_code == 409
    assert [content for _, content, _, _ in desk.given] == [b"good"]
    assert "Photo 2 of 3 (“&lt;i&gt;2.heic”) was not added. It is empty. Take it again." in page
    assert "Photo 3 of 3 (“3.jpg”) was not added. It broke. Try again." in page
    assert 'role="alert" id="photo-slip"' in page
    assert 'aria-describedby="photo-slip"' in page
    assert 'name="caption" maxlength="200" autocomplete="off" value="the toe"' in page


def test_the_only_photo_that_is_refused_needs_no_number(visitor, desk):
    desk.refuses = {b"bad": Refused("It is empty.", "Take it again.")}
    assert "The photo was not added. It is empty." in send(visitor, ("a.jpg", b"bad")).get_data(as_text=True)


def test_no_file_and_a_caption_that_is_too_long_are_sentences(visitor, desk):
    nothing = send(visitor, ("", b""), caption="kept")
    assert nothing.status_code == 409
    assert "No photo was chosen." in nothing.get_data(as_text=True)
    assert 'value="kept"' in nothing.get_data(as_text=True)
    long = send(visitor, ("a.jpg", b"one"), caption="x" * 201)
    assert long.status_code == 409
    assert "at most 200 are kept" in long.get_data(as_text=True)
    assert desk.given == []


@pytest.mark.parametrize(("number", "status"), [("none", 400), ("", 400), ("0", 400), ("41", 404)])
def test_a_cast_that_is_none_takes_no_photo(visitor, desk, number, status):
    desk.refuses = {b"one": Refused("There is no cast 41.")}
    assert send(visitor, ("a.jpg", b"one"), number=number).status_code == status
    assert desk.given == []


def test_too_much_at_once_is_refused_by_its_stated_length_and_says_so_on_the_page(visitor, desk):
    answer = visitor.client.post(
        "/photos?number=3",
        headers=OURS,
        content_type="multipart/form-data; boundary=b",
        environ_overrides={"CONTENT_LENGTH": str(MOST_AT_ONCE + FORM_BYTES + 1)},
    )
    assert answer.status_code == 413
    assert "That is more than 50 MB at once. Send fewer photos at a time." in section(answer.get_data(as_text=True))
    assert desk.given == []


@pytest.mark.parametrize("place", ["/photos", "/photos?number=x", "/photos?number=41", "/photos/remove"])
def test_too_much_for_no_cast_at_all_is_a_sentence_too(visitor, desk, place):
    answer = visitor.client.post(
        place,
        headers=OURS,
        content_type="multipart/form-data; boundary=b",
        environ_overrides={"CONTENT_LENGTH": str(MOST_AT_ONCE + FORM_BYTES + 1)},
    )
    assert answer.status_code == 413
    assert re.match(r"That is (more than|too much)[^<]+\n$", answer.get_data(as_text=True))


def test_a_large_photo_is_taken_here(visitor, desk):
    assert send(visitor, ("a.jpg", b"x" * MOST_BYTES)).status_code == 303
    assert len(desk.given[0][1]) == MOST_BYTES


def test_a_photo_is_removed_and_the_page_says_where_it_stays(visitor, desk):
    page = section(visitor.look("/log/3"))
    assert "Its file stays on the card and in the backups" in page
    answer = visitor.send("/photos/remove", number="3", name=f"{1:016x}")
    assert (answer.status_code, answer.headers["Location"]) == (303, "/log/3#photos")
    assert desk.removed == [(3, f"{1:016x}", "page (test phone)")]
    again = visitor.send("/photos/remove", number="3", name="gone")
    assert again.status_code == 409
    assert "no such photo of this cast any more" in again.get_data(as_text=True)


def test_a_cast_with_all_its_photos_has_no_form_for_more(visitor, desk):
    desk.photos = [photo(place) for place in range(1, MOST_OF_A_CAST + 1)]
    page = section(visitor.look("/log/3"))
    assert page.count("<img") == MOST_OF_A_CAST
    assert 'action="/photos?' not in page
    assert "Remove photo 20" in page


@pytest.mark.parametrize("wrong", [{"Origin": "http://elsewhere.example"}, {"Origin": "null"}, {}], ids=str)
def test_another_site_cannot_send_or_remove_a_photo(visitor, desk, wrong):
    data = {"token": visitor.token, "photo": (io.BytesIO(b"x"), "a.jpg")}
    assert visitor.client.post("/photos?number=3", data=data, headers=wrong).status_code == 403
    form = {"token": visitor.token, "number": "3", "name": f"{1:016x}"}
    assert visitor.client.post("/photos/remove", data=form, headers=wrong).status_code == 403
    assert (desk.given, desk.removed) == ([], [])


def test_a_device_that_is_not_paired_is_refused_before_its_photo_is_read(station, visitor, desk):
    stranger = type(visitor)(station.client())
    stranger.look()
    answer = send(stranger, ("a.jpg", b"x" * 100_000))
    assert answer.status_code == 403
    assert "may look, but not touch" in answer.get_data(as_text=True)
    assert desk.given == []


def test_a_station_that_takes_no_photos_asks_for_none():
    with opened_station() as station:
        station.post(QUIET)
        assert 'id="photos"' not in station.paired().look("/log/3")

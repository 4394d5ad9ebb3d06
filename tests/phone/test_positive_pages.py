"""The page of a positive: sent once, asked about its unit, kept for a while; large files for paired devices only."""

import gc
import io
import re
import threading
from dataclasses import replace

import pytest

from station.casting.positive import MOST_BYTES, Leak, Positive, Survey, Unit, from_file_units
from station.errors import Fault, Refused
from station.phone.bodies import roomy_parser
from station.phone.positive_pages import KEPT, Recent, Result
from tests.phone.shown import QUIET, opened_station

PICTURE = b"\x89PNG picture"
PART = from_file_units(
    Positive(
        extents_mm=(120.0, 80.0, 30.0),
        volume_cm3=150_000.0,
        area_cm2=40_000.0,
        facets=1234,
        bodies=1,
        closed=True,
        consistent=True,
        unit=Unit.MM,
        unit_why="",
        sure_of_unit=False,
        kind="binary STL",
    ),
    None,
)


class Measuring:
    """A `Surveying` that answers with a part and keeps what it was given."""

    def __init__(self):
        self.part = PART
        self.refuses = None
        self.given = []
        self.waits = None
        self.begun = threading.Event()

    def __call__(self, file, name, /):
        self.begun.set()
        if self.waits is not None:
            assert self.waits.wait(30)
        self.given.append((file.read(), name))
        if self.refuses is not None:
            raise self.refuses
        return Survey(self.part, PICTURE)


@pytest.fixture
def measuring():
    return Measuring()


@pytest.fixture
def station(measuring):
    with opened_station(survey=measuring) as opened:
        opened.post(QUIET)
        yield opened


@pytest.fixture
def visitor(station):
    return station.paired()


def send(visitor, content=b"a mesh", name="seat pad.stl", **form):
    data = {"token": visitor.token, "mesh": (io.BytesIO(content), name), **form}
    return visitor.client.post("/positive", data=data, headers={"Origin": "http://localhost"})


def shown(visitor, answer, asked=""):
    assert answer.status_code == 303, answer.get_data(as_text=True)
    return visitor.client.get(answer.headers["Location"] + asked)


def test_the_form_says_what_it_takes_and_a_stranger_has_none(station, visitor):
    page = visitor.look("/positive")
    assert 'enctype="multipart/form-data"' in page
    assert "50 MB and a million facets at most" in page
    stranger = station.client().get("/positive").get_data(as_text=True)
    assert "<button" not in stranger[stranger.index("<main") : stranger.index("</main>")]
    assert "pair this device" in stranger


def test_a_mesh_is_measured_and_shown_with_its_picture_and_its_box(visitor, measuring):
    answer = send(visitor)
    page = shown(visitor, answer).get_data(as_text=True)
    assert measuring.given == [(b"a mesh", "seat pad.stl")]
    for words in ("150 cm³", "120 × 80 × 30 mm", "400 cm²", "1,234 facets", "In inches it would be 3048 mm long."):
        assert words in page
    assert 'href="/work/box?length=120.00+mm&amp;width=80.00+mm&amp;height=30.00+mm&amp;volume=150.00+cm3"' in page
    picture = visitor.client.get(re.search(r'src="(/positive/[^"]+\.png)"', page)[1])
    assert (picture.data, picture.mimetype) == (PICTURE, "image/png")
    assert picture.headers["Cache-Control"] == "no-store"


def test_unit_scale_and_hand_are_changed_without_sending_again(visitor, measuring):
    answer = send(visitor)
    assert "3810 × 2540 × 762" not in shown(visitor, answer).get_data(as_text=True)
    inches = shown(visitor, answer, "?unit=mm&unit=in").get_data(as_text=True)
    assert "3048 × 2032 × 762 mm" in inches
    assert "Read in inches, as you said." in inches
    assert 'name="unit" value="in"><' not in inches
    larger = shown(visitor, answer, "?shrinkage=0.5&scale=2&mirror=yes").get_data(as_text=True)
    assert "241.2 × 160.8 × 60.3 mm" in larger
    assert f"{150 * 8 / 0.995**3:.1f} cm³" in larger
    assert "Mirrored" in larger
    assert len(measuring.given) == 1


@pytest.mark.parametrize("asked", ["?unit=ell", "?scale=much", "?shrinkage=all", "?shrinkage=70", "?scale=0"])
def test_what_cannot_be_read_is_said_above_the_plain_result(visitor, asked):
    answer = shown(visitor, send(visitor), asked)
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert 'role="alert"' in page
    assert "120 × 80 × 30 mm" in page


def test_an_open_surface_has_no_box_and_shows_where_it_leaks(visitor, measuring):
    leak = Leak((1.0, -2.0, 3.0), 30.0, 3)
    measuring.part = replace(PART, volume_cm3=None, closed=False, leaks=(leak,), leaking=1, open_edges=3)
    page = shown(visitor, send(visitor)).get_data(as_text=True)
    assert "does not close" in page
    assert "1.0 mm right, 2.0 mm front, 3.0 mm above of the middle" in page
    assert "/work/box" not in page


@pytest.mark.parametrize("refuses", [Refused("It is no mesh.", "Send another."), Fault("It broke.", "Try again.")])
def test_a_refusal_is_said_above_the_form_and_the_next_one_is_measured(visitor, measuring, refuses):
    measuring.refuses = refuses
    answer = send(visitor)
    assert answer.status_code == 409
    assert refuses.sentence() in answer.get_data(as_text=True)
    measuring.refuses = None
    assert send(visitor).status_code == 303


def test_a_form_without_a_file_is_refused(visitor, measuring):
    assert "No file was chosen" in send(visitor, b"", "").get_data(as_text=True)
    assert "No file was chosen" in visitor.send("/positive").get_data(as_text=True)
    assert measuring.given == []


def test_the_name_of_a_file_is_text_and_never_markup(visitor):
    page = shown(visitor, send(visitor, name="<script>alert(1)</script>.stl")).get_data(as_text=True)
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert(1)" in page


def test_a_second_mesh_waits_while_one_is_measured(station, visitor, measuring):
    measuring.waits = threading.Event()
    first = []
    thread = threading.Thread(target=lambda: first.append(send(visitor)))
    other = station.paired("other phone")
    thread.start()
    try:
        assert measuring.begun.wait(30)
        answer = send(other)
        assert answer.status_code == 409
        assert "Another mesh is being measured" in answer.get_data(as_text=True)
        assert station.client().get("/").status_code == 200
    finally:
        measuring.waits.set()
        thread.join(30)
    assert first[0].status_code == 303
    assert send(other).status_code == 303


def test_a_large_file_is_taken_here_and_nowhere_else(visitor, measuring):
    large = b"x" * 3_000_000
    assert send(visitor, large).status_code == 303
    assert measuring.given == [(large, "seat pad.stl")]
    elsewhere = visitor.client.post(
        "/new", data={"token": visitor.token, "mesh": (io.BytesIO(large), "a")}, headers={"Origin": "http://localhost"}
    )
    assert elsewhere.status_code == 413


def test_too_large_a_file_is_refused_by_its_stated_length(visitor, measuring):
    answer = visitor.client.post(
        "/positive",
        headers={"Origin": "http://localhost"},
        content_type="multipart/form-data; boundary=b",
        environ_overrides={"CONTENT_LENGTH": str(MOST_BYTES + 100_000)},
    )
    assert answer.status_code == 413
    assert "at most 50 MB are taken" in answer.get_data(as_text=True)
    assert measuring.given == []


@pytest.mark.parametrize("wrong", [{"Origin": "http://elsewhere.example"}, {"Origin": "null"}, {}], ids=str)
def test_another_site_cannot_send_a_mesh(visitor, measuring, wrong):
    data = {"token": visitor.token, "mesh": (io.BytesIO(b"x"), "a.stl")}
    assert visitor.client.post("/positive", data=data, headers=wrong).status_code == 403
    assert measuring.given == []


def test_a_guessed_token_and_a_device_that_is_not_paired_are_refused(station, visitor, measuring):
    assert send(visitor, token="guessed").status_code == 403
    stranger = type(visitor)(station.client())
    stranger.look()
    answer = send(stranger, b"x" * 100_000)
    assert answer.status_code == 403
    assert "may look, but not touch" in answer.get_data(as_text=True)
    assert measuring.given == []


def test_only_the_last_results_are_kept():
    recent = Recent()
    keys = [recent.keep(Result(Survey(PART, PICTURE), str(n))) for n in range(KEPT + 1)]
    assert len(set(keys)) == KEPT + 1
    with pytest.raises(Refused, match="not kept any more"):
        recent.get(keys[0])
    assert [recent.get(key).name for key in keys[1:]] == [str(n) for n in range(1, KEPT + 1)]


def test_a_result_that_is_gone_is_a_sentence(visitor):
    answer = visitor.client.get("/positive/nowhere")
    assert answer.status_code == 409
    assert "Send the mesh again" in answer.get_data(as_text=True)


class TestBodies:
    """What waitress takes in before any page is asked."""

    @staticmethod
    def head(parser, path, length, method="POST"):
        from waitress.adjustments import Adjustments

        reading = parser(Adjustments(max_request_body_size=1000))
        reading.received(f"{method} {path} HTTP/1.1\r\nHost: x\r\nContent-Length: {length}\r\n\r\n".encode())
        return reading

    def test_only_the_named_address_may_bring_much(self):
        parser = roomy_parser({"/positive": 5000})
        assert self.head(parser, "/positive", 4000).error is None
        assert self.head(parser, "/positive?x=1", 4000).error is None
        for path, length, method in (("/new", 4000, "POST"), ("/positive", 6000, "POST"), ("/positive", 4000, "PUT")):
            assert self.head(parser, path, length, method).error.code == 413
        assert self.head(parser, "/new", 900).error is None

    def test_only_so_many_at_a_time_and_the_place_is_free_again(self):
        parser = roomy_parser({"/positive": 5000}, at_once=2)
        held = [self.head(parser, "/positive", 4000) for _ in range(2)]
        refused = self.head(parser, "/positive", 4000)
        assert (refused.error.code, refused.completed) == (503, True)
        assert self.head(parser, "/positive", 10).error is None
        held.pop()
        gc.collect()
        assert self.head(parser, "/positive", 4000).error is None
        assert len(held) == 1

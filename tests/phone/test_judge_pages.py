"""The pages and the API of judging, at a whole station, as its record grows from test to test.

What is sent comes into the record, what cannot be is refused.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from station import app as composition
from station.core.judging_events import Verdict
from station.part_records import PartRecord
from station.phone.app import Web, create_app
from tests.phone.judged_part import station_with_parts
from tests.system.whole import Whole

OURS = {"Origin": "http://localhost"}
TOKEN = "the token of the page"
Send = Callable[..., TestResponse]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Whole, Web, Flask]]:
    seen: list[tuple[Web, Flask]] = []

    def caught(web: Web) -> Flask:
        seen.append((web, create_app(web)))
        return seen[-1][1]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(composition, "create_app", caught)
        with station_with_parts(tmp_path_factory.mktemp("state")) as station:
            yield station, *seen[0]


@pytest.fixture
def client(made: tuple[Whole, Web, Flask]) -> FlaskClient:
    _, web, app = made
    client = app.test_client()
    web.door.ask()
    with client.session_transaction("/") as session:
        session["token"] = TOKEN
        session["pairing"] = web.door.open(web.door.waiting(), "test phone")
    return client


@pytest.fixture
def send(client: FlaskClient) -> Send:
    return lambda number, **form: client.post(
        f"/judge/{number}", data={"token": TOKEN, **{k.replace("_", "-"): v for k, v in form.items()}}, headers=OURS
    )


@pytest.fixture
def part(made: tuple[Whole, Web, Flask]) -> Callable[[int], PartRecord]:
    def of(number: int) -> PartRecord:
        record = made[1].log.record(number)
        assert record is not None
        assert record.part is not None
        return record.part

    return of


def test_what_waits_is_listed_and_the_judged_one_is_not(client: FlaskClient) -> None:
    page = client.get("/judge").get_data(as_text=True)
    assert re.findall(r'href="/judge/(\d+)"><b>\d+ Paddle grip</b><br>', page) == ["2"]


def test_a_judged_part_is_shown_with_its_rules_and_with_every_word_said(client: FlaskClient) -> None:
    for place in ("/judge/1", "/log/1"):
        page = re.sub(r"<[^>]+>", " ", client.get(place).get_data(as_text=True))
        assert "usable; bubbles (slight), under the rim; flash (clear)" in page
        assert "28 Shore A (median of 3 readings: 27.5 to 29)" in page
        assert "(200 − 199.2) / 200 = 0.40 %" in page
        assert "weighs 214.0 g, as it came out" in page
        assert "208.5 g, trimmed" in page


def test_the_record_as_text_and_as_json_tells_it_too(made: tuple[Whole, Web, Flask], client: FlaskClient) -> None:
    log = made[1].log
    record = log.record(1)
    assert record is not None
    text = log.text(record)
    assert "usable; bubbles (slight), under the rim; flash (clear)" in text
    assert "(page (test phone))" in text
    plain = client.get("/log/1.json").get_json()["part"]
    assert plain["mass"] == 208500
    assert plain["defects"][0] == {"kind": "bubbles", "severity": "slight", "place": "under the rim"}
    series = {"scale": "Shore A", "since_demold_s": 600.0, "median": 28.0, "low": 27.5, "high": 29.0, "count": 3}
    assert plain["hardness"] == [series]


def test_one_form_keeps_all_of_it_and_again_changes_nothing(send: Send, part: Callable[[int], PartRecord]) -> None:
    form = {"save": "all", "verdict": "GOOD", "mass": "209,5", "trimmed": "yes", "scale": "SHORE_A", "value_1": "28"}
    answer = send(2, **form)
    assert (answer.status_code, answer.headers["Location"]) == (303, "/judge/2#known")
    found = part(2)
    assert (found.verdict, found.trimmed, found.waits) == (Verdict.GOOD, True, False)
    assert found.mass is not None
    assert found.mass.g == 209.5
    assert [one.value for one in found.readings] == [28.0]
    assert send(2, save="verdict", verdict="GOOD").status_code == 303
    assert len(part(2).told) == len(found.told)


def test_a_wrong_field_is_told_at_its_place_keeps_what_was_typed_and_saves_nothing(
    send: Send, part: Callable[[int], PartRecord]
) -> None:
    before = part(1)
    answer = send(1, save="all", mass="heavy", verdict="SCRAP", scale="", value_1="28", note="fell <b>open</b>")
    page = answer.get_data(as_text=True)
    assert answer.status_code == 409
    assert 'id="mass-slip"' in page
    assert 'id="scale-slip"' in page
    assert 'value="heavy"' in page
    assert "fell &lt;b&gt;open&lt;/b&gt;" in page
    assert part(1) == before


@pytest.mark.parametrize(
    ("form", "words"),
    [
        ({"save": "hardness", "scale": "SHORE_A", "value_1": "101"}, "0 to 100"),
        ({"save": "lengths", "mold_mm": "200"}, "Both lengths"),
        ({"save": "lengths", "mold_mm": "200", "part_mm": "20"}, "more than any of these materials"),
        ({"save": "mass", "mass": "0"}, "cannot weigh"),
        ({"save": "verdict", "FLASH-0": "CLEAR"}, "what the part is worth"),
        ({"save": "all"}, "Nothing was filled in"),
        ({"back": "reading 99"}, "taken back already"),
        ({"back": "nothing at all"}, "nothing of that kind"),
        ({"waive": "yes", "reason": ""}, "why nobody will judge"),
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence(
    send: Send, part: Callable[[int], PartRecord], form: dict[str, str], words: str
) -> None:
    before = part(1)
    answer = send(1, **form)
    assert answer.status_code == 409
    assert words in answer.get_data(as_text=True)
    assert part(1) == before


def test_a_part_in_its_mold_cannot_be_judged(send: Send, client: FlaskClient) -> None:
    assert "still in the mold" in client.get("/judge/3").get_data(as_text=True)
    assert send(3, save="verdict", verdict="GOOD").status_code == 409


def test_what_is_taken_back_counts_no_longer_and_stays_in_the_record(
    send: Send, part: Callable[[int], PartRecord]
) -> None:
    reading = part(1).readings[-1].reading
    for back in (f"reading {reading}", "lengths along", "mass", "verdict"):
        assert send(1, back=back).status_code == 303
    found = part(1)
    assert (found.mass, found.verdict, found.lengths, found.waits) == (None, None, (), True)
    assert reading not in [one.reading for one in found.readings]
    assert "judged: usable" in " ".join(one.words for one in found.told)
    assert send(1, back="mass").status_code == 409


def test_a_program_says_it_by_the_api(client: FlaskClient, part: Callable[[int], PartRecord]) -> None:
    def ask(body: object) -> TestResponse:
        headers = {**OURS, "X-Tarebell-Token": TOKEN}
        return client.post("/api/judge", json=body, headers=headers)

    lengths = [{"mold_mm": 80, "part_mm": 79.5, "place": "across"}]
    defects = [{"kind": "TEAR", "severity": "SPOILT", "place": "heel"}, {"kind": "TEAR", "severity": "SLIGHT"}]
    said = {"number": 1, "mass_mg": 208000, "lengths": lengths, "verdict": {"worth": "SCRAP", "defects": defects}}
    assert ask(said).get_json() == {"cast": 1}
    found = part(1)
    assert found.verdict is Verdict.SCRAP
    assert [one.place for one in found.defects] == ["heel", ""]
    for nonsense in (
        {"number": 1},
        {"number": 1, "verdict": {"worth": "FINE"}},
        {"number": 1, "mass_mg": 1.5},
        {"number": 1, "verdict": "GOOD"},
    ):
        assert ask(nonsense).status_code == 400
    assert ask({"number": 3, "verdict": {"worth": "GOOD"}}).status_code == 409


def test_the_log_is_narrowed_by_verdict_and_by_defect(client: FlaskClient, send: Send) -> None:
    def found(query: str) -> list[str]:
        page = client.get(f"/log?{query}").get_data(as_text=True)
        return re.findall(r'<a class="num" href="/log/(\d+)">', page)

    assert send(1, save="verdict", verdict="USABLE", **{"FLASH-0": "SLIGHT"}).status_code == 303
    assert send(2, back="verdict").status_code in (303, 409)
    assert found("verdict=usable") == ["1"]
    assert found("defect=flash") == ["1"]
    assert found("defect=sink") == []
    assert found("verdict=none") == ["2"]
    assert client.get("/log?verdict=fine").status_code == 400


def test_an_unpaired_phone_looks_and_may_not_judge(made: tuple[Whole, Web, Flask]) -> None:
    stranger = made[2].test_client()
    with stranger.session_transaction("/") as session:
        session["token"] = TOKEN
    assert '<form class="judge"' not in stranger.get("/judge/2").get_data(as_text=True)
    answer = stranger.post("/judge/2", data={"token": TOKEN, "save": "verdict", "verdict": "GOOD"}, headers=OURS)
    assert answer.status_code == 403

"""Every address of a whole station, straight from its map: what it refuses, what it never does, what it always says."""

from collections.abc import Iterator

import pytest
from flask.testing import FlaskClient

from station.config import Look
from station.phone.guard import ALWAYS_SHOWN, UNPAIRED_MAY_ACT
from station.phone.limits import RATES
from tests.phone.whole_map import NONSENSE, OURS, TOKEN, Map, places, query_names, whole_map

FOREIGN = [
    {"Origin": "http://elsewhere.example"},
    {"Origin": "https://localhost:8443"},
    {"Origin": "null"},
    {},
    {"Referer": "http://elsewhere.example/http://localhost/"},
    {"Host": "elsewhere.example", "Origin": "http://elsewhere.example"},
]
HEADERS = {"X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY", "Referrer-Policy": "same-origin"}


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Map]:
    with whole_map(tmp_path_factory.mktemp("state")) as opened:
        yield opened


def acting(shop: Map) -> list[tuple[str, str, str]]:
    """Endpoint, method and address of everything that acts."""
    return [
        (rule.endpoint, method, places(rule)[0])
        for rule in shop.rules(acting=True)
        for method in sorted((rule.methods or set()) - {"GET", "HEAD", "OPTIONS"})
    ]


def seen(client: FlaskClient, place: str, query: dict[str, str] | None = None, method: str = "GET"):
    """Status, headers and text of an answer; of a stream only how it begins."""
    answer = client.open(place, method=method, query_string=query or {})
    text = "" if answer.mimetype == "text/event-stream" else answer.get_data(as_text=True)
    answer.close()
    return answer.status_code, answer.headers, text


def rested(shop: Map) -> None:
    """Time goes by, so that nobody meets the limits."""
    shop.web.clock.advance(3600)  # type: ignore[attr-defined]


def test_the_map_is_as_large_as_it_should_be(shop):
    assert len(shop.rules()) >= 25
    assert len(acting(shop)) >= 25
    assert {method for _, method, _ in acting(shop)} == {"POST"}


def test_every_name_that_guard_and_limits_speak_of_is_an_address(shop):
    known = {rule.endpoint for rule in shop.rules()} | {endpoint for endpoint, _, _ in acting(shop)}
    assert ALWAYS_SHOWN | UNPAIRED_MAY_ACT | RATES.keys() <= known


def test_everything_that_acts_refuses_foreign_sites_missing_tokens_and_foreign_names_and_then_nothing_was_done(shop):
    client = shop.client(paired=True)
    rested(shop)
    before, allowed = shop.traces(), []
    for endpoint, method, place in acting(shop):
        for headers in FOREIGN:
            answer = client.open(place, method=method, data={"token": TOKEN}, headers=headers)
            allowed += [(endpoint, headers)] if answer.status_code != 403 else []
        for form in ({}, {"token": ""}, {"token": "guessed"}, {"token": "ünicode"}):
            answer = client.open(place, method=method, data=form, headers=OURS)
            allowed += [(endpoint, form)] if answer.status_code != 403 else []
        answer = client.open(place, method=method, json={"token": TOKEN}, headers=OURS)
        allowed += [(endpoint, "the token in JSON")] if answer.status_code != 403 else []
    assert allowed == []
    assert shop.traces() == before


def test_everything_that_acts_but_pairing_refuses_a_device_that_is_not_paired_and_then_nothing_was_done(shop):
    before, allowed = shop.traces(), []
    for look in Look:
        strangers = [shop.client(look), shop.client(look)]
        with strangers[1].session_transaction("/") as session:
            session["pairing"] = "guessed"
        for endpoint, method, place in acting(shop):
            for client in strangers:
                if endpoint in UNPAIRED_MAY_ACT:
                    continue
                answer = client.open(place, method=method, data={"token": TOKEN}, headers=OURS)
                allowed += [endpoint] if answer.status_code != 403 else []
                assert "Pair it with the code" in answer.get_data(as_text=True)
    assert allowed == []
    assert shop.traces() == before


def test_what_is_refused_above_is_let_through_to_a_paired_device_on_our_own_page(shop):
    for endpoint, method, place in acting(shop):
        rested(shop)
        client = shop.client(paired=True)
        answer = client.open(place, method=method, data={"token": TOKEN}, headers=OURS)
        assert answer.status_code != 403, endpoint
        assert answer.status_code < 500, endpoint
        answer.close()


def test_no_body_is_too_large_to_be_refused(shop):
    client = shop.client(paired=True)
    long = "x" * 40_000
    for endpoint, method, place in acting(shop):
        if endpoint in ("positive.take", "photos.add", "judging.keep"):
            # It says how long it is before it comes: nobody waits for so much.
            said = {"CONTENT_LENGTH": "99000000", "CONTENT_TYPE": "multipart/form-data; boundary=b"}
            answer = client.open(place, method=method, headers=OURS, environ_overrides=said)
            assert answer.status_code == 413
            continue
        for kind in ("application/x-www-form-urlencoded", "multipart/form-data"):
            answer = client.open(
                place, method=method, data={"token": TOKEN, "text": long}, content_type=kind, headers=OURS
            )
            assert (endpoint, answer.status_code) == (endpoint, 413)
        if place.startswith("/api/"):
            sent = {"json": {"text": long}, "headers": OURS | {"X-Tarebell-Token": TOKEN}}
            assert client.open(place, method=method, **sent).status_code == 413


def test_looking_anywhere_with_any_nonsense_does_nothing_and_is_never_a_fault_of_ours(shop):
    names = query_names()
    visitors = [shop.client(), shop.client(paired=True)]
    before, wrong = shop.traces(), []
    for rule in shop.rules():
        for place in (*places(rule), *(places(rule, NONSENSE) if rule.arguments else ())):
            for client in visitors:
                rested(shop)
                status, _, _ = seen(client, place)
                wrong += [(place, status)] if status >= 500 else []
        for value in NONSENSE:
            status, _, text = seen(visitors[1], places(rule)[0], dict.fromkeys(names, value))
            wrong += [(rule.rule, value, status)] if status >= 500 or "<script>alert(1)" in text else []
    assert wrong == []
    after = shop.traces()
    assert after == before


def test_nothing_answers_to_a_foreign_name(shop):
    client = shop.client(paired=True)
    everything = [place for rule in (*shop.rules(), *shop.rules(acting=True)) for place in places(rule)]
    for place in everything:
        answer = client.get(place, headers={"Host": "rebound.example"})
        assert answer.status_code == 403, place
        assert "does not answer to the name" in answer.get_data(as_text=True)


def test_every_answer_forbids_foreign_content_frames_and_guesses(shop):
    client = shop.client(paired=True)
    answers = [(place, seen(client, place)) for rule in shop.rules() for place in places(rule)]
    rested(shop)
    answers += [("404", seen(client, "/nothing")), ("405", seen(client, "/api/press"))]
    answers += [(place, seen(client, place, method=method)) for _, method, place in acting(shop)]
    answers += [(place, seen(client, place, method="OPTIONS")) for _, _, place in acting(shop)]
    for place, (_, headers, _) in answers:
        policy = headers["Content-Security-Policy"]
        assert policy.startswith(("default-src 'self';", "default-src 'none';")), place
        assert "script" not in policy, place
        assert {name: headers[name] for name in HEADERS} == HEADERS, place
        assert "Access-Control-Allow-Origin" not in headers, place
        assert place.startswith("/static/") or headers["Cache-Control"] == "no-store", place


def test_a_station_that_only_paired_devices_may_look_at_shows_others_nothing_but_the_door(shop):
    stranger, phone = shop.client(Look.PAIRED), shop.client(Look.PAIRED, paired=True)
    for rule in shop.rules():
        for place in places(rule):
            rested(shop)
            status, _, text = seen(stranger, place)
            if rule.endpoint in ALWAYS_SHOWN:
                assert status in ((404,) if rule.endpoint == "calendar.feed" else (200, 302)), place
            elif place.startswith("/api/"):
                assert (status, text.strip()) == (
                    403,
                    '{"refused":"This station is locked. Pair it with the code that the station shows at the bench."}',
                ), place
            else:
                assert status == 403, place
                assert "<h1>This station is locked</h1>" in text, place
            if rule.endpoint != "static":
                assert len(text) < 6000, place
                assert not any(word in text for word in ('class="chip"', "<nav>", 'class="alarm"', "live.js")), place
            assert seen(phone, place)[0] != 403, place
    assert seen(stranger, "/nothing")[0] == 403
    assert seen(phone, "/nothing")[0] == 404


def test_a_station_that_anybody_may_look_at_hides_only_what_concerns_the_door(shop):
    stranger = shop.client()
    rested(shop)
    hidden = {rule.endpoint for rule in shop.rules() for place in places(rule) if seen(stranger, place)[0] == 403}
    assert hidden == {"door.devices"}

"""What a station answers to whatever is sent to it goes through the catalogue: refusals, wrong fields, errors."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from flask.testing import FlaskClient

from tests.phone.whole_map import OURS, TOKEN, Map, places, whole_map
from tests.words.speaking import Marked, spoken
from tests.words.test_pages_said import TOLD
from tests.words.unsaid import names, unsaid

TYPED = ("", "nonsense 7", "1", "2000-01-01 00:00")
"""What is sent in every field that any form of the station has, one after the other."""


@dataclass
class Sender:
    """A paired device that pairs anew when what it sends has ended its pairing."""

    shop: Map
    client: FlaskClient

    def send(self, place: str, sent: dict[str, str]) -> str:
        """What the answer says where it does not do what was asked; nothing else."""
        for _ in range(2):
            self.shop.web.clock.advance(3600)  # type: ignore[attr-defined]
            if place.startswith("/api/"):
                answer = self.client.post(place, json=sent, headers=OURS | {"X-Tarebell-Token": TOKEN})
            else:
                answer = self.client.post(place, data={"token": TOKEN} | sent, headers=OURS)
            if answer.status_code != 403:
                break
            self.client = self.shop.client(paired=True)
        assert answer.status_code < 500, place
        if answer.status_code < 400:
            return ""
        return " ".join(map(str, answer.get_json().values())) if answer.is_json else answer.get_data(as_text=True)


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Map]:
    with spoken(Marked()), whole_map(tmp_path_factory.mktemp("shop")) as found:
        yield found


def fields(client: FlaskClient, shop: Map) -> set[str]:
    """The names of the fields of every form that acts."""
    found: set[str] = set()
    for rule in shop.rules():
        if rule.endpoint in ("static", "api.stream"):
            continue
        page = client.get(places(rule)[0]).get_data(as_text=True) if rule.endpoint.count(".") else ""
        for form in re.findall(r"<form[^>]*method=.post.*?</form>", page, re.DOTALL):
            found |= set(re.findall(r'name="([^"]+)"', form))
    return found - {"token"}


def test_every_refusal_of_what_acts_is_said_through_the_catalogue(shop):
    sender = Sender(shop, shop.client(paired=True))
    known = names([shop.web.station, *TOLD, *TYPED[1:], "nonsense"])
    named = fields(sender.client, shop)
    assert len(named) > 30
    answers: dict[str, str] = {}
    for rule in shop.rules(acting=True):
        for place in places(rule):
            for text in TYPED:
                said = sender.send(place, dict.fromkeys(named, text) if text else {})
                answers[rule.rule] = answers.get(rule.rule, "") + said
    assert len([rule for rule, said in answers.items() if said]) > 20
    # A key of a sheet stays as it is written there.
    told = {rule: re.sub(r"\w+ = (?=\[?(&#39;|'))", "", said) for rule, said in answers.items()}
    left = {rule: sorted(set(unsaid(said, known))) for rule, said in told.items()}
    assert {rule: words for rule, words in left.items() if words} == {}


def test_what_keeps_a_visitor_out_is_said_through_the_catalogue(shop):
    known = names([shop.web.station, *TOLD])
    stranger = shop.client()
    seen = [
        stranger.get("/no-such-page"),
        stranger.get("/", headers={"Host": "elsewhere.example"}),
        shop.client(paired=True).post("/log", data={"token": TOKEN}, headers=OURS),
        stranger.post("/pause", data={"token": TOKEN}, headers=OURS),
        stranger.post("/pause", data={"token": TOKEN}, headers={"Origin": "http://elsewhere.example"}),
        stranger.post("/pause", data={"token": "x" * 40_000}, headers=OURS),
    ]
    assert [answer.status_code for answer in seen] == [404, 403, 405, 403, 403, 413]
    assert [words for answer in seen for words in unsaid(answer.get_data(as_text=True), known)] == []

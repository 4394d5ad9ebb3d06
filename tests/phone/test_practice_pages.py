"""The page of pouring: without a cast one practises with water; what was learned is told in words, and forgotten."""

from __future__ import annotations

from dataclasses import replace

import pytest

from station.core.mass import Mass
from station.core.material import ScaleCard
from station.core.pouring_events import PourLearned
from station.core.pouring_messages import BeginPractice, EndPractice, ForgetPours
from station.core.practice_state import Practice
from station.phone.practice_view import learned_rows
from station.phone.wire_practice import misses, progress
from tests.phone.shown import FREE, QUIET, G, opened_station

CARD = ScaleCard(Mass.grams("0.1"), Mass.grams(3000))


def learned(ingredient: str = "A", material: str = "silicone", came: float = 1.3, early: bool = False) -> PourLearned:
    return PourLearned(material, ingredient, G("0.1"), 0.5, G("200.0"), 1.2, came, early, 15.0)


PRACTICE = Practice(G("50.0"), G("49.0"), G("51.0"), 5, CARD, "phone", G("30.0"), (G("50.4"), G("51.6")))


def test_what_was_learned_is_told_in_words_for_each_liquid_and_scale() -> None:
    rows = learned_rows((*[learned(came=1.4)] * 5, learned("", "")), {"silicone": "Silicone 10:1"})
    assert [row.title for row in rows] == ["Water", "A of Silicone 10:1"]
    assert learned_rows((learned(),), {})[0].title == "A of silicone"
    text = " ".join(rows[1].sentences)
    assert "Learned from 5 pours." in text
    assert "1.1 s" in text
    assert "guess" not in text
    assert "guess" in " ".join(rows[0].sentences)
    assert learned_rows((), {}) == []


def test_a_stream_that_stays_fast_is_said() -> None:
    assert "still fast" in " ".join(learned_rows((learned(early=True),), {})[0].sentences)
    assert "still fast" not in " ".join(learned_rows((learned(),), {})[0].sentences)


def test_each_pour_of_a_practice_is_told_with_how_far_it_was_off() -> None:
    assert misses(PRACTICE) == [(1, "50.4 g", "+0.4 g", "in the band"), (2, "51.6 g", "+1.6 g", "too much")]
    assert progress(PRACTICE) == ""
    more = replace(PRACTICE, done=tuple(G(m) for m in ("52.0", "51.0", "50.2", "49.8", "50.2")))
    assert progress(more) == "Off by 1.5 g at first, by 0.2 g lately."


@pytest.fixture
def shop():
    with opened_station() as station:
        yield station


def test_anybody_may_look_and_only_paired_devices_begin(shop):
    shop.board.post(FREE)
    page = shop.client().get("/practice").text
    assert "Nothing yet" in page
    assert "pair this device" in page
    assert "Begin to practise" in shop.paired().look("/practice")
    assert shop.client().post("/practice/begin", data={"target": "50", "percent": "2", "times": "5"}).status_code == 403
    assert 'href="/practice"' in shop.client().get("/work").text


def test_a_practice_is_asked_of_the_bench_and_ended(shop):
    answer = shop.paired().send("/practice/begin", target="62,4", percent="1", times="5")
    assert answer.status_code == 303
    shop.paired().send("/practice/end")
    begin, end = shop.asked.commands
    assert isinstance(begin, BeginPractice)
    assert (begin.target, begin.percent, begin.times, begin.card) == (G("62.4"), 1.0, 5, CARD)
    assert isinstance(end, EndPractice)


@pytest.mark.parametrize(
    ("form", "says"),
    [
        ({"target": "", "percent": "2", "times": "5"}, "how much water"),
        ({"target": "lots", "percent": "2", "times": "5"}, "lots"),
        ({"target": "50", "percent": "much", "times": "5"}, "how near, in %: &#39;much&#39; is no number"),
        ({"target": "50", "percent": "2", "times": "nan"}, "no number"),
        ({"target": "50", "percent": "2", "times": ""}, "how often"),
    ],
)
def test_nonsense_is_told_and_nothing_begins(shop, form, says):
    answer = shop.paired().send("/practice/begin", **form)
    assert answer.status_code == 409
    assert says in answer.text
    assert shop.asked.commands == []


def test_a_running_practice_shows_its_pours_and_comes_again_without_a_script(shop):
    shop.board.post(replace(FREE, practice=PRACTICE, pours=(learned(),)))
    page = shop.paired().look("/practice")
    assert "Pour 3 of 5: 50.0 g of water" in page
    assert "+1.6 g" in page
    assert "too much" in page
    assert 'http-equiv="refresh"' in page
    assert "A of silicone" in page
    shop.board.post(replace(FREE, seq=2, practice=replace(PRACTICE, done=(G("50.0"),) * 5)))
    done = shop.paired().look("/practice")
    assert "Those were all the pours." in done
    assert 'http-equiv="refresh"' not in done
    assert 'data-show="bench" hidden' in done


def test_beside_a_cast_nothing_is_practised(shop):
    shop.board.post(QUIET)
    page = shop.paired().look("/practice")
    assert "A cast is at the bench" in page
    assert 'data-show="may_practise" hidden' in page
    assert 'data-show="bench" hidden' not in page


def test_what_was_learned_is_forgotten_one_by_one_or_all_at_once(shop):
    shop.paired().send("/practice/forget", material="silicone", ingredient="A")
    shop.paired().send("/practice/forget", everything="1")
    one, all_of_it = shop.asked.commands
    assert isinstance(one, ForgetPours)
    assert (one.material, one.ingredient, one.everything) == ("silicone", "A", False)
    assert all_of_it.everything

"""The whole demo in another language: nothing on the way to a demolded part hangs on English words."""

import pytest

from station.demo import Script, run_demo
from station.languages import begin_to_speak


@pytest.fixture(autouse=True)
def _english_again():
    yield
    begin_to_speak("en")


def test_both_casts_come_out_of_their_molds_in_german():
    said: list[str] = []
    run_demo(Script(speed=0, once=True, web_port=0, language="de"), said.append)
    told = "\n".join(said)
    assert "Guss 1, Paddle grip: bereit zum Entformen." in told
    assert "Guss 2, Kayak seat pad: bereit zum Entformen." in told
    assert "199,2 g" in told

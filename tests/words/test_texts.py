"""Texts are said in the station's language, and English needs no catalogue."""

import pytest

from station.errors import SettingsError
from station.languages import begin_to_speak, languages
from station.texts import decimal, language, number, t, tc, tn
from tests.words.speaking import Marked, spoken


@pytest.fixture(autouse=True)
def _english_again():
    yield
    begin_to_speak("en")


def test_english_is_said_as_it_is_written():
    assert t("{left} to go.", left="3.2 g") == "3.2 g to go."
    assert [tn("{n} cast", "{n} casts", n) for n in (1, 2)] == ["1 cast", "2 casts"]
    assert decimal("3.2") == "3.2"
    assert number(12345.5, ",.1f") == "12,345.5"


def test_another_language_is_said_with_its_own_decimal_mark():
    begin_to_speak("de")
    assert language() == "de"
    assert decimal("3.2 g") == "3,2 g"
    assert number(12345.5, ",.1f") == "12\u202f345,5"


def test_an_empty_text_is_not_the_catalogues_description_of_itself():
    begin_to_speak("de")
    assert t("") == ""


def test_a_text_that_no_catalogue_knows_is_said_in_english():
    begin_to_speak("de")
    assert t("a text of nobody, {name}", name="x") == "a text of nobody, x"


def test_an_unknown_language_is_refused_with_those_there_are():
    with pytest.raises(SettingsError, match=r"must be one of en, de"):
        begin_to_speak("xx")
    assert {"en", "de"} <= set(languages())


def test_every_way_of_saying_goes_through_the_catalogue():
    with spoken(Marked()):
        assert t("{a} g", a=1) == "⟦1 g⟧"
        assert tn("{n} cast", "{n} casts", 2) == "⟦2 casts⟧"
        assert tc("step", "Mix") == "⟦Mix⟧"

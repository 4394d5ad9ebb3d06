"""`tarebell reckon` and `tarebell positive` say their words through the catalogue; options and choices stay keys."""

from dataclasses import replace

import pytest
from click.testing import CliRunner

from station.languages import begin_to_speak
from station.positive_cli import as_text
from station.reckon_cli import reckon
from station.worksheets.catalogue import chapters, every
from tests.phone.test_positive_pages import PART
from tests.words.answers import unsaid_in
from tests.words.speaking import Marked, spoken


@pytest.fixture(autouse=True)
def _english_again():
    yield
    begin_to_speak("en")


def ran(*words):
    return CliRunner().invoke(reckon, words)


def test_the_help_of_every_worksheet_is_said():
    with spoken(Marked()):
        commands = [reckon.get_command(None, sheet.key) for sheet in every(chapters())]
        told = [text for one in commands for text in (one.help, *(option.help for option in one.params))]
    assert len(told) > 200
    assert unsaid_in(told) == []


def test_an_answer_and_a_slip_are_said():
    typed = ("--cavity", "500 ml", "--free-rise", "80", "--packing", "1.2", "--ratio", "2:1")
    with spoken(Marked()):
        answer, slip = ran("foam", *typed), ran("foam", "--cavity", "much")
        unknown = ran("kits", "--from-material", "none", "--need", "A 1 g")
    assert (answer.exit_code, slip.exit_code, unknown.exit_code) == (0, 1, 1)
    assert unsaid_in(answer.output.splitlines()) == []
    told = [line.partition(": ")[2] for line in slip.output.splitlines()]
    assert len(told) == 2
    assert unsaid_in(told, ["much"]) == []
    assert unsaid_in(unknown.output.splitlines()) == []


def test_choices_are_typed_as_keys_in_any_language():
    begin_to_speak("de")
    typed = ("--ratio", "1:1", "--mass", "100,5 g", "--densities", "1,06:0,98")
    assert ran("batch", *typed, "--basis", "by volume").exit_code == 0
    refused = ran("batch", *typed, "--basis", "nach Volumen")
    assert refused.exit_code == 1
    assert "by weight, by volume" in refused.output


def test_a_positive_at_the_command_line_is_said():
    with spoken(Marked()):
        told = as_text(replace(PART, closed=False, turned=2, bodies=2, mirrored=True)).splitlines()
    assert len(told) > 6
    assert unsaid_in(told, ["binary STL", PART.unit_why, "cm²"]) == []


def test_facets_are_counted_as_the_language_counts():
    assert "1,234 facets" in as_text(PART)
    begin_to_speak("de")
    assert "1\u202f234 Facetten" in as_text(PART)

"""Card and wiring on the page Station, and as commands: made from the settings, with what is wrong with the pins."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from click.testing import CliRunner

from station.cli import main
from station.config import ClimateSettings, ScaleSettings, Settings, SignalSettings
from station.overview.bench_parts import signals_part
from station.overview.papers import card_paper, wiring_paper, wrong_pins
from station.phone.station_view import Fare, Part
from tests.phone.small_overview import overview

SETTINGS = Settings("Wrenfield Works", Path("/nowhere"), ScaleSettings("found", ""))
WELL = Part("Scale", Fare.WELL, "It is read.", "/scale")


@pytest.mark.parametrize(("name", "says"), [("card", "pour slowly"), ("wiring", "pin 11, GPIO 17")])
def test_each_paper_is_a_page_with_a_file_to_print(name, says):
    with overview({"Scale": WELL}) as shop:
        client = shop.station.client()
        page = client.get(f"/station/{name}").text
        assert says in page
        assert f'href="/station/{name}.svg"' in page
        file = client.get(f"/station/{name}.svg")
        assert file.mimetype == "image/svg+xml"
        root = ET.fromstring(file.text)
        assert {root.get("width"), root.get("height")} == {"210mm", "297mm"}
        assert f'href="/station/{name}"' in client.get("/station").text


def test_a_paper_warns_of_pins_and_without_a_drawing_says_why():
    high = replace(SETTINGS, signals=SignalSettings(buzzer=6))
    assert "is pulled up while the Pi starts" in wiring_paper(high).warnings[0]
    assert wiring_paper(high).drawing is not None
    clash = replace(SETTINGS, signals=SignalSettings(button=4), climate=ClimateSettings("28-0316a2795cff"))
    paper = wiring_paper(clash)
    assert paper.drawing is None
    assert "more than one part" in paper.warnings[0]
    assert card_paper(SETTINGS).warnings == ()


def test_badly_chosen_pins_need_a_look_and_lead_to_the_wiring():
    assert wrong_pins(SETTINGS) == ()
    wrong = wrong_pins(replace(SETTINGS, signals=SignalSettings(lamp_ready=2)))
    part = signals_part(SignalSettings(lamp_ready=2), "", False, wrong)
    assert (part.fare, part.page) == (Fare.LOOK, "/station/wiring")
    assert "GPIO 2 (pin 3) is pulled up" in part.words
    assert signals_part(SignalSettings(), "", False).fare is Fare.WELL


@pytest.fixture
def config(tmp_path: Path) -> Path:
    file = tmp_path / "station.toml"
    file.write_text('state_dir = "."\n[scale]\nport = "found"\n[signals]\nspeech = false\n')
    return file


def test_the_command_prints_the_wires_and_writes_the_drawing(config, tmp_path):
    done = CliRunner().invoke(main, ["wiring", "--config", str(config), "--drawing", str(tmp_path / "w.svg")])
    assert done.exit_code == 0, done.output
    assert " 11  GPIO 17  buzzer" in done.output
    assert ET.parse(tmp_path / "w.svg").getroot().get("width") == "297mm"


def test_the_command_ends_with_1_and_a_sentence_when_a_pin_is_badly_chosen(config):
    config.write_text(config.read_text() + "buzzer = 14\n")
    done = CliRunner().invoke(main, ["wiring", "--config", str(config)])
    assert done.exit_code == 1
    assert "buzzer: GPIO 14 (pin 8) may belong to the serial console" in done.output


def test_the_command_prints_the_card_and_writes_it(config, tmp_path):
    done = CliRunner().invoke(main, ["card", "--config", str(config), "--page", str(tmp_path / "c.svg")])
    assert done.exit_code == 0, done.output
    assert "▬           1 long: in the window: stop pouring" in done.output
    assert ET.parse(tmp_path / "c.svg").getroot().get("height") == "297mm"


@pytest.mark.parametrize(("command", "option"), [("wiring", "--drawing"), ("card", "--page")])
def test_a_place_that_cannot_be_written_is_told_in_a_sentence(config, tmp_path, command, option):
    done = CliRunner().invoke(main, [command, "--config", str(config), option, str(tmp_path / "nowhere" / "x.svg")])
    assert done.exit_code == 1
    assert "x.svg cannot be written: No such file or directory. Choose another place." in done.output
    assert "Traceback" not in done.output


def test_check_settings_says_what_is_wrong_with_the_pins(config):
    config.write_text(
        config.read_text().replace('"found"', '"/dev/null"\nfamily = "status-commas"') + "lamp_busy = 3\n"
    )
    done = CliRunner().invoke(main, ["check-settings", "--config", str(config)])
    assert done.exit_code == 0, done.output
    assert 'lamp "a clock runs": GPIO 3 (pin 5) is pulled up' in done.output

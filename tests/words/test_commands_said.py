"""Commands speak the language of the settings, and say every word of their own through the catalogue."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from station.cli import main
from station.core.cues import Cue
from station.core.effects import Say
from station.languages import begin_to_speak, begin_to_speak_as_set
from station.simulated.account import told
from station.store.ledger import SqlLedger
from station.texts import language
from tests.play import DAY, GRIP, SILICONE, Play
from tests.words.speaking import BEGIN, Marked, spoken
from tests.words.unsaid import names, unsaid

SETTINGS = 'name = "Bench"\nlanguage = "{language}"\nstate_dir = "state"\n[scale]\nport = "found"\n{more}'
COMMANDS = (
    ("casts",),
    ("casts", "--search", "nothing"),
    ("record", "7"),
    ("check-settings",),
    ("climate",),
    ("address",),
    ("benches", "now"),
    ("scale", "find", "socket://"),
    ("scale", "check"),
    ("scale", "checks"),
)
WITHOUT_SETTINGS = (
    ("material", "show", "nothing"),
    ("material", "show", "example-foam"),
    ("material", "check", "station/examples"),
    ("scale", "decode", "/dev/null"),
    ("scale", "decode", "--family", "nothing", "/dev/null"),
)
DATA = (
    "Bench",
    SILICONE.title,
    GRIP.title,
    "nothing",
    "example-foam",
    "96 kg/m³",
    "found",
    "socket://host:number",
    "rfc2217://host:number",
)


@pytest.fixture(autouse=True)
def _english_again() -> Iterator[None]:
    yield
    begin_to_speak("en")


@pytest.fixture
def config(tmp_path: Path) -> Path:
    play = Play()
    play.silicone_in_the_mold()
    with SqlLedger(tmp_path / "state") as ledger:
        ledger.write(play.entries)
    place = tmp_path / "station.toml"
    place.write_text(SETTINGS.format(language="en", more=""), encoding="utf-8")
    return place


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def test_a_command_speaks_the_language_of_its_settings(config: Path):
    assert "No scale check was made yet" in run("scale", "checks", "--config", str(config)).output
    config.write_text(SETTINGS.format(language="de", more=""), encoding="utf-8")
    assert "Noch wurde keine Waage geprüft" in run("scale", "checks", "--config", str(config)).output


def test_what_is_wrong_with_the_settings_is_said_in_their_language_too(config: Path):
    config.write_text(SETTINGS.format(language="de", more='last_digit = "7"\n'), encoding="utf-8")
    assert "was eins der letzten Stelle zählt" in run("check-settings", "--config", str(config)).output


def test_the_language_of_settings_is_known_even_when_nothing_else_of_them_can_be_read(config: Path):
    config.write_text('language = "de"\n[scale\n', encoding="utf-8")
    begin_to_speak_as_set(config)
    assert language() == "de"
    for odd in (b'language = "xx"\n', b"language = 7\n", b"\xff\xfe", b""):
        config.write_bytes(odd)
        begin_to_speak_as_set(config)
        assert language() == "en"
    begin_to_speak_as_set(config / "nothing")
    assert language() == "en"


@pytest.mark.parametrize("words", [*COMMANDS, *WITHOUT_SETTINGS], ids=" ".join)
def test_what_a_command_says_goes_through_the_catalogue(
    words: tuple[str, ...], config: Path, monkeypatch: pytest.MonkeyPatch
):
    for where in ("station.cli", "station.terminal"):
        monkeypatch.setattr(f"{where}.begin_to_speak_as_set", lambda _file: None)
    more = [] if words in WITHOUT_SETTINGS else ["--config", str(config)]
    with spoken(Marked()):
        answer = run(*words, *more)
    assert not isinstance(answer.exception, Exception) or isinstance(answer.exception, SystemExit), answer.exception
    said = [line for line in answer.output.splitlines() if line.strip()]
    assert any(BEGIN in line for line in said), answer.output
    known = names([*DATA, *words, str(config), *(str(part) for part in config.parents)])
    assert [left for line in said for left in unsaid(line, known)] == []


def test_the_demo_tells_each_cue_by_a_name_of_its_own():
    play = Play()
    play.wall = DAY
    lines = [told(Say(cue, ""), play.now) for cue in Cue]
    assert [line.split("♪ ")[1].replace(" ", "_").upper() for line in lines] == [cue.name for cue in Cue]

"""Speech: with a program of our own on PATH in the place of the real one."""

from __future__ import annotations

import logging
import os
import select
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from station.signals import speech
from station.signals.speech import Voice, code_words, spoken
from tests.signals.listening import DEADLINE_S


class Mouth:
    """A stand-in for the program: it tells what it was given, and speaks until it is let go."""

    def __init__(self, folder: Path) -> None:
        self._pipes = {}
        for name in ("said", "go"):
            os.mkfifo(folder / name)
            self._pipes[name] = os.open(folder / name, os.O_RDWR | os.O_NONBLOCK)
        self.program = folder / speech.PROGRAM
        self.write(f'words=$(cat)\necho "$* $words" > {folder}/said\nread _ < {folder}/go\n')

    def write(self, script: str) -> None:
        # Replaced whole: a shell that still reads the old one must not meet the new text.
        fresh = self.program.with_suffix(".new")
        fresh.write_text(f"#!/bin/sh\n{script}")
        fresh.chmod(0o755)
        fresh.replace(self.program)

    def said(self) -> str:
        """The next options and words; fails when none come."""
        ready, _, _ = select.select([self._pipes["said"]], [], [], DEADLINE_S)
        assert ready, "nothing was said"
        return os.read(self._pipes["said"], 4096).decode().strip()

    def let_go(self) -> None:
        os.write(self._pipes["go"], b"\n")

    def close(self) -> None:
        for pipe in self._pipes.values():
            os.close(pipe)


@pytest.fixture
def mouth(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Mouth]:
    monkeypatch.setenv("PATH", f"{tmp_path}:{os.environ['PATH']}")
    mouth = Mouth(tmp_path)
    yield mouth
    mouth.close()


@pytest.mark.parametrize(
    ("seen", "said"),
    [
        ("A accepted: 62.4 g.", "A accepted, 62.4 grams."),
        ("Pot life 50 s.", "Pot life 50 seconds."),
        ("Silicone 10:1, 2 % over at 23 °C", "Silicone 10 to 1, 2 per cent over at 23 degrees"),
        ("1.2 kg in 4 h and 20 min", "1.2 kilograms in 4 hours and 20 minutes"),
        ("Cup B", "Cup B"),
    ],
)
def test_units_are_said_as_words_and_numerals_left_to_the_program(seen: str, said: str) -> None:
    assert spoken(seen) == said


def test_where_the_program_is_missing_nothing_is_fitted() -> None:
    assert not Voice("a-program-that-nobody-has").fitted


def test_words_go_to_the_program_as_data_and_never_as_options(mouth: Mouth) -> None:
    with Voice() as voice:
        assert voice.fitted
        voice.say("-w /etc/hosts")
        assert mouth.said() == "-v en --stdin -w /etc/hosts"
        mouth.let_go()


def test_while_it_speaks_only_the_newest_words_wait(mouth: Mouth) -> None:
    with Voice() as voice:
        voice.say("one")
        assert mouth.said() == "-v en --stdin one"
        voice.say("two")
        voice.say("three")
        mouth.let_go()
        assert mouth.said() == "-v en --stdin three"
        mouth.let_go()


def test_closing_does_not_wait_until_it_has_spoken(mouth: Mouth) -> None:
    with Voice() as voice:
        voice.say("a very long story")
        assert mouth.said() == "-v en --stdin a very long story"
    assert "voice" not in {thread.name for thread in threading.enumerate()}


def test_a_program_that_hangs_is_ended_and_the_next_words_are_said(
    mouth: Mouth, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(speech, "WITHIN_S", 0.3)
    with Voice() as voice:
        voice.say("one")
        assert mouth.said() == "-v en --stdin one"
        voice.say("two")
        assert mouth.said() == "-v en --stdin two"


def test_a_program_that_fails_is_logged_and_tried_again(mouth: Mouth, caplog: pytest.LogCaptureFixture) -> None:
    good = mouth.program.read_text().removeprefix("#!/bin/sh\n")
    folder = mouth.program.parent
    mouth.write(f'cat > /dev/null\necho "failing" > {folder}/said\nexit 3\n')
    with caplog.at_level(logging.WARNING), Voice() as voice:
        voice.say("one")
        assert mouth.said() == "failing"
        mouth.write(good)
        voice.say("two")
        assert mouth.said() == "-v en --stdin two"
        mouth.let_go()
    assert "code=3" in caplog.text


def test_a_pairing_code_is_said_digit_by_digit_with_its_leading_zero() -> None:
    assert spoken(code_words("012345")) == "The pairing code is 0, 1, 2. 3, 4, 5."


def test_in_quiet_hours_nothing_is_said_and_nothing_is_made_up_for_afterwards(mouth: Mouth) -> None:
    quiet = True
    with Voice(quiet=lambda: quiet) as voice:
        voice.say("Pour 20 g.")
        quiet = False
        voice.say("A accepted.")
        assert mouth.said() == "-v en --stdin A accepted."
        mouth.let_go()

"""Finding, checking and doubting a scale: every sentence goes through the catalogue."""

from __future__ import annotations

import errno
import socket
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from station.config import ScaleSettings
from station.errors import Refused, ScaleFault, SettingsError
from station.scale.check import check
from station.scale.families import family_named
from station.scale.finding.outcome import NotFound, Profile
from station.scale.finding.profiles import Profiles
from station.scale.finding.search import search
from station.scale.finding.wishes import AskShown, Confirm, Tell
from station.scale.reasons import misnamed, why_not
from station.simulated.line import LineSetting
from station.simulated.voices import Delivery, Voice
from station.simulated.voices.table import TYPICAL
from tests.scale.finding.virtual import VirtualScale
from tests.scale.test_checking import BenchScale, answers, checked_with
from tests.scale.test_sense import Bench, line
from tests.words.speaking import BEGIN, END, Marked, spoken
from tests.words.unsaid import unsaid

KNOWN = ("/dev/scale", "status-commas", "sign-16", "digits-tail", "ticket", "8N1", "500 g", "123.4 g")
"""What is told here: data."""


@pytest.fixture(autouse=True)
def _marked() -> Iterator[None]:
    with spoken(Marked()):
        yield


def left(*sentences: str) -> list[str]:
    """What of these went through no catalogue; fails when there is nothing to look at."""
    assert sentences
    assert all(BEGIN in sentence for sentence in sentences), sentences
    return [words for sentence in sentences for words in unsaid(sentence, list(KNOWN))]


class Marking(BenchScale):
    """Understands what it is told in brackets, and remembers it with them."""

    def __init__(self, *args: object, **how: object) -> None:
        super().__init__(*args, **how)  # type: ignore[arg-type]
        self.heard: list[str] = []

    def told_to(self, words: str) -> None:
        self.heard.append(words)
        super().told_to(words.strip(BEGIN + END))

    def asked(self, question: str) -> str:
        self.heard.append(question)
        return super().asked(question.strip(BEGIN + END))


def test_a_scale_check_is_said_through_the_catalogue():
    wrong = {"weight": ["500 g"], "plate": ["third class", "III 1 g"], "minutes": ["soon", "1"]}
    scale = Marking(answers(**wrong))
    checked_with(scale, placements=5)
    assert left(*scale.heard) == []
    assert len(set(scale.heard)) > 12
    with pytest.raises(Refused) as refusal:
        checked_with(Marking(answers(), lazy=True))
    assert left(refusal.value.sentence()) == []


@pytest.mark.parametrize(
    ("voice", "how"),
    [
        (Voice("status-commas", Delivery.STREAM), {}),
        (Voice("status-commas", Delivery.STREAM), {"agrees": False}),
        (Voice("status-commas", Delivery.STREAM), {"pressable": False}),
        (Voice("sign-16", Delivery.REQUEST), {"agrees": True}),
        (Voice("digits-tail", Delivery.STREAM), {}),
        (Voice("digits-tail", Delivery.STREAM), {"reads": "no number"}),
        (Voice("ticket", Delivery.STREAM), {}),
        (Voice("ticket", Delivery.REQUEST), {}),
    ],
)
def test_a_search_is_said_through_the_catalogue_whatever_comes_of_it(voice: Voice, how: dict[str, object]):
    scale = VirtualScale(voice, LineSetting.named(*TYPICAL[voice.family]), seed=1, **how)  # type: ignore[arg-type]
    found = scale.conduct(search("/dev/scale"))
    told = [wish.words for wish in scale.wishes if isinstance(wish, Tell)]
    told += [wish.question for wish in scale.wishes if isinstance(wish, Confirm | AskShown)]
    assert left(*told) == []
    match found:
        case Profile():
            assert left(*found.sure) == []
        case NotFound():
            assert left(found.saw, *found.causes) == []


@pytest.mark.parametrize(
    "gone",
    [
        *(OSError(number, "") for number in (errno.ENOENT, errno.EACCES, errno.EBUSY, errno.EIO, errno.ENOTTY)),
        *(OSError(errno.ECONNREFUSED, ""), socket.gaierror(), ValueError("7")),
    ],
)
def test_why_a_port_cannot_be_used_is_said_through_the_catalogue(gone: BaseException):
    assert left(*(why_not(port, gone).sentence() for port in ("/dev/scale", "socket://7:7"))) == []


def test_what_is_wrong_with_a_scale_before_it_is_opened_is_said_through_the_catalogue(tmp_path: Path):
    good = ScaleSettings(port="/dev/scale", family="status-commas")
    wrong = [
        replace(good, family="status-comma"),
        replace(good, family="bare-number", unit=None),
        replace(good, family="ticket"),
        replace(good, character="9Z9", unit="stone", baud=0, poll_s=0),
        replace(good, port="socket://"),
    ]
    for settings in wrong:
        with pytest.raises(SettingsError) as problems:
            check(settings)
        assert [one for one in problems.value.problems if BEGIN not in one] == []
    with pytest.raises(SettingsError) as unknown:
        family_named("?")
    assert left(*unknown.value.problems) == []
    assert left(misnamed("") or "") == []
    with pytest.raises(ScaleFault) as fault:
        Profiles(tmp_path).in_force(replace(good, port="found"))
    assert left(fault.value.sentence()) == []


def test_doubts_about_a_scale_are_said_through_the_catalogue():
    nonsense = Bench("status-commas").until_doubt(b"7!7!7!\r\n")[1]
    changed = Bench("status-commas", pouring=True)
    changed.hear(line("status-commas", "12.3"))
    other_unit = changed.until_doubt(line("status-commas", "0.43", "oz"))[1]
    assert left(nonsense, other_unit) == []

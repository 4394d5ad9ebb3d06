"""The calendar as text: read back by the library, and held line by line against the rules of RFC 5545."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import icalendar
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.almanac.ics import as_ics
from station.almanac.issue import issued, uid_of
from station.core.cure_ends import cure_ends
from station.testing import ScriptedClock
from tests.almanac.casts import cures, demolded, standing

NOW = ScriptedClock().now()
NAMES = (
    "grip, left; for paddles",
    "a\\b: c\nsecond line",
    "Stiefelsohle für Größe 46 – Ä Ö Ü ß ≥ 5 °C, " * 4,
    "𝟠 字 🛶 " * 30,
    "x" * 200,
    "tab\tbell\x07 return\r\nnull\x00 delete\x7f",
    "BEGIN:VALARM\r\nEND:VCALENDAR",
)


def text_of(*molds: str, name: str = "Wrenfield Works (invented)") -> str:
    ends = cure_ends(standing(*(cures(n, NOW, mold=mold) for n, mold in enumerate(molds, 1))), NOW)
    return as_ics(ends, issued((), ends, NOW.wall), NOW.wall, name)


def lines_of(text: str) -> list[str]:
    """The content lines, unfolded, after a check of the rules for every line."""
    raw = text.encode()
    assert raw.endswith(b"\r\n")
    assert raw.count(b"\n") == raw.count(b"\r") == raw.count(b"\r\n")
    for line in raw.split(b"\r\n"):
        assert len(line) <= 75
        line.decode()  # a character is not torn by folding
    unfolded = text.replace("\r\n ", "").replace("\r\n\t", "").split("\r\n")
    assert unfolded.pop() == ""
    for line in unfolded:
        assert re.match(r"[A-Z][A-Z0-9-]*(;[A-Z-]+=[^:]*)?:", line), line
        assert not re.search(r"[\x00-\x08\x0a-\x1f\x7f]", line)
    return unfolded


def escaped(text: str) -> str:
    return re.sub(r"([\\;,])", r"\\\1", text).replace("\n", "\\n")


@pytest.mark.parametrize("mold", NAMES)
def test_any_name_of_a_mold_is_escaped_folded_and_comes_back(mold: str) -> None:
    text = text_of(mold)
    lines = lines_of(text)
    assert lines.count("BEGIN:VEVENT") == lines.count("END:VALARM") == 2
    assert lines.count("END:VCALENDAR") == 1
    clean = re.sub(r"[\x00-\x08\x0b-\x1f\x7f]", " ", mold.replace("\r\n", "\n"))
    assert f"SUMMARY:{escaped(f'Cast 1, {clean}: take it out of the mold')}" in lines
    event = icalendar.Calendar.from_ical(text).walk("VEVENT")[0]
    assert str(event["summary"]) == f"Cast 1, {clean}: take it out of the mold"


@settings(max_examples=60)
@given(st.text(max_size=120), st.text(max_size=120))
def test_no_name_breaks_the_rules(mold: str, name: str) -> None:
    lines = lines_of(text_of(mold, name=name))
    assert [line for line in lines if line.startswith(("BEGIN", "END"))] == [
        "BEGIN:VCALENDAR",
        *2 * ["BEGIN:VEVENT", "BEGIN:VALARM", "END:VALARM", "END:VEVENT"],
        "END:VCALENDAR",
    ]


def test_an_event_has_its_time_in_utc_an_alarm_at_it_and_all_that_the_rules_ask_for() -> None:
    calendar = icalendar.Calendar.from_ical(text_of("paddle grip"))
    assert (str(calendar["version"]), str(calendar["method"])) == ("2.0", "PUBLISH")
    demold, full = calendar.walk("VEVENT")
    assert demold.decoded("dtstart") == NOW.wall + timedelta(hours=4)
    assert full.decoded("dtstart") == NOW.wall + timedelta(hours=24)
    assert demold.decoded("dtstamp") == NOW.wall
    assert demold.decoded("sequence") == 0
    (alarm,) = demold.walk("VALARM")
    assert (str(alarm["action"]), alarm.decoded("trigger")) == ("DISPLAY", timedelta(0))
    assert str(alarm["description"]) == str(demold["summary"])
    lines = lines_of(text_of("paddle grip"))
    assert "DTSTART:20260302T130000Z" in lines
    assert "REFRESH-INTERVAL;VALUE=DURATION:PT1H" in lines
    assert "PRODID:-//Tarebell//casting bench station//EN" in lines
    for name in ("UID", "DTSTAMP", "DTSTART", "SEQUENCE", "DURATION", "LAST-MODIFIED"):
        assert sum(line.startswith(f"{name}:") for line in lines) == 2
    assert not any(line.startswith("DTEND") for line in lines)  # never with DURATION


def test_the_name_of_the_station_is_escaped_too() -> None:
    assert "NAME:Wrenfield\\, bench 2\\; left\\nby the window" in lines_of(
        text_of(name="Wrenfield, bench 2; left\nby the window")
    )


def test_a_calendar_without_casts_is_not_empty_which_the_rules_forbid() -> None:
    calendar = icalendar.Calendar.from_ical(text_of())
    assert [part.name for part in calendar.subcomponents] == ["VTIMEZONE"]
    lines_of(text_of())


def test_a_cast_out_of_its_mold_has_only_its_full_cure() -> None:
    ends = cure_ends(standing(demolded(cures(7, NOW))), NOW)
    text = as_ics(ends, issued((), ends, NOW.wall), NOW.wall, "x")
    assert [str(event["summary"]) for event in icalendar.Calendar.from_ical(text).walk("VEVENT")] == [
        "Cast 7, kayak seat pad, left: fully cured"
    ]


def test_an_end_has_the_same_name_for_ever_and_another_than_every_other() -> None:
    ends = cure_ends(standing(cures(1, NOW), cures(2, NOW)), NOW)
    later = cure_ends(standing(cures(1, NOW), cures(2, NOW)), ScriptedClock(datetime(2027, 1, 1, tzinfo=UTC)).now())
    assert [uid_of(end) for end in ends] == [uid_of(end) for end in later]
    assert len({uid_of(end) for end in ends}) == 4

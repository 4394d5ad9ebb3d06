"""What befalls a simulated scale shows on its line exactly as said, and passes as said."""

from __future__ import annotations

import os
from decimal import Decimal
from pathlib import Path

import pytest

from station.errors import SettingsError
from station.simulated.bench_scale import BenchScale
from station.simulated.faults import (
    AutoOff,
    Burst,
    FamilyChanged,
    HalfLine,
    LineChanged,
    Lost,
    Mended,
    PluggedIn,
    Restarted,
    Silent,
    Stuck,
    UnitChanged,
    Unplugged,
)
from station.simulated.line import LineSetting
from station.simulated.load_cell import CellFaults, LoadCell
from station.simulated.pty_port import PtyPort
from station.simulated.voices import Voice
from tests.simulated.test_bench_scale import CARD, Wire

LINE = b"ST,+000062.4  g\r\n"


@pytest.fixture
def wire() -> Wire:
    return Wire()


@pytest.fixture
def scale(wire: Wire) -> BenchScale:
    """At rest under 62.4 g, without noise."""
    scale = BenchScale(Voice("status-commas"), LoadCell(CARD, faults=CellFaults(0.0, 0.0)), wire)
    scale.load_g = 62.4
    scale.step(5.0)
    assert wire.said[-1] == LINE
    wire.said.clear()
    return scale


@pytest.mark.parametrize("at", range(len(LINE) + 1))
def test_a_frame_is_torn_at_any_byte_and_only_one(scale: BenchScale, wire: Wire, at: int) -> None:
    for lost, expected in (
        (Lost.HEAD, LINE[at:] + LINE),
        (Lost.TAIL, LINE[:at] + LINE),
        (Lost.NOTHING, LINE + LINE),
    ):
        scale.befall(HalfLine(at, lost))
        scale.step(0.1)
        first = b"".join(wire.said)
        assert first == (LINE[at:] if lost is Lost.HEAD else LINE[:at])
        scale.step(0.1)
        assert b"".join(wire.said) == expected
        wire.said.clear()


def test_a_burst_is_nothing_for_a_while_and_then_everything_at_once(scale: BenchScale, wire: Wire) -> None:
    scale.befall(Burst(2.0))
    scale.step(1.9)
    assert wire.said == []
    scale.step(0.1)
    assert wire.said == [LINE * 20]
    scale.step(0.1)
    assert wire.said[1:] == [LINE]


def test_after_a_restart_the_indication_has_jumped_by_the_tare(scale: BenchScale, wire: Wire) -> None:
    scale.press_tare()
    scale.step(0.1)
    assert wire.said == [b"ST,+000000.0  g\r\n"]
    scale.befall(Restarted(2.0))
    assert not scale.on
    wire.said.clear()
    scale.step(1.95)
    assert wire.said == []
    scale.step(0.1)
    assert wire.said == [LINE]
    assert scale.grams == Decimal("62.4")


def test_a_restart_may_take_what_lies_there_for_zero(scale: BenchScale, wire: Wire) -> None:
    scale.befall(Restarted(1.0, zeroes=True))
    scale.step(1.1)
    assert wire.said[-1] == b"ST,+000000.0  g\r\n"
    scale.load_g = 0.0
    scale.step(5.0)
    assert wire.said[-1] == b"ST,-000062.4  g\r\n"


def test_a_scale_with_a_greeting_says_it_when_it_comes_back(wire: Wire) -> None:
    scale = BenchScale(Voice("reply-letter"), LoadCell(CARD), wire)
    scale.befall(Restarted(1.0))
    wire.asked = b"SI\r\n"
    scale.step(0.5)
    assert wire.said == []
    scale.step(0.6)
    assert wire.said == [scale.voice.greeting]


def test_another_unit_is_another_number_for_the_same_load(scale: BenchScale, wire: Wire) -> None:
    scale.befall(UnitChanged("kg"))
    scale.step(0.1)
    assert wire.said == [b"ST,+000.0624 kg\r\n"]
    with pytest.raises(SettingsError, match="no unit 'stone'"):
        scale.befall(UnitChanged("stone"))


def test_another_family_is_another_layout(scale: BenchScale, wire: Wire) -> None:
    scale.befall(FamilyChanged("value-unit"))
    scale.step(0.1)
    assert wire.said == [Voice("value-unit").line(Decimal("62.4"), True)]
    with pytest.raises(SettingsError, match="does not speak"):
        scale.befall(FamilyChanged("nonsense"))


def test_another_setting_reaches_the_port(scale: BenchScale, wire: Wire) -> None:
    scale.befall(LineChanged(LineSetting.named(2400, "7E1")))
    assert wire.setting == LineSetting(2400, 7, "E", 1)
    scale.befall(LineChanged(None))
    assert wire.setting is None


def test_a_stuck_scale_repeats_itself_whatever_is_poured(scale: BenchScale, wire: Wire) -> None:
    scale.befall(Stuck(2.0))
    scale.load_g = 200.0
    scale.step(1.95)
    assert set(wire.said) == {LINE}
    assert len(wire.said) == 19
    scale.step(3.0)
    assert wire.said[-1] == b"ST,+000200.0  g\r\n"


def test_a_silent_scale_neither_sends_nor_forgets(scale: BenchScale, wire: Wire) -> None:
    scale.press_tare()
    scale.befall(Silent())
    scale.step(3600.0)
    assert wire.said == []
    scale.befall(Mended())
    scale.step(0.1)
    assert wire.said == [b"ST,+000000.0  g\r\n"]
    scale.befall(Silent(1.0))
    scale.step(2.0)
    assert len(wire.said) == 1 + 11


def test_a_scale_switches_itself_off_at_regular_intervals_until_mended(scale: BenchScale, wire: Wire) -> None:
    scale.befall(AutoOff(on_s=60.0, off_s=5.0))
    lines = []
    for _ in range(65 * 3):
        wire.said.clear()
        scale.step(1.0)
        lines.append(len(wire.said))
    for cycle in range(3):
        began = 65 * cycle
        assert sum(lines[began : began + 60]) == pytest.approx(600, abs=1)
        assert sum(lines[began + 60 : began + 65]) <= 1
    scale.befall(Mended())
    wire.said.clear()
    scale.step(200.0)
    assert len(wire.said) == 2000


def test_mended_brings_a_scale_back_that_was_off_for_good(scale: BenchScale, wire: Wire) -> None:
    scale.befall(Restarted(float("inf")))
    scale.step(100.0)
    assert wire.said == []
    scale.befall(Mended())
    scale.step(0.1)
    assert wire.said == [LINE]


def test_the_cable_goes_and_comes_back_under_another_device_and_another_name(tmp_path: Path) -> None:
    with PtyPort(tmp_path / "scale") as port:
        scale = BenchScale(Voice("status-commas"), LoadCell(CARD), port)
        first = port.device
        scale.befall(Unplugged())
        scale.step(1.0)
        assert os.listdir(tmp_path) == []
        scale.befall(PluggedIn(elsewhere=True, suffix="-2"))
        assert os.listdir(tmp_path) == ["scale-2"]
        assert os.readlink(tmp_path / "scale-2") == port.device != first
        scale.befall(Unplugged())
        scale.befall(PluggedIn())
        assert os.listdir(tmp_path) == ["scale"]

"""Temperature and supply of the computer, from made-up trees of the kernel's files."""

import pytest

from station.computer.health import Health, health


def lay(root, files):
    for name, text in files.items():
        file = root / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text)
    return health(root)


def zone(number, kind, text):
    return {f"sys/class/thermal/thermal_zone{number}/{name}": each for name, each in (("type", kind), ("temp", text))}


def supply(text, name="rpi_volt", chip=1):
    return {f"sys/class/hwmon/hwmon{chip}/name": f"{name}\n", f"sys/class/hwmon/hwmon{chip}/in0_lcrit_alarm": text}


def test_nothing_is_known_where_the_kernel_has_no_such_files(tmp_path):
    assert health(tmp_path) == Health(None, None)


def test_the_processor_counts_before_a_warmer_zone_of_something_else(tmp_path):
    seen = lay(tmp_path, zone(0, "acpitz\n", "90000\n") | zone(1, "cpu-thermal\n", "48312\n"))
    assert seen.celsius == 48.312
    assert not seen.hot


def test_without_a_processor_zone_the_warmest_counts(tmp_path):
    assert lay(tmp_path, zone(0, "a", "31000") | zone(1, "b", "80000")).hot


@pytest.mark.parametrize("text", ["", "warm", "999999999", "-274000000", "4\n8"])
def test_a_zone_that_tells_nonsense_is_left_out(tmp_path, text):
    assert lay(tmp_path, zone(0, "cpu-thermal", text)).celsius is None


@pytest.mark.parametrize(("text", "low"), [("0\n", False), ("1\n", True), ("", None), ("perhaps", None)])
def test_the_watch_over_the_supply_is_believed_when_it_says_yes_or_no(tmp_path, text, low):
    assert lay(tmp_path, supply(text)).supply_low is low


def test_another_chip_with_such_an_alarm_is_not_the_supply(tmp_path):
    assert lay(tmp_path, supply("1", "another", 0)).supply_low is None
    assert lay(tmp_path, supply("1", "another", 0) | supply("0", chip=3)).supply_low is False

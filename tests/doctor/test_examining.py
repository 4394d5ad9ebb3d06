"""Checks that break or hang keep no other from being made."""

import threading
from dataclasses import replace

import pytest

from station.doctor.examining import examined
from station.doctor.finding import Looked, Verdict, failed, look, passed, worst
from station.doctor.order import CHECKS, Check
from station.errors import LedgerFault


def breaking(error):
    def act(_patient):
        yield passed("The first half is well.")
        raise error

    return act


GOOD = Check("good", "Good", lambda _patient: [passed("Well.")], bare=True)


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (KeyError("x"), "KeyError: 'x'"),
        (ZeroDivisionError(), "ZeroDivisionError"),
        (LedgerFault("It is full.", "Make room."), "It is full. Make room."),
        (PermissionError(13, "no", "/etc/secret"), "This user may not look at it (/etc/secret). Ask again with sudo."),
        (TimeoutError("vcgencmd did not answer within 5 s"), "vcgencmd did not answer within 5 s"),
        (SystemExit(3), "SystemExit: 3"),
    ],
)
def test_a_check_that_breaks_is_one_to_look_at_and_the_next_is_made(ward, error, said):
    broken, good = examined(ward.patient(), [Check("bad", "Bad", breaking(error), bare=True), GOOD])
    assert broken.findings[0].told == "The first half is well."
    assert broken.findings[1].verdict is Verdict.LOOK
    assert said in f"{broken.findings[1].told} {broken.findings[1].cure}"
    assert good.findings == (passed("Well."),)


def test_a_check_that_hangs_is_left_behind(ward):
    end = threading.Event()

    def act(_patient):
        yield passed("It begins.")
        end.wait()

    hangs = Check("hangs", "Hangs", act, bare=True, within_s=0.1)
    try:
        hung, good = examined(ward.patient(), [hangs, GOOD])
    finally:
        end.set()
    assert [finding.told for finding in hung.findings] == [
        "It begins.",
        "It could not be looked at within 0.1 s.",
    ]
    assert good.findings == (passed("Well."),)


def test_what_needs_the_settings_is_not_made_without_them(ward):
    ward.config.write_text("nonsense")
    found = {one.key: one for one in examined(ward.patient())}
    assert found["settings"].findings[0].verdict is Verdict.FAIL
    for check in CHECKS:
        left_out = any("settings cannot be read" in finding.told for finding in found[check.key].findings)
        assert left_out is not check.bare, check.key


def test_every_check_comes_to_a_finding_on_an_empty_machine(ward):
    found = list(examined(ward.patient()))
    assert [one.key for one in found] == [check.key for check in CHECKS]
    assert len({check.key for check in CHECKS}) == len(CHECKS)
    for one in found:
        assert one.findings
        for finding in one.findings:
            assert "could not be looked at" not in finding.told, finding
            assert finding.told.strip()
            if finding.verdict is Verdict.FAIL:
                assert finding.cure, finding


def test_every_check_survives_a_machine_of_nonsense(ward):
    for place in (
        "/proc/locks",
        "/proc/self/mountinfo",
        "/proc/self/net/tcp",
        "/proc/self/net/fib_trie",
        "/proc/self/net/route",
        "/etc/os-release",
        "/proc/device-tree/model",
        "/sys/class/thermal/thermal_zone0/temp",
        "/sys/class/hwmon/hwmon0/name",
        "/sys/class/rtc/rtc0/hctosys",
        "/run/tarebell/starts",
    ):
        ward.put(place, "\x00ro - : [] = 99999999999999999999 ÿ\n" * 3)
    ward.answer("systemctl", "LoadState=loaded\nNRestarts=-\nMainPID=x\nUser=nobody-at-all\n")
    ward.answer("vcgencmd", "throttled=0xzz")
    ward.answer("journalctl", "\x00")
    for one in examined(ward.patient()):
        assert not any("could not be looked at" in finding.told for finding in one.findings), one


def test_the_worst_verdict_counts():
    good, bad = Looked("a", "A", (passed("x"),)), Looked("b", "B", (look("x"), failed("x", "y")))
    assert worst([]) is worst([good]) is Verdict.PASS
    assert worst([good, replace(bad, findings=bad.findings[:1])]) is Verdict.LOOK
    assert worst([bad, good]) is Verdict.FAIL


def test_a_short_name_is_dotted_without_spoiling_other_words():
    found = look("pi.local has pins; pi is up at 192.0.2.1.", "Ask pi.", names=("pi", "192.0.2.1", ""))
    bare = found.without_names()
    assert (bare.told, bare.cure) == ("….local has pins; … is up at ….", "Ask ….")

"""Everything that the doctor finds is said through the catalogue, in every state that a machine can be made to have."""

import re
from pathlib import Path

import pytest

from station.doctor.by_hand import tried_by_hand
from station.doctor.examining import examined
from station.doctor.life import Life
from station.doctor.said import in_short, lines_of
from station.store.ledger import SqlLedger
from tests.doctor.ward import NOBODY, STRANGER, Ward
from tests.store.stories import a_day
from tests.words.speaking import BEGIN, END, Marked, spoken


@pytest.fixture
def ward(tmp_path: Path) -> Ward:
    return Ward(tmp_path)


def healthy(ward: Ward) -> None:
    ward.settings('[climate]\nsensor = "none"\nhumidity = false\n', top='temperature = "21 °C"\n')
    ward.put("/dev/ttyUSB0")
    ward.put("/run/systemd/timesync/synchronized")
    ward.put("/proc/self/net/fib_trie", "     |-- 192.0.2.17\n        /32 host LOCAL\n")
    ward.answer("vcgencmd", "throttled=0x0")
    ward.unit()
    with SqlLedger(ward.state) as ledger:
        ledger.write(a_day(1))


def sick(ward: Ward) -> None:
    ward.settings('[signals]\nbuzzer = 2\n[climate]\nsensor = "none"\nhumidity = false\n')
    ward.process(STRANGER, "4711", ward.put("/dev/ttyUSB0"))
    ward.put("/dev/i2c-1")
    ward.put("/dev/gpiochip0")
    ward.answer("vcgencmd", "throttled=0x50005")
    ward.unit(ActiveState="failed", UnitFileState="disabled", Result="7", NRestarts="3")
    ward.listening(8060)


def not_allowed(ward: Ward) -> None:
    ward.put("/dev/ttyUSB0").chmod(0o600)
    ward.settings('[climate]\nsensor = "none"\nhumidity = false\n')


def nothing(ward: Ward) -> None:
    ward.settings('[climate]\nsensor = "none"\nhumidity = false\n')


def bare_words(text: str) -> str:
    """What stands outside of the brackets."""
    depth, left = 0, []
    for sign in text:
        depth += sign == BEGIN
        left.append(sign if depth == 0 else "")
        depth -= sign == END
    return "".join(left)


@pytest.mark.parametrize("state", [healthy, sick, not_allowed, nothing])
def test_every_finding_is_said(ward, state):
    state(ward)
    patient = ward.patient(Life.STOPPED, **({"owner": NOBODY} if state is not_allowed else {}))
    with spoken(Marked()):
        found = [*examined(patient), *tried_by_hand(patient, None, None, None)]
        told = [text for one in found for finding in one.findings for text in (finding.told, finding.cure)]
        lines = [in_short(found), *(line for one in found for line in lines_of(one))]
    assert len(told) > 30
    assert [text for text in told if re.search(r"[^\W\d_]{2,}", bare_words(text))] == []
    assert all(one.title.startswith(BEGIN) for one in found)
    assert any(f"{BEGIN}LOOK{END}" in line for line in lines)

"""What hardware/README.md says of the wiring is what the example settings give."""

from __future__ import annotations

import re
from pathlib import Path

from station.settings import read_settings
from station.wiring.plan import KINDS, planned
from station.wiring.rules import needs
from station.wiring.table import lines

ROOT = Path(__file__).resolve().parents[2]
README = ROOT / "hardware" / "README.md"
MADE = re.compile(r"<!-- made by: tarebell wiring [^\n]*-->\n```text\n(.*?)```\n<!-- end -->", re.S)


def test_the_list_in_the_readme_is_what_the_command_prints():
    settings = read_settings(ROOT / "station" / "examples" / "station.toml")
    [block] = MADE.findall(README.read_text("utf-8"))
    assert block.splitlines() == list(lines(planned(settings.signals, settings.climate)))


def test_every_value_that_is_worked_out_is_on_the_list_of_what_to_buy():
    bought = README.read_text("utf-8").split("## Wiring")[0]
    values = {
        value for part in KINDS.values() for said in needs(part) for value in re.findall(r"[\d.]+ k?Ω|\d+ nF", said)
    }
    exact = {"325 Ω", "867 Ω", "412 Ω"}
    assert {value for value in values - exact if value not in bought} == set()
    assert exact <= values

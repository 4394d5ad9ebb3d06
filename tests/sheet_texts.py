"""Sheets for tests as a person writes them, and what reading them into a folder gives or complains about."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from station.errors import SettingsError
from station.sheets import Sheets, read_sheets

MATERIAL = """
[[material]]
key = "foam"
title = "Seat foam"
basis = "by weight"
tolerance = "2 %"
pour_into = "B"
ready = ["lid", "clamps"]
cautions = ["Gloves."]
[[material.component]]
name = "A"
parts = 100
[[material.component]]
name = "B"
parts = 60
density = "1.02 g/cm3"
[[material.additive]]
name = "pigment"
percent = "3 %"
of = "B"
into = "B"
premix = "20 s"
[material.times]
reference = "73.4 °F"
pot_life = "50 s"
mix = "15 s"
pour_reserve = "12 s"
demold = "20 min"
full_cure = "24 h"
"""
MOLD = '[[mold]]\nkey = "pad"\ntitle = "Pad"\nshot = "160 g"\ncloses = false\nready = ["lid"]\n'
LOT = '[[lot]]\ncomponent = "A"\nnumber = "L1"\nleft = "2 kg"\n'

FULL = (
    MATERIAL.replace(
        "tolerance",
        """chemistry = "urethane foam"
density = "1.08 g/cm3"
hardness = "20 Shore A"
shrinkage = "0,3 %"
tolerance""",
    )
    .replace(
        "parts = 100",
        """parts = 100
other_parts = 90
isocyanate = true
nco = "16.8 %"
keeps_opened = "90 d"
""",
    )
    .replace("parts = 60", "parts = 60\noh = 356")
    + """coldest = "18 °C"
warmest = "86 °F"
activation = "50 kJ/mol"
pot_life_for = "100 g"
at = [{ temperature = "30 °C", pot_life = "35 s", demold = "14 min" }, { temperature = "18 °C", pot_life = "65 s" }]
of = [{ mass = "1 kg", pot_life = "35 s" }, { mass = "500 g", pot_life = "40 s" }]
[material.foam]
free_rise = "96 kg/m3"
expansion = 11
packing_low = 1.05
packing_high = 1.4
[[material.kit]]
title = "small pair"
price = "32.50"
part = [{ component = "A", mass = "1 kg" }, { component = "B", mass = "600 g" }]
"""
)

Read = Callable[..., Sheets]


def reading(folder: Path) -> Read:
    """Texts by the name of their file, written into the folder and read."""

    def from_texts(**files: str) -> Sheets:
        for name, toml in files.items():
            (folder / f"{name}.toml").write_text(toml, "utf-8")
        return read_sheets([folder])

    return from_texts


def refused(read: Read, **files: str) -> list[str]:
    """The problems of these texts, which must not be read."""
    with pytest.raises(SettingsError) as wrong:
        read(**files)
    return wrong.value.problems

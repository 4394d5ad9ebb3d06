"""Worksheets, sheets and positives from the command line, as a person types them."""

import json
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from station.sheets import example_folder

DEADLINE_S = 60


def tarebell(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "station", *words], capture_output=True, text=True, check=False, timeout=DEADLINE_S
    )


def test_an_answer_in_words_with_its_rules():
    ran = tarebell(
        "reckon", "foam", "--cavity", "500 ml", "--free-rise", "80", "--packing", "1.2", "--loss", "5", "--ratio", "2:1"
    )
    assert ran.returncode == 0
    assert "50.5 g" in ran.stdout
    assert "Divide, never multiply" in ran.stdout
    assert "Caution:" in ran.stdout


def test_the_same_for_programs_with_a_material_filled_in_and_lines_repeated(tmp_path: Path):
    ran = tarebell(
        "reckon", "kits", "--from-material", "example-foam", "--need", "A 6.2 kg", "--need", "B 3.7 kg", "--json",
        "--drawings", str(tmp_path),
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    assert json.loads(ran.stdout)["price_hundredths"] == 2 * 3400 + 14200
    (drawing,) = tmp_path.iterdir()
    assert ET.fromstring(drawing.read_text()).tag.endswith("svg")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["reckon", "box", "--length", "long"], ["--length: ", "--width: ", "--height: "]),
        (["reckon", "foam", "--cavity", "1 l"], ["--ratio: "]),
        (["reckon", "kits", "--from-material", "none", "--need", "A 1 g"], ["example-foam"]),
        (["material", "show", "none"], ["example-rubber"]),
        (["positive", "/etc/hostname"], ["not a mesh"]),
    ],
)
def test_nonsense_is_told_in_sentences_and_ends_with_a_code(words: list[str], says: list[str]):
    ran = tarebell(*words)
    assert ran.returncode in (1, 2)
    assert "Traceback" not in ran.stderr
    for said in says:
        assert said in ran.stderr


def test_a_sheet_that_contradicts_itself_ends_with_one(tmp_path: Path):
    good = example_folder() / "materials.toml"
    assert tarebell("material", "check", str(good)).returncode == 0
    wrong = tmp_path / "wrong.toml"
    wrong.write_text(good.read_text().replace("other_parts = 92.5", "other_parts = 60"))
    ran = tarebell("material", "check", str(wrong), "--json")
    assert ran.returncode == 1
    told = json.loads(ran.stdout)[0]["materials"]
    assert [len(one["contradictions"]) for one in told] == [0, 0, 1]


def test_a_folder_is_checked_with_what_no_cast_can_be_run_on_and_what_cannot_be_read(tmp_path: Path):
    good = (example_folder() / "materials.toml").read_text()
    (tmp_path / "a.toml").write_text(good.replace('demold = "20 min"', 'demold = "20 s"'))
    (tmp_path / "b.toml").write_text(good.replace('pot_life = "50 s"', 'pot_life = "soon"'))
    (tmp_path / "c.toml").write_text((example_folder() / "molds.toml").read_text())
    ran = tarebell("material", "check", str(tmp_path))
    assert ran.returncode == 1
    assert "! Demold (20 s) must be longer than pot_life (50 s)" in ran.stdout
    assert "pot_life = 'soon'" in ran.stdout
    assert "not reviewed further before it can be read" in ran.stdout
    assert "c.toml" not in ran.stdout

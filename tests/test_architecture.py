"""The layers of DEVELOPERS.md hold: an import against them fails here, and a new module must be given a place."""

import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def lint(folder: Path) -> subprocess.CompletedProcess[str]:
    program = Path(sys.executable).with_name("lint-imports")
    return subprocess.run(
        [program, "--no-cache"], check=False, cwd=folder, capture_output=True, text=True, env={"PYTHONPATH": "."}
    )


def test_nobody_imports_against_the_layers():
    result = lint(ROOT)
    assert result.returncode == 0, result.stdout + result.stderr


def test_the_check_bites(tmp_path):
    shutil.copytree(ROOT / "station", tmp_path / "station", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    with (tmp_path / "station" / "core" / "mass.py").open("a") as core:
        core.write("\nimport threading\n")
    (tmp_path / "station" / "homeless.py").write_text('"""No layer knows this module."""\n')
    result = lint(tmp_path)
    assert result.returncode != 0
    assert "station.core.mass -> threading" in result.stdout
    assert "homeless" in result.stdout

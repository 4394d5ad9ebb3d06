"""The one wheel holds the package, the pages, the migrations and the example sheets, and works when installed."""

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    out = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "--no-build-isolation", "-w", out, ROOT]
    subprocess.run(command, check=True)
    return next(out.glob("*.whl"))


def test_everything_in_the_tree_is_in_the_wheel(wheel):
    inside = set(zipfile.ZipFile(wheel).namelist())
    package = {str(p.relative_to(ROOT)) for p in (ROOT / "station").rglob("*") if p.suffix in {".py", ".toml", ".mo"}}
    pages = {f"station/{p.relative_to(ROOT)}" for p in (ROOT / "web").rglob("*") if p.is_file()}
    assert package | pages <= inside


def test_the_installed_package_finds_its_pages_and_sheets(wheel, tmp_path):
    subprocess.run([sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--target", tmp_path, wheel], check=True)
    ask = (
        "import station.phone.files as f, station.sheets as s, station;"
        "print(station.__file__, f.page_root(), len(s.read_sheets([]).materials))"
    )
    said = subprocess.run(
        [sys.executable, "-c", ask],
        cwd=tmp_path,
        env={"PYTHONPATH": str(tmp_path)},
        capture_output=True,
        text=True,
        check=True,
    )
    where, pages, count = said.stdout.split()
    assert where.startswith(str(tmp_path))
    assert pages == str(tmp_path / "station" / "web")
    assert int(count) == 3

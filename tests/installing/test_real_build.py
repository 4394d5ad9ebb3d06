"""A version is built in earnest: a real environment, the real pip, a folder of packages, and no network.

The source is a small one that stands in for the station, since the station's own packages would take minutes.
"""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from station.installing.building import Builder, is_whole
from station.installing.places import FIXED
from station.installing.source import source_in
from station.installing.this_machine import ThisMachine
from station.installing.versions import Version
from tests.installing.computers import a_source

BACKEND = """
import zipfile
from pathlib import Path


def build_wheel(folder, settings=None, metadata=None):
    name = "tarebell-0.1.0-py3-none-any.whl"
    about = "tarebell-0.1.0.dist-info"
    with zipfile.ZipFile(Path(folder) / name, "w") as wheel:
        wheel.writestr("stand_in.py", "def main():\\n    print('tarebell, version 0.1.0')\\n")
        told = ["Metadata-Version: 2.1", "Name: tarebell", "Version: 0.1.0", "Requires-Dist: needed", ""]
        wheel.writestr(f"{about}/METADATA", "\\n".join(told))
        told = ["Wheel-Version: 1.0", "Generator: here", "Root-Is-Purelib: true", "Tag: py3-none-any", ""]
        wheel.writestr(f"{about}/WHEEL", "\\n".join(told))
        wheel.writestr(f"{about}/entry_points.txt", "[console_scripts]\\ntarebell = stand_in:main\\n")
        wheel.writestr(f"{about}/RECORD", "")
    return name
"""


def a_wheel(folder: Path, name: str) -> None:
    folder.mkdir(exist_ok=True)
    about = f"{name}-1.0.dist-info"
    with zipfile.ZipFile(folder / f"{name}-1.0-py3-none-any.whl", "w") as wheel:
        wheel.writestr(f"{name}.py", "")
        wheel.writestr(f"{about}/METADATA", f"Metadata-Version: 2.1\nName: {name}\nVersion: 1.0\n")
        wheel.writestr(f"{about}/WHEEL", "Wheel-Version: 1.0\nGenerator: x\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        wheel.writestr(f"{about}/RECORD", "")


@pytest.fixture
def source(tmp_path):
    folder = tmp_path / "source"
    a_source(folder)
    (folder / "backend.py").write_text(BACKEND)
    (folder / "pyproject.toml").write_text(
        '[build-system]\nrequires = []\nbuild-backend = "backend"\nbackend-path = ["."]\n'
        '[project]\nname = "tarebell"\ndynamic = ["version"]\n'
        '[project.optional-dependencies]\npi = ["no-such-pins"]\nshared = ["driver"]\n'
    )
    return source_in(folder)


def test_it_is_built_from_the_folder_alone_and_can_be_built_again_over_what_was_broken_off(tmp_path, source):
    wheels = tmp_path / "wheels"
    a_wheel(wheels, "driver")
    root = tmp_path / "root"
    builder = Builder(ThisMachine(lambda words: None), root, sys.executable, wheels)
    version = Version(root / "opt/tarebell/versions/0.1.0-1")
    (version.folder / "bin").mkdir(parents=True)
    (version.folder / "bin/tarebell").write_text("half of it")
    a_wheel(wheels, "needed")
    system = root / "usr/lib/python3/dist-packages"
    system.mkdir(parents=True)
    (system / "lgpio.py").write_text("pins = 'of the system'\n")
    builder.build(source, version, shared=True)
    assert version.digest == source.digest
    assert is_whole(builder.machine, version)
    assert all(version.system_file(name) for name in FIXED)
    packages = next(version.folder.glob("lib/python3*/site-packages"))
    assert (packages / "driver.py").exists()
    assert os.readlink(packages / "lgpio.py") == "/usr/lib/python3/dist-packages/lgpio.py"
    said = subprocess.run([version.program, "--version"], capture_output=True, text=True, check=True, cwd="/")
    assert said.stdout == "tarebell, version 0.1.0\n"

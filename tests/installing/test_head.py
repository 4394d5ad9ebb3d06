"""systemd/install, the few lines before Python: with and without Python, with and without apt-get, from anywhere."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
HEAD = ROOT / "systemd" / "install"
USUAL = "/usr/local/sbin:/usr/sbin:/usr/bin:/sbin:/bin"


@pytest.fixture
def system(tmp_path):
    """A folder of programs, all that the head finds; and the head as it looks there."""
    programs = tmp_path / "programs"
    programs.mkdir()
    for name in ("bash", "dirname", "readlink", "env"):
        (programs / name).symlink_to(shutil.which(name))
    here = tmp_path / "source"
    (here / "systemd").mkdir(parents=True)
    (here / "systemd/install").write_text(HEAD.read_text().replace(USUAL, str(programs)))
    (here / "systemd/install").chmod(0o755)
    return programs


def program(folder: Path, name: str, text: str) -> None:
    (folder / name).write_text(f"#!/bin/bash\n{text}\n")
    (folder / name).chmod(0o755)


def run(system: Path, *words: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    head = system.parent / "source/systemd/install"
    return subprocess.run([str(head), *words], capture_output=True, text=True, check=False, cwd=cwd, timeout=60)


GOOD = 'if [ "$1" = -c ]; then exit 0; fi; echo "$PYTHONPATH" "$PWD" "$@"'


def test_python_gets_the_source_and_all_words_and_the_folder_one_stands_in(system, tmp_path):
    program(system, "python3", GOOD)
    ran = run(system, "--wheels", "a folder", cwd=tmp_path)
    assert ran.returncode == 0
    assert ran.stdout.strip() == f"{tmp_path}/source {tmp_path} -sPB -m station.installing --wheels a folder"


def test_by_a_link_it_finds_the_source_all_the_same(system, tmp_path):
    program(system, "python3", GOOD)
    link = tmp_path / "link"
    link.symlink_to(system.parent / "source/systemd/install")
    ran = subprocess.run([str(link)], capture_output=True, text=True, check=True, timeout=60)
    assert ran.stdout.startswith(f"{tmp_path}/source ")


@pytest.mark.skipif(os.geteuid() != 0, reason="only an administrator gets so far")
def test_a_python_that_is_not_complete_is_completed_first(system):
    # Whole once apt-get has been there.
    program(system, "python3", f'if [ "$1" = -c ]; then [ -e {system}/whole ]; exit; fi; echo go')
    program(system, "apt-get", f'[ "$1" = install ] && : >{system}/whole; echo "apt-get $*" >>{system}/asked')
    ran = run(system)
    assert ran.stdout.strip() == "go"
    asked = (system / "asked").read_text().splitlines()
    assert asked == [
        "apt-get update -q",
        "apt-get install -yq --no-install-recommends python3 python3-venv",
    ]


@pytest.mark.skipif(os.geteuid() != 0, reason="only an administrator gets so far")
def test_a_python_that_stays_too_old_is_said(system):
    program(system, "python3", "exit 1")
    program(system, "apt-get", "exit 0")
    ran = run(system)
    assert ran.returncode == 1
    assert "Python 3.11 or newer is needed" in ran.stderr
    program(system, "apt-get", "exit 100")
    assert "Is there Internet?" in run(system).stderr


def test_without_apt_get_it_says_for_which_systems_it_is(system):
    ran = run(system)
    assert ran.returncode == 1
    assert "Use Raspberry Pi OS or Debian" in ran.stderr


@pytest.mark.skipif(shutil.which("shellcheck") is None, reason="shellcheck is not there")
def test_nothing_is_said_against_its_bash():
    ran = subprocess.run(["shellcheck", str(HEAD)], capture_output=True, text=True, check=False, timeout=60)
    assert ran.returncode == 0, ran.stdout


def plain(*words: str, **environ: str) -> subprocess.CompletedProcess[str]:
    """Installing on a Python without any package, as on a fresh card."""
    return subprocess.run(
        [
            sys.executable,
            "-I",
            "-S",
            "-c",
            f"import sys; sys.path.insert(0, {str(ROOT)!r}); sys.argv = {['x', *words]!r}\n"
            "import runpy; runpy.run_module('station.installing', run_name='__main__')",
        ],
        capture_output=True,
        text=True,
        check=False,
        env=environ,
        timeout=60,
    )


def test_installing_needs_nothing_but_python_itself():
    ran = plain("--help")
    assert ran.returncode == 0, ran.stderr
    assert "--fill-wheels" in ran.stdout

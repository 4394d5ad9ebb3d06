"""Pretended computers with a station to install on them, and sources to install."""

from __future__ import annotations

import shutil
from dataclasses import dataclass, field
from pathlib import Path

from station.installing.bench import Bench
from station.installing.building import Builder
from station.installing.places import Places
from station.installing.source import Source, source_in
from tests.installing.pretended import PYTHON, Pretended

ROOT = Path(__file__).resolve().parents[2]


@dataclass
class Computer:
    """A pretended computer with a station to install on it; `told` is what a person reads."""

    machine: Pretended
    source: Source
    wheels: Path | None = None
    told: list[str] = field(default_factory=list)

    def bench(self) -> Bench:
        builder = Builder(self.machine, self.machine.root, PYTHON, self.wheels)
        return Bench(self.machine, Places(self.machine.root), self.source, builder, self.told.append)


def a_source(folder: Path, mark: str = "first") -> Source:
    """A source as small as can be, told apart by its mark."""
    for name in ("pyproject.toml", "station/__init__.py", "station/examples/station.toml"):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / name, folder / name)
    shutil.copytree(ROOT / "systemd", folder / "systemd", dirs_exist_ok=True)
    (folder / "web").mkdir(exist_ok=True)
    (folder / "web/mark").write_text(mark)
    unit = folder / "systemd/tarebell.service"
    unit.write_text(f"{unit.read_text()}# {mark}\n")
    return source_in(folder)


def a_computer(folder: Path) -> Computer:
    """Debian 12 on a fresh card, systemd at work."""
    root = folder / "root"
    (root / "run/systemd/system").mkdir(parents=True)
    (root / "etc").mkdir()
    (root / "etc/os-release").write_text('ID=debian\nVERSION_ID="12"\nPRETTY_NAME="Debian 12"\n')
    return Computer(Pretended(root), a_source(folder / "source"))

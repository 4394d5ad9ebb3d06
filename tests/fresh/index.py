"""What pip is set to on this machine, handed to a root: its index, its certificate, its folders of wheels.

On an ordinary machine nothing is set, and nothing is handed over.
"""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

_PATH = re.compile(r"(?<![^\s/])/[^\s/]\S*")
_FOR_ALL = "etc/pip.conf"
HANDED = "/handed"
"""Below this folder a root sees the files and folders of this machine, each by its own path."""


@dataclass(frozen=True, slots=True)
class Index:
    """`settings` by pip's own names, as a root is told them; `paths` are what they name, on this machine."""

    settings: dict[str, str]
    paths: tuple[Path, ...]

    def put_into(self, root: Path) -> None:
        """Let every user of that root have the same settings."""
        if self.settings:
            lines = [f"{name} = {value}" for name, value in self.settings.items()]
            (root / _FOR_ALL).write_text("\n".join(["[global]", *lines, ""]))


NONE = Index({}, ())


def of_this_machine() -> Index:
    """As `pip config list` tells it; nothing where there is no pip."""
    asked = subprocess.run([sys.executable, "-m", "pip", "config", "list"], capture_output=True, text=True, check=False)
    said = asked.stdout if asked.returncode == 0 else ""
    settings: dict[str, str] = {}
    named: set[Path] = set()
    for line in said.splitlines():
        name, found, value = line.partition("=")
        if found:
            text = str(ast.literal_eval(value))
            named.update(Path(each) for each in _PATH.findall(text))
            settings[name.rpartition(".")[2]] = _PATH.sub(lambda path: HANDED + path[0], text)
    # An index in a folder leads to files beside it.
    whole = {each.parent if each.name == "simple" else each for each in named if each.exists()}
    return Index(settings, tuple(sorted(whole)))

"""A writer to be watched: keeps a small file in one of several ways, each time acknowledged when it counts as kept.

    python -m tests.faults.write_files FILE WAY ROUNDS

The careless ways are the controls.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

from station.keeping import append_line, replace_whole
from tests.faults.shim import acknowledge


def text(number: int) -> str:
    """What the file is to hold, or the line to be added, in this round: some less than a sector, some several."""
    return f"{number}: " + "Wrenfield Works " * (1 + number * 37 % 150) + "."


def _only_written(file: Path, words: str) -> None:
    file.write_text(words, encoding="utf-8")


def _only_renamed(file: Path, words: str) -> None:
    beside = file.with_name("beside")
    beside.write_text(words, encoding="utf-8")
    beside.replace(file)


def _only_added(file: Path, words: str) -> None:
    with file.open("a", encoding="utf-8") as out:
        out.write(words + "\n")


WAYS: Final[dict[str, Callable[[Path, str], None]]] = {
    way.__name__.lstrip("_"): way for way in (replace_whole, append_line, _only_written, _only_renamed, _only_added)
}

if __name__ == "__main__":
    for number in range(int(sys.argv[3])):
        WAYS[sys.argv[2]](Path(sys.argv[1]), text(number))
        acknowledge(str(number))

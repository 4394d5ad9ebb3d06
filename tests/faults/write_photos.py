"""A writer to be watched: keeps photos, and carries each beside the backups, acknowledged when it counts as kept.

    python -m tests.faults.write_photos STATE PLACE ROUNDS

PLACE is seen from the folder above STATE. On a "stick" no second name for the same bytes can be had.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

from station.store.backup.photos import carry
from station.store.photos import FOLDER, keep
from tests.faults.shim import acknowledge


def picture(number: int) -> bytes:
    """What the photo of this round holds: some sectors."""
    return f"{number}: ".encode() + bytes(range(256)) * (9 + number * 13 % 40)


def small(number: int) -> bytes:
    """What its small one holds: about one sector."""
    return f"small {number}: ".encode() + bytes(range(200)) * (1 + number % 4)


def _no_link(*_: object) -> None:
    raise OSError(18, "Invalid cross-device link")


if __name__ == "__main__":
    state = Path(sys.argv[1])
    place = state.parent / sys.argv[2]
    if place.name == "stick":
        os.link = _no_link  # type: ignore[assignment]
    for number in range(int(sys.argv[3])):
        name = keep(state / FOLDER, picture(number), small(number))
        acknowledge(f"{number} {name}")
        carry(state / FOLDER, place)
        acknowledge(f"{number} {name} carried")

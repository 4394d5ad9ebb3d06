"""Power cuts while photos are kept and carried: each is whole or not there, and what was acknowledged is there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from tests.faults.conftest import Writer
from tests.faults.powercut import Folders
from tests.faults.shim import Kind
from tests.faults.survey import Finding, Outcome, survey
from tests.faults.write_photos import picture, small

ROUNDS = 8
BOTH = tuple(Folders)
PLACES = pytest.mark.parametrize("place", ["state/backups", "stick"], ids=["the same disk", "another disk"])


class PhotoJudge:
    """Under the name of a photo there is a whole one or nothing, here and at the place of copies."""

    def __init__(self, place: str) -> None:
        self._folders = ("state/photos", f"{place}/photos")
        self._whole = {picture(n) for n in range(ROUNDS)} | {small(n) for n in range(ROUNDS)}

    def __call__(self, folder: Path, acknowledged: Sequence[str]) -> Finding:
        for place in self._folders:
            for file in (folder / place).glob("*.jpg"):
                if not file.name.startswith(".") and file.read_bytes() not in self._whole:
                    return Finding(Outcome.DAMAGED, f"{place}/{file.name}, {file.stat().st_size} bytes")
        for words in acknowledged:
            number, name, *carried = words.split()
            for place in self._folders[: 1 + bool(carried)]:
                for file, content in ((f"{name}.jpg", picture(int(number))), (f"{name}-small.jpg", small(int(number)))):
                    there = folder / place / file
                    if not there.exists() or there.read_bytes() != content:
                        return Finding(Outcome.LOST, f"{place}/{file} of {words}")
        return Finding(Outcome.KEPT)


@PLACES
def test_a_photo_is_whole_or_not_there_and_an_acknowledged_one_is_there(
    place: str, writes: Writer, scratch: Path
) -> None:
    log = writes("write_photos", "state", place, ROUNDS)
    found = survey(log, PhotoJudge(place), scratch, cuts=150, seed=417, folders=BOTH)
    assert (found.bad, found.found[Outcome.KEPT]) == (0, 300), found


@PLACES
def test_control_photos_that_are_not_synced_are_torn_or_lost(place: str, writes: Writer, scratch: Path) -> None:
    log = writes("write_photos", "state", place, ROUNDS)
    careless = replace(log, ops=[op for op in log.ops if op.kind is not Kind.SYNCED])
    found = survey(careless, PhotoJudge(place), scratch, cuts=30, seed=417, folders=BOTH)
    assert found.found[Outcome.DAMAGED] > 3, found
    assert found.found[Outcome.LOST] > 3, found

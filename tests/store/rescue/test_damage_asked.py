"""Every question that a page asks of a record, asked of damaged ones: an answer or a sentence, never a bug."""

from __future__ import annotations

import random
import shutil
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest

from station.errors import StationError
from station.records import Asked
from station.store.archive import Archive
from station.store.engines import open_reader
from station.store.glance import rows_at_a_glance
from station.store.verify import verify
from station.store.whole_casts import whole_casts
from tests.store.rescue.test_damage import _cut_off, _into_one_file

HEADER = 100
"""Bytes at the start without which a file is no database; what they are worth is asked elsewhere."""


def _page(asked: Asked) -> Callable[[Archive], object]:
    return lambda archive: archive.page(asked, before=None, after=None, limit=30)


QUESTIONS: dict[str, Callable[[Archive], object]] = {
    "log": _page(Asked()),
    "log of a mold": _page(Asked(mold="kayak-seat-pad")),
    "words": _page(Asked("wren")),
    "molds": lambda archive: archive.molds(),
    "materials": lambda archive: archive.materials(),
    "count": lambda archive: archive.count(),
    "years": lambda archive: archive.years(),
    "how casts came out": lambda archive: archive.mold_pasts(),
    "a lot": lambda archive: archive.lot("A-0417"),
    "first cast": lambda archive: archive.record(1),
    "third cast": lambda archive: archive.record(3),
    "facts": lambda archive: archive.facts(last=60),
    "traces": lambda archive: [archive.trace(number, step) for number in (1, 2, 3) for step in range(9)],
    "whole casts": lambda archive: list(whole_casts(open_reader(archive.place), archive.place, Asked())),
    "check": lambda archive: verify(archive.place),
    "glance": lambda archive: rows_at_a_glance(Path(archive.place)),
}


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    state = _cut_off(tmp_path_factory.mktemp("whole"))
    _into_one_file(state)
    return state


def _spoilt(record: Path, chance: random.Random) -> None:
    content = bytearray(record.read_bytes())
    for _ in range(chance.choice((1, 1, 2))):
        start, length = chance.randrange(HEADER, len(content)), chance.choice((1, 4, 40, 200, 4000))
        length = len(content[start : start + length])
        content[start : start + length] = chance.choice((chance.randbytes(length), b"\xa6" * length, bytes(length)))
    record.write_bytes(content)


def _answers(record: Path) -> Counter[bool]:
    """How many questions had an answer, and how many a sentence instead. Raises what is none."""
    said: Counter[bool] = Counter()
    with Archive(record) as archive:
        for ask in QUESTIONS.values():
            try:
                ask(archive)
                said[True] += 1
            except StationError as why:
                said[False] += bool(why.sentence())
    return said


@pytest.mark.parametrize("first", [0, *(pytest.param(first, marks=pytest.mark.soak) for first in range(40, 1000, 40))])
def test_a_damaged_record_answers_or_says_why_not(whole: Path, tmp_path: Path, first: int) -> None:
    said: Counter[bool] = Counter()
    for seed in range(first, first + 40):
        record = tmp_path / f"{seed}" / "record.db"
        shutil.copytree(whole, record.parent)
        _spoilt(record, random.Random(seed))
        said += _answers(record)
        shutil.rmtree(record.parent)
    assert said.total() == 40 * len(QUESTIONS)
    assert said[True]
    assert said[False]


def test_a_whole_record_answers_all(whole: Path) -> None:
    assert _answers(whole / "record.db") == {True: len(QUESTIONS)}

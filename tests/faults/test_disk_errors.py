"""A full, read-only or broken disk: each call in turn fails, and in the end every entry is on the disk, in order.

The station meanwhile is told in sentences, keeps what the disk does not take, and tries again.
"""

from __future__ import annotations

import errno
import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.faults.shim import ROOT, environment

OFTEN = "wal_autocheckpoint=8"

Answer = dict[str, Any]
Tell = Callable[..., Answer]


@pytest.fixture
def writer(shim: Path, scratch: Path, tmp_path: Path) -> Iterator[Callable[..., Tell]]:
    """Starts a writer of so many entries; what it returns gives it an order and brings its answer."""
    started: list[subprocess.Popen[str]] = []

    def start(entries: int, *pragmas: str) -> Tell:
        folder = scratch / tmp_path.name
        folder.mkdir()
        command = [sys.executable, "-m", "tests.faults.write_through_faults", str(folder), str(entries), *pragmas]
        variables = environment(shim, folder / "watched", hurry=1)
        with (tmp_path / "stderr").open("w") as errors:
            child = subprocess.Popen(
                command,
                env=variables,
                cwd=ROOT,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=errors,
                text=True,
            )
        started.append(child)

        def tell(**order: Any) -> Answer:
            whole = {"at": 0, "errno": 0, "sticky": 0, "room": -1, "made": True, "forgets": False} | order
            assert child.stdin is not None
            assert child.stdout is not None
            child.stdin.write(json.dumps(whole) + "\n")
            child.stdin.flush()
            said = child.stdout.readline()
            assert said, (tmp_path / "stderr").read_text()
            answer: Answer = json.loads(said)
            return answer

        return tell

    yield start
    for child in started:
        child.communicate(timeout=60)


def _fails_everywhere(tell: Tell, entries: int, every: int = 1, **order: Any) -> Iterator[Answer]:
    """Answers for a fault at call 1, 2, 3 ... until a run comes to its end, or has the disk back, before that call.

    Every so many calls: 1, 3, 5 ... for 2.
    """
    at = 1
    while (answer := tell(at=at, **order))["faults"]:
        _all_is_well(answer, entries)
        yield answer
        at += every
    _all_is_well(answer, entries)
    assert answer["sentences"] == []


def _all_is_well(answer: Answer, entries: int) -> None:
    assert (answer["bug"], answer["verdict"], answer["kept"]) == ("", "", entries), answer
    for sentence in answer["sentences"]:
        assert sentence.endswith("."), answer
        assert "Errno" not in sentence, answer
        assert "sqlite" not in sentence.lower(), answer


@pytest.mark.parametrize(("kind", "sticky", "every"), [("ENOSPC", 1, 1), ("EROFS", 1, 3), ("EIO", 0, 3)])
def test_whichever_call_fails_all_entries_come_to_the_disk(
    kind: str, sticky: int, every: int, writer: Callable[..., Tell]
) -> None:
    runs = list(_fails_everywhere(writer(4, OFTEN), 4, every, errno=getattr(errno, kind), sticky=sticky))
    assert len(runs) > 60 / every
    assert sum(bool(run["sentences"]) for run in runs) > 40 / every


def test_whichever_call_fails_while_a_record_is_made_it_is_made_in_the_end(writer: Callable[..., Tell]) -> None:
    runs = list(_fails_everywhere(writer(2), 2, every=3, errno=errno.EROFS, sticky=1, made=False))
    assert len(runs) > 20
    assert sum(bool(run["sentences"]) for run in runs) > 13


@pytest.mark.soak
@pytest.mark.parametrize("made", [True, False])
@pytest.mark.parametrize("kind", ["ENOSPC", "EROFS", "EIO"])
@pytest.mark.parametrize("sticky", [0, 1], ids=["once", "until the disk is back"])
def test_whichever_call_of_a_whole_cast_fails_it_comes_to_the_disk(
    kind: str, sticky: int, made: bool, writer: Callable[..., Tell]
) -> None:
    runs = list(_fails_everywhere(writer(16, OFTEN), 16, errno=getattr(errno, kind), sticky=sticky, made=made))
    assert len(runs) > 200


@pytest.mark.parametrize("room_kib", [0, 13, 50, 512])
def test_a_disk_that_is_full_after_some_bytes_takes_the_rest_when_there_is_room(
    room_kib: int, writer: Callable[..., Tell]
) -> None:
    answer = writer(60)(room=room_kib * 1024 + 7)
    _all_is_well(answer, 60)
    assert answer["faults"] > 0
    # With less room than the 32 KiB of its index SQLite cannot say why it does not get on.
    full, stuck = "The disk is full", "The disk does not take or give"
    assert any(sentence.startswith((full, stuck) if room_kib < 40 else full) for sentence in answer["sentences"])


def test_control_a_writer_that_keeps_nothing_back_loses_entries(writer: Callable[..., Tell]) -> None:
    tell = writer(4, OFTEN)
    runs = [tell(at=at, errno=errno.ENOSPC, forgets=True) for at in range(10, 50)]
    assert all(run["faults"] for run in runs)
    assert sum(run["kept"] < 4 for run in runs) > 20

"""Cutting the power of any program, many times, and having each remainder judged.

A case is two things:

1. A **writer**: any program that works below one folder and calls `shim.acknowledge(words)` when something counts as
   kept. `shim.watched(shim, folder, command, beside)` runs it once and returns its log. What lies in the folder
   before counts as safely on the disk.
2. A **judge**: `judge(folder, acknowledged) -> Finding`. It is given a folder as the cut left it and the words that
   were acknowledged before the cut, in order. It may write in that folder, it is thrown away.

`survey(log, judge, scratch, cuts=500, seed=1)` cuts at so many places, spread over the whole log, and counts what
the judge found. A promise is kept when `survey(...).bad == 0`; its control, a writer that is careless on purpose,
must give `bad > 0`, or the case proves nothing.
"""

from __future__ import annotations

import random
import shutil
import tempfile
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path

from tests.faults.powercut import Disk, Folders, Remains
from tests.faults.shim import Log


class Outcome(Enum):
    """What a judge found."""

    KEPT = "all that was acknowledged is there, and whole"
    LOST = "something that was acknowledged is not there"
    DAMAGED = "what is there is not what was written, or cannot be read"


@dataclass(frozen=True, slots=True)
class Finding:
    """An outcome, and what is wrong in words."""

    outcome: Outcome
    words: str = ""


Judge = Callable[[Path, Sequence[str]], Finding]


@dataclass(slots=True)
class Survey:
    """How often each outcome was found; for each bad one the first examples with the place in the log."""

    found: Counter[Outcome] = field(default_factory=Counter)
    examples: list[str] = field(default_factory=list)

    @property
    def bad(self) -> int:
        return self.found[Outcome.LOST] + self.found[Outcome.DAMAGED]

    def __str__(self) -> str:
        counts = ", ".join(f"{outcome.name} {count}" for outcome, count in self.found.items())
        return "\n".join([counts, *self.examples])


def survey(
    log: Log, judge: Judge, scratch: Path, *, cuts: int, seed: int, folders: Sequence[Folders], first: int = 0
) -> Survey:
    """Cut `cuts` times under each rule for folders. The same seed gives the same cuts of the same log.

    `first`: the calls before that one are done; the cuts come later.
    """
    result = Survey()
    for rule in folders:
        rng = random.Random(f"{seed} {rule.name}")
        disk = Disk(log, rule)
        for place in _places(rng, range(first, len(log.ops) + 1), cuts):
            disk.advance(place)
            with tempfile.TemporaryDirectory(dir=scratch) as name:
                _lay_out(disk.cut(rng), Path(name))
                finding = judge(Path(name), disk.acknowledged)
            result.found[finding.outcome] += 1
            if finding.outcome is not Outcome.KEPT and len(result.examples) < 5:
                result.examples.append(f"{rule.name}, after call {place}: {finding.outcome.name}: {finding.words}")
    return result


def _places(rng: random.Random, among: range, cuts: int) -> list[int]:
    """So many places, in order; none a second time before all were visited."""
    rounds, rest = divmod(cuts, len(among))
    return sorted([*among] * rounds + rng.sample(among, rest))


def _lay_out(remains: Remains, folder: Path) -> None:
    for name in remains.folders:
        (folder / name).mkdir(exist_ok=True)
    for name, content in remains.files.items():
        (folder / name).write_bytes(content)
    if "." not in remains.folders:
        shutil.rmtree(folder)

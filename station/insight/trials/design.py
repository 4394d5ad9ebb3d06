"""The design of a small trial: one factor at a few settings, or two or three at two, once in each block (a day).

Every combination stands once in each block, so that a day's weather or a lot falls on all of them alike; within a block
lots decide the order, from a seed that is recorded.
"""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from itertools import product

from station.core.trial_events import TrialRun as Run
from station.core.trial_events import TrialSetting as Setting
from station.errors import WrongField
from station.texts import t

MOST_RUNS = 32
MOST_LEVELS = 4
MOST_FACTORS = 3

__all__ = ["Design", "Run", "Setting", "designed"]


@dataclass(frozen=True, slots=True)
class Design:
    """A trial as it was dealt out. `half`: of three factors, only the four combinations whose product of signs is +."""

    settings: tuple[Setting, ...]
    blocks: int
    seed: int
    half: bool
    runs: tuple[Run, ...]

    @property
    def combinations(self) -> int:
        """Different combinations of settings."""
        return len({run.levels for run in self.runs})

    @property
    def two_level(self) -> bool:
        """Whether each factor has two settings."""
        return all(len(one.levels) == 2 for one in self.settings)

    def words(self, run: Run) -> tuple[str, ...]:
        """The settings of a run, in the order of the factors."""
        return tuple(one.levels[at] for one, at in zip(self.settings, run.levels, strict=True))


def designed(settings: tuple[Setting, ...], blocks: int, seed: int, *, half: bool = False) -> Design:
    """The runs of a trial, dealt out by lot. Raises WrongField for what is no trial, or none for a small workshop."""
    _checked(settings, blocks, half)
    combinations = [
        levels
        for levels in product(*(range(len(one.levels)) for one in settings))
        if not half or sum(levels) % 2 == 1  # of three at two levels: minus for 0, so an odd count of plus
    ]
    if len(combinations) * blocks > MOST_RUNS:
        raise WrongField(
            "blocks",
            t("That would be {n} casts.", n=len(combinations) * blocks),
            t("A trial here has at most {most}.", most=MOST_RUNS),
        )
    runs: list[Run] = []
    for block in range(1, blocks + 1):
        dealt = sorted(range(len(combinations)), key=lambda at: _lot(seed, block, at))
        runs += [Run(len(runs) + n, block, combinations[at]) for n, at in enumerate(dealt, 1)]
    return Design(settings, blocks, seed, half, tuple(runs))


def _lot(seed: int, block: int, at: int) -> str:
    """The lot that this combination draws in this block: the same on every machine, and open to everybody's check."""
    return sha256(f"{seed} {block} {at}".encode()).hexdigest()


def _checked(settings: tuple[Setting, ...], blocks: int, half: bool) -> None:
    if not 1 <= len(settings) <= MOST_FACTORS:
        raise WrongField(
            "factors",
            t("A trial has one to three factors."),
            t("Vary little at a time."),
        )
    names = [one.name.strip().casefold() for one in settings]
    if not all(names) or len(set(names)) < len(names):
        raise WrongField("factors", t("Each factor needs a name of its own."), t("Name what is varied."))
    most = MOST_LEVELS if len(settings) == 1 else 2
    for one in settings:
        different = {level.strip().casefold() for level in one.levels}
        if not 2 <= len(one.levels) <= most or len(different) < len(one.levels) or "" in different:
            raise WrongField(
                "factors",
                t("{factor} needs two to {most} different settings.", factor=one.name, most=most),
                t("Part them by semicolons, such as 60 s; 95 s."),
            )
    if blocks < 1:
        raise WrongField("blocks", t("A trial has at least one block."), t("Type on how many days each is cast once."))
    if half and len(settings) != MOST_FACTORS:
        raise WrongField("half", t("Only of three factors there is a half."), t("Leave it whole."))

"""Lanes: how benches that share one log give cast numbers that no other bench gives, without asking anybody."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Lane:
    """The last digit of this bench's cast numbers, 1 to 9: bench 2 gives 2, 12, 22, …"""

    digit: int

    def __post_init__(self) -> None:
        if not 1 <= self.digit <= 9:
            raise ValueError("a lane is a digit from 1 to 9")


def next_number(last: int, lane: Lane | None) -> int:
    """The number of the next cast after `last` (0: none yet): the next in the lane, or simply the next."""
    if lane is None:
        return last + 1
    return last + 1 + (lane.digit - last - 1) % 10

"""What a search comes to: the profile of a scale, or what was seen instead. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from station.scale.delivery import Delivery


@dataclass(frozen=True, slots=True)
class Profile:
    """What was found out about one scale.

    `unit` is the one to take where the frames carry none, `worth` what one of the last digit counts where they carry no
    point. `sure` says why, a sentence each.
    """

    port: str
    family: str
    baud: int
    character: str
    delivery: Delivery
    request: bytes | None = None
    unit: str | None = None
    worth: str = "1"
    sure: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NotFound:
    """No scale was found: what was seen instead, and the likeliest causes with their cures."""

    saw: str
    causes: tuple[str, ...]

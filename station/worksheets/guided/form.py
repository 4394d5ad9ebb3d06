"""What a worked plan is: steps with a worksheet filled in, and lines to follow by hand.

Its texts stand at import: they are marked with `N_`, and said with `t` where they are shown.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode


@dataclass(frozen=True, slots=True)
class ByHand:
    """One line to follow: what it is, the arithmetic as written, its result with its unit, and the figure it is.

    `figure` names a figure of the step's worksheet; a dot reaches into it ("masses_g.A").
    """

    what: str
    sum: str
    result: str
    figure: str


@dataclass(frozen=True, slots=True)
class Step:
    """A step: why, the worksheet with its fields filled in, and the lines to follow by hand."""

    title: str
    words: str
    sheet: str
    typed: Mapping[str, str]
    lines: tuple[ByHand, ...]

    @property
    def address(self) -> str:
        """Where the worksheet opens filled in like this and worked out."""
        return f"/work/{self.sheet}?{urlencode({'go': '1', **self.typed})}"


@dataclass(frozen=True, slots=True)
class Guide:
    """A worked plan."""

    key: str
    title: str
    words: str
    steps: tuple[Step, ...]

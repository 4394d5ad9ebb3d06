"""A figure, what it is held against, and the row that tells it: every benchmark's way to say what it found."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable
from dataclasses import asdict, dataclass

HEAD = "| what | measured | of the floor or the smaller | goal | kept |\n|---|---|---|---|---|"
AS_JSON = "--json"
SHORT = "--short"


@dataclass(frozen=True, slots=True)
class Figure:
    """`measured` in words and unit; `ratio`: against the floor, or the smaller case, of the same run.

    `kept` is None where nothing is promised.
    """

    what: str
    measured: str
    ratio: str = ""
    goal: str = ""
    kept: bool | None = None

    def row(self) -> str:
        """As a row of the table."""
        kept = {None: "", True: "yes", False: "**no**"}[self.kept]
        cells = (self.what, self.measured, self.ratio, self.goal, kept)
        return f"| {' | '.join(cell.replace('|', '/') for cell in cells)} |"


def at_most(what: str, value: float, limit: float, unit: str, ratio: str = "") -> Figure:
    """A figure that is to stay at or below `limit`."""
    return Figure(what, f"{value:.3g} {unit}", ratio, f"≤ {limit:g} {unit}", value <= limit)


def told(measure: Callable[[bool], Iterable[Figure]]) -> None:
    """Print the figures as they come: as a table, or a line of JSON each for the runner."""
    as_json = AS_JSON in sys.argv
    if not as_json:
        print(HEAD, flush=True)
    for figure in measure(SHORT in sys.argv):
        print(json.dumps(asdict(figure)) if as_json else figure.row(), flush=True)

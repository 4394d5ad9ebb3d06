"""What a batch record on paper says: words, drawings and pictures in their order, all as values."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from station.drawing.marks import Drawing
from station.paper.code import Modules


@dataclass(frozen=True, slots=True)
class Amount:
    """One ingredient. `where` shows how it lies in its band, None as long as nothing of it was accepted."""

    name: str
    planned: str
    actual: str
    where: Drawing | None
    told: tuple[str, ...]
    lot: str


@dataclass(frozen=True, slots=True)
class Section:
    """A heading with lines of cells; the first column is a label."""

    title: str
    lines: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Course:
    """How one component was poured: a drawing and its moments, or a sentence in `moments` why there is none."""

    title: str
    drawing: Drawing | None
    moments: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """A photo by its file, and what it shows."""

    file: Path
    words: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """The record of one cast. `foot` stands on each page; `url` and `code` lead to its page, empty when nowhere."""

    number: int
    title: str
    subtitle: str
    state: str
    warnings: tuple[str, ...]
    headings: tuple[str, str, str, str, str]
    amounts: tuple[Amount, ...]
    beside: tuple[Section, ...]
    below: tuple[Section, ...]
    courses: Section | None
    traces: tuple[Course, ...]
    photos_title: str
    photos: tuple[Shown, ...]
    cautions: Section | None
    foot: str
    url: str = ""
    code: Modules = ()

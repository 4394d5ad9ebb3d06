"""Shapes as a person writes them down, one a line: "box 120 80 30 mm", "minus 4 × cylinder 20 × 30 mm".

The words are those of the station's language; the English ones are read as well.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from station.casting.shapes import Shape
from station.casting.unit_names import length_unit
from station.casting.written import MayBeThousands, written
from station.errors import Refused
from station.quantities import NotAQuantity, length, volume
from station.texts import number, t, tc
from station.worksheets.room.shape_sorts import SORTS, accepted, shape_words

BARE = "mm"
MOST_OF_ONE = 1000


@dataclass(frozen=True, slots=True)
class Known:
    """A volume that is known already, from water or from a program; its surface is not."""

    volume_cm3: float
    surface_cm2: float = 0.0

    def __post_init__(self) -> None:
        if self.volume_cm3 <= 0:
            raise Refused(
                t("A volume of {volume} cm³ is none.", volume=number(self.volume_cm3)), t("It must be above zero.")
            )


@dataclass(frozen=True, slots=True)
class ShapeLine:
    """One line: `count` shapes, cut out when `minus`. `what` is the line without the minus, `rule` its formula."""

    shape: Shape
    count: int
    minus: bool
    what: str
    rule: str

    @property
    def said(self) -> str:
        """The line as it was understood."""
        return t("minus {shapes}", shapes=self.what) if self.minus else self.what

    @property
    def volume_cm3(self) -> float:
        """Of all `count` together, in cm³; not below zero."""
        return self.count * self.shape.volume_cm3


@cache
def _pattern(minus: str, times: str, sorts: tuple[str, ...]) -> re.Pattern[str]:
    """A line, with these words beside the English ones."""
    known = "|".join(re.escape(word) for word in sorted({*sorts, *SORTS, "volume"}, key=len, reverse=True))
    return re.compile(
        rf"\s*(?P<minus>(?:minus|less|{re.escape(minus)})\b|[-−])?"
        rf"\s*(?:(?P<count>\d{{1,4}})\s*(?:[x×*]|(?:times|{re.escape(times)})\b)\s*)?"
        rf"(?P<sort>{known})\b\s*(?P<sizes>.*)",
        re.IGNORECASE | re.DOTALL,
    )


_BETWEEN = re.compile(r"\s*[×*]\s*|\s+by\s+|(?<=[\s\d\"'″′a-z])x(?=\s*[\d.½¼¾⅛⅜⅝⅞])", re.IGNORECASE)


def shape_line(line: str) -> ShapeLine:
    """The shape of one line, mm meant where no unit stands. Raises Refused with the line and what is accepted."""
    called = shape_words()
    found = _pattern(
        tc("in a line of shapes", "minus"), tc("in a line of shapes", "times"), tuple(called.values())
    ).fullmatch(line)
    if found is None:
        raise Refused(
            t("{line} is not a shape.", line=repr(line)),
            t("Begin with minus or not, then one of: {accepted}.", accepted=accepted()),
        )
    count, typed = int(found["count"] or 1), found["sort"].casefold()
    name = next((sort for sort, word in called.items() if word.casefold() == typed), typed)
    if not 1 <= count <= MOST_OF_ONE:
        raise Refused(
            t("{line} has {count} of them.", line=repr(line), count=count),
            t("1 to {most} are taken.", most=MOST_OF_ONE),
        )
    times, minus = f"{count} × " if count > 1 else "", found["minus"] is not None
    try:
        if name == "volume":
            shape: Shape = Known(volume(found["sizes"], bare="cm3"))
            what = f"{times}{called[name]} {found['sizes'].strip()}"
            return ShapeLine(shape, count, minus, what, times + t("as given"))
        sort = SORTS[name]
        sizes = _sizes(found["sizes"])
        if len(sizes) != len(sort.sizes):
            raise Refused(
                t(
                    "{line} has {sizes} sizes; a {shape} has {needed}: {wanted}.",
                    line=repr(line),
                    sizes=len(sizes),
                    shape=called[name],
                    needed=len(sort.sizes),
                    wanted=", ".join(map(t, sort.sizes)),
                ),
                t(
                    'Write for example "{shape} {sizes} mm".',
                    shape=called[name],
                    sizes=" × ".join(str(20 + 10 * at) for at in range(len(sort.sizes))),
                ),
            )
        shape = sort.make(*sizes)
    except NotAQuantity as wrong:
        raise Refused(
            t("{line}: {wrong}", line=repr(line), wrong=wrong),
            t("Write the sizes with × between them and the unit at the end."),
        ) from None
    told = [number(size) for size in sizes]
    what = f"{times}{called[name]} {' × '.join(told)} mm"
    return ShapeLine(shape, count, minus, what, times + sort.rule.format(*told))


def _sizes(text: str) -> list[float]:
    """The sizes in mm; a unit after the last one holds for all that have none. Raises NotAQuantity."""
    parts = [part.strip() for part in _BETWEEN.split(text)]
    if len(parts) == 1:
        parts = _words(text)
    unit = _unit_of(parts[-1]) if parts else None
    return [length(part, bare=unit or BARE) for part in parts]


def _words(text: str) -> list[str]:
    """Sizes parted by blanks only; a unit on its own belongs to the size before it."""
    parts: list[str] = []
    for word in text.split():
        if parts and length_unit(word) is not None:
            parts[-1] += " " + word
        else:
            parts.append(word)
    return parts


def _unit_of(text: str) -> str | None:
    try:
        found = written(text)
    except MayBeThousands:
        return None
    return length_unit(found.rest) if found is not None and found.rest else None

"""Shapes as a person writes them down, one a line: "box 120 80 30 mm", "minus 4 × cylinder 20 × 30 mm"."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from station.casting.shapes import Box, Frustum, Ring, Shape, TaperedBox, cylinder
from station.casting.unit_names import length_unit
from station.casting.written import MayBeThousands, written
from station.errors import Refused
from station.quantities import NotAQuantity, length, volume

BARE = "mm"
MOST_OF_ONE = 1000


@dataclass(frozen=True, slots=True)
class Known:
    """A volume that is known already, from water or from a program; its surface is not."""

    volume_cm3: float
    surface_cm2: float = 0.0

    def __post_init__(self) -> None:
        if self.volume_cm3 <= 0:
            raise Refused(f"A volume of {self.volume_cm3:g} cm³ is none.", "It must be above zero.")


@dataclass(frozen=True, slots=True)
class ShapeLine:
    """One line: `count` shapes, cut out when `minus`. `said` is the line as it was understood, `rule` its formula."""

    shape: Shape
    count: int
    minus: bool
    said: str
    rule: str

    @property
    def volume_cm3(self) -> float:
        """Of all `count` together, in cm³; not below zero."""
        return self.count * self.shape.volume_cm3


@dataclass(frozen=True, slots=True)
class _Sort:
    """A sort of shape: which sizes it takes, in order, and the rule of its volume with them put in."""

    sizes: tuple[str, ...]
    make: Callable[..., Shape]
    rule: str


SORTS: dict[str, _Sort] = {
    "box": _Sort(("length", "width", "height"), Box, "{0} × {1} × {2} mm³ ÷ 1000"),
    "cylinder": _Sort(("diameter", "height"), cylinder, "π/4 × {0}² × {1} mm³ ÷ 1000"),
    "cup": _Sort(
        ("bottom diameter", "top diameter", "height"), Frustum, "π/12 × {2} × ({0}² + {0} × {1} + {1}²) mm³ ÷ 1000"
    ),
    "cone": _Sort(("bottom diameter", "height"), lambda d, h: Frustum(d, 0.0, h), "π/12 × {0}² × {1} mm³ ÷ 1000"),
    "tapered box": _Sort(
        ("bottom length", "bottom width", "top length", "top width", "height"),
        TaperedBox,
        "{4}/6 × ({0} × {1} + {2} × {3} + ({0} + {2}) × ({1} + {3})) mm³ ÷ 1000",
    ),
    "ring": _Sort(("diameter from middle to middle", "thickness"), Ring, "π²/4 × {0} × {1}² mm³ ÷ 1000"),
}
ACCEPTED = "; ".join(f"{name}: {', '.join(sort.sizes)}" for name, sort in SORTS.items()) + "; volume: 25 ml"

_LINE = re.compile(
    rf"\s*(?P<minus>minus\b|less\b|[-−])?\s*(?:(?P<count>\d{{1,4}})\s*(?:[x×*]|times\b)\s*)?"
    rf"(?P<sort>{'|'.join(sorted((*SORTS, 'volume'), key=len, reverse=True))})\b\s*(?P<sizes>.*)",
    re.IGNORECASE | re.DOTALL,
)
_BETWEEN = re.compile(r"\s*[×*]\s*|\s+by\s+|(?<=[\s\d\"'″′a-z])x(?=\s*[\d.½¼¾⅛⅜⅝⅞])", re.IGNORECASE)


def shape_line(line: str) -> ShapeLine:
    """The shape of one line, mm meant where no unit stands. Raises Refused with the line and what is accepted."""
    found = _LINE.fullmatch(line)
    if found is None:
        raise Refused(f"{line!r} is not a shape.", f"Begin with minus or not, then one of: {ACCEPTED}.")
    count, name = int(found["count"] or 1), found["sort"].lower()
    if not 1 <= count <= MOST_OF_ONE:
        raise Refused(f"{line!r} has {count} of them.", f"1 to {MOST_OF_ONE} are taken.")
    times, minus = f"{count} × " if count > 1 else "", found["minus"] is not None
    prefix = f"{'minus ' if minus else ''}{times}"
    try:
        if name == "volume":
            shape: Shape = Known(volume(found["sizes"], bare="cm3"))
            return ShapeLine(shape, count, minus, f"{prefix}volume {found['sizes'].strip()}", f"{times}as given")
        sort = SORTS[name]
        sizes = _sizes(found["sizes"])
        if len(sizes) != len(sort.sizes):
            wanted = ", ".join(sort.sizes)
            raise Refused(
                f"{line!r} has {len(sizes)} sizes; a {name} has {len(sort.sizes)}: {wanted}.",
                f'Write for example "{name} {" × ".join(str(20 + 10 * at) for at in range(len(sort.sizes)))} mm".',
            )
        shape = sort.make(*sizes)
    except NotAQuantity as wrong:
        raise Refused(f"{line!r}: {wrong}", "Write the sizes with × between them and the unit at the end.") from None
    told = [f"{size:g}" for size in sizes]
    return ShapeLine(shape, count, minus, f"{prefix}{name} {' × '.join(told)} mm", times + sort.rule.format(*told))


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

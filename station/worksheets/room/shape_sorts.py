"""The plain shapes that are known: what each is called, which sizes it takes, and the rule of its volume."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from station.casting.shapes import Box, Frustum, Ring, Shape, TaperedBox, cylinder
from station.texts import N_, t, tc


@dataclass(frozen=True, slots=True)
class Sort:
    """A sort of shape: which sizes it takes, in order, and the rule of its volume with them put in."""

    sizes: tuple[str, ...]
    make: Callable[..., Shape]
    rule: str


SORTS: dict[str, Sort] = {
    "box": Sort((N_("length"), N_("width"), N_("height")), Box, "{0} × {1} × {2} mm³ ÷ 1000"),
    "cylinder": Sort((N_("diameter"), N_("height")), cylinder, "π/4 × {0}² × {1} mm³ ÷ 1000"),
    "cup": Sort(
        (N_("bottom diameter"), N_("top diameter"), N_("height")),
        Frustum,
        "π/12 × {2} × ({0}² + {0} × {1} + {1}²) mm³ ÷ 1000",
    ),
    "cone": Sort(
        (N_("bottom diameter"), N_("height")), lambda d, h: Frustum(d, 0.0, h), "π/12 × {0}² × {1} mm³ ÷ 1000"
    ),
    "tapered box": Sort(
        (N_("bottom length"), N_("bottom width"), N_("top length"), N_("top width"), N_("height")),
        TaperedBox,
        "{4}/6 × ({0} × {1} + {2} × {3} + ({0} + {2}) × ({1} + {3})) mm³ ÷ 1000",
    ),
    "ring": Sort((N_("diameter from middle to middle"), N_("thickness")), Ring, "π²/4 × {0} × {1}² mm³ ÷ 1000"),
}


def shape_words() -> dict[str, str]:
    """What each sort of shape, and a known volume, is called in the station's language."""
    return {
        "box": tc("shape", "box"),
        "cylinder": tc("shape", "cylinder"),
        "cup": tc("shape", "cup"),
        "cone": tc("shape", "cone"),
        "tapered box": tc("shape", "tapered box"),
        "ring": tc("shape", "ring"),
        "volume": tc("shape", "volume"),
    }


def accepted() -> str:
    """The shapes that are known, each with the sizes it takes."""
    called = shape_words()
    sorts = [f"{called[name]}: {', '.join(map(t, sort.sizes))}" for name, sort in SORTS.items()]
    return "; ".join((*sorts, f"{called['volume']}: 25 ml"))

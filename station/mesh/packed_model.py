"""One model part of a 3MF file, read as it comes: objects with corners and facets, and where they are placed."""

from __future__ import annotations

from array import array
from dataclasses import dataclass, field
from xml.parsers import expat

import numpy as np
from numpy.typing import NDArray

from station.errors import Refused
from station.mesh.kinds import too_many
from station.mesh.limits import MOST_FACETS
from station.texts import t

PRODUCTION = "http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
DEEPEST = 32


@dataclass(frozen=True, slots=True)
class Placed:
    """An object of a part (path, id) and where it stands: a row vector is multiplied by `where`."""

    path: str
    key: str
    where: NDArray[np.float64]


@dataclass(slots=True)
class Solid:
    """An object: a mesh, or other objects. `support` material is no part of the piece."""

    support: bool
    points: array[float] = field(default_factory=lambda: array("d"))
    facets: array[int] = field(default_factory=lambda: array("q"))
    parts: list[Placed] = field(default_factory=list)


class Model:
    """Reads one part, block by block. Raises Refused, or ExpatError for what is no XML."""

    def __init__(self, path: str) -> None:
        self.path = path
        self.unit = "millimeter"
        self.solids: dict[str, Solid] = {}
        self.build: list[Placed] = []
        self._solid: Solid | None = None
        self._depth = 0
        self._facets = 0
        self._parser = expat.ParserCreate(namespace_separator=" ")
        self._parser.StartElementHandler = self._starts
        self._parser.EndElementHandler = self._ends
        self._parser.StartDoctypeDeclHandler = _no_doctype

    def feed(self, block: bytes) -> None:
        """Takes the next bytes."""
        self._parser.Parse(block, False)

    def end(self) -> None:
        """The part is complete."""
        self._parser.Parse(b"", True)

    def _starts(self, name: str, given: dict[str, str]) -> None:
        self._depth += 1
        if self._depth > DEEPEST:
            raise Refused(t("The model in the 3MF file is nested too deeply."), t("Save it again as one mesh."))
        try:
            self._takes(name.rpartition(" ")[2], given)
        except (KeyError, ValueError, OverflowError):
            line = self._parser.CurrentLineNumber
            words = t("Line {line} of the 3MF model cannot be read.", line=line)
            raise Refused(words, t("It is damaged. Save it again.")) from None

    def _takes(self, name: str, given: dict[str, str]) -> None:
        solid = self._solid
        if name == "vertex" and solid is not None:
            solid.points.extend((float(given["x"]), float(given["y"]), float(given["z"])))
        elif name == "triangle" and solid is not None:
            self._facets += 1
            if self._facets > MOST_FACETS:
                raise too_many(self._facets)
            solid.facets.extend((int(given["v1"]), int(given["v2"]), int(given["v3"])))
        elif name == "object":
            self._solid = self.solids[given["id"]] = Solid(given.get("type") in ("support", "solidsupport"))
        elif name == "component" and solid is not None:
            solid.parts.append(self._placed(given))
        elif name == "item":
            self.build.append(self._placed(given))
        elif name == "model":
            self.unit = given.get("unit", "millimeter")

    def _placed(self, given: dict[str, str]) -> Placed:
        path = given.get(f"{PRODUCTION} path", self.path)
        return Placed("/" + path.lstrip("/").lower(), given["objectid"], _where(given.get("transform")))

    def _ends(self, name: str) -> None:
        self._depth -= 1
        if name.rpartition(" ")[2] == "object":
            self._solid = None


def _where(text: str | None) -> NDArray[np.float64]:
    """The twelve numbers of a transform, row by row: three for each axis, then the shift."""
    whole = np.eye(4)
    if text is not None:
        whole[:, :3] = np.array([float(number) for number in text.split()]).reshape(4, 3)
    return whole


def _no_doctype(*_: object) -> None:
    raise Refused(t("The model in the 3MF file declares a document type, which none needs."), t("It is not taken."))

"""A mesh file into corners and facets. Runs in the child: whatever a damaged file does here, it does there."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass
from typing import Any, BinaryIO

import numpy as np
from numpy.typing import NDArray

from station.errors import Refused, StationError
from station.mesh.kinds import HEADER, MeshKind, too_many
from station.mesh.limits import MOST_FACETS
from station.mesh.packed import read_packed
from station.texts import N_, number, t

Points = NDArray[np.float64]
Facets = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Mesh:
    """Corners and facets in the file's own unit, which is so many mm when the file states it."""

    points: Points
    facets: Facets
    unit_mm: float | None = None


def read(file: BinaryIO, kind: MeshKind) -> Mesh:
    """Reads a mesh. Raises Refused with a sentence, or MemoryError."""
    try:
        match kind:
            case MeshKind.STL:
                found = _stl(file)
            case MeshKind.PACKED:
                points, facets, unit_mm = read_packed(file)
                found = Mesh(points, facets, unit_mm)
            case _:
                found = _by_library(file, kind)
    except (StationError, MemoryError):
        raise
    except Exception as why:
        # The library has no exception of its own for a damaged file: it may be any.
        text, error = N_("The file begins like {kind}, but cannot be read on ({error})."), type(why).__name__
        words = t(text, kind=t(kind.value), error=error)
        raise Refused(words, t("It is damaged or cut off. Save it again.")) from why
    if len(found.facets) > MOST_FACETS:
        raise too_many(len(found.facets))
    return found


def _stl(file: BinaryIO) -> Mesh:
    """Binary STL: a header of 84 bytes, then for each facet a normal and three corners as float32 and two bytes."""
    file.seek(HEADER)
    raw = np.frombuffer(file.read(), dtype=np.dtype([("corners", "<f4", (4, 3)), ("more", "<u2")]))
    points = raw["corners"][:, 1:, :].astype(np.float64).reshape(-1, 3)
    return Mesh(points, np.arange(len(points), dtype=np.int64).reshape(-1, 3))


def _by_library(file: BinaryIO, kind: MeshKind) -> Mesh:
    import trimesh

    content = file.read()
    promised = _promised(content[:65536]) if kind is MeshKind.PLY else 0
    if kind is MeshKind.OBJ and (count := content.count(b"\nf ")) > MOST_FACETS:
        raise too_many(count)
    name = {MeshKind.STL_TEXT: "stl_ascii", MeshKind.OBJ: "obj", MeshKind.PLY: "ply"}[kind]
    options: dict[str, Any] = {"skip_materials": True} if kind is MeshKind.OBJ else {}
    loaded: Any = trimesh.load(io.BytesIO(content), file_type=name, process=False, force="mesh", **options)
    facets = getattr(loaded, "faces", None)
    if facets is None or len(facets) == 0:
        raise Refused(
            t("There are points in the file, but no facet, so no surface."), t("Save it as a mesh of triangles.")
        )
    if len(facets) < promised:
        text = N_("The file says that it holds {promised} facets; it has {count}.")
        words = t(text, promised=number(promised, ","), count=number(len(facets), ","))
        raise Refused(words, t("It was cut off while it was copied. Send it again."))
    return Mesh(np.asarray(loaded.vertices, dtype=np.float64), np.asarray(facets, dtype=np.int64))


def _promised(head: bytes) -> int:
    """Facets that a PLY header tells of. Raises Refused when it tells of too much."""
    promised = 0
    end = head.find(b"end_header")
    if end < 0:
        raise Refused(t("The header of the PLY file has no end."), t("It is damaged or cut off. Save it again."))
    for element, digits in re.findall(rb"element\s+(\w+)\s+(\d+)", head[:end]):
        count = int(digits[:20])
        if element == b"face":
            promised = count
            if count > MOST_FACETS:
                raise too_many(count)
        if count > 3 * MOST_FACETS:
            words = t(
                "The PLY file says that it holds {count} of {element}.",
                count=number(count, ","),
                element=element.decode(),
            )
            raise Refused(words, t("Save it coarser."))
    return promised

"""3MF: a zip file with a model in XML, which states its unit and may hold several objects, each used many times.

Written from the 3MF Core Specification (sections on units, objects, components and the build). Runs in the child.
Nothing is believed: sizes are counted while unpacking, a document type is refused, objects may not hold each other.
"""

from __future__ import annotations

import posixpath
import zipfile
from collections.abc import Iterator
from typing import BinaryIO
from xml.parsers import expat

import numpy as np
from numpy.typing import NDArray

from station.confined.limits import MB
from station.errors import Refused
from station.mesh.kinds import ACCEPTED, too_many
from station.mesh.limits import MOST_FACETS, MOST_PARTS, MOST_UNPACKED
from station.mesh.packed_model import Model, Placed, Solid
from station.texts import N_, t

Points = NDArray[np.float64]
Facets = NDArray[np.int64]

ROOT = "/3d/3dmodel.model"
UNITS_MM = {"micron": 0.001, "millimeter": 1.0, "centimeter": 10.0, "inch": 25.4, "foot": 304.8, "meter": 1000.0}
"""As the specification names them; millimetres when it is left out."""
DEEPEST = 32
MOST_PLACED = 10_000

AGAIN = N_("It is damaged or cut off. Save it again.")


def read_packed(file: BinaryIO) -> tuple[Points, Facets, float]:
    """Corners, facets and the file's unit in mm, of everything that its build places. Raises Refused."""
    try:
        with zipfile.ZipFile(file) as archive:
            models = dict(_models(archive))
    except expat.ExpatError as why:
        words = t("The model in the 3MF file is no proper XML (line {line}).", line=why.lineno)
        raise Refused(words, t(AGAIN)) from None
    except (zipfile.BadZipFile, EOFError, OSError) as why:
        raise Refused(t("The 3MF file cannot be unpacked."), t(AGAIN)) from why
    except (RuntimeError, NotImplementedError) as why:
        words = t("The 3MF file is locked or packed in an unusual way.")
        raise Refused(words, t("Save it again, without a lock.")) from why
    main = models.get(ROOT) or next(iter(models.values()), None)
    if main is None:
        raise Refused(t("This is a zip file without a 3MF model in it."), t(ACCEPTED))
    if main.unit not in UNITS_MM:
        words = t("The 3MF file states an unknown unit ({unit}).", unit=repr(main.unit[:20]))
        raise Refused(words, t("Save it in millimetres."))
    points, facets = _built(models, main)
    return points, facets, UNITS_MM[main.unit]


def _models(archive: zipfile.ZipFile) -> Iterator[tuple[str, Model]]:
    parts = archive.infolist()
    total = sum(part.file_size for part in parts)
    if len(parts) > MOST_PARTS or total > MOST_UNPACKED:
        raise _bomb()
    left = MOST_UNPACKED
    for part in parts:
        path = "/" + part.filename.lstrip("/").lower()
        if not path.endswith(".model"):
            continue
        model = Model(path)
        with archive.open(part) as stream:
            while block := stream.read(65536):
                # The directory of the archive may lie about the length.
                left -= len(block)
                if left < 0:
                    raise _bomb()
                model.feed(block)
        model.end()
        yield path, model


def _bomb() -> Refused:
    return Refused(
        t("Unpacked, the 3MF file would take more than {most} MB.", most=MOST_UNPACKED // MB),
        t("Save it with fewer facets."),
    )


def _built(models: dict[str, Model], main: Model) -> tuple[Points, Facets]:
    found: list[tuple[Points, Facets]] = []
    count = 0
    # What is not placed by a build is still a part, in files of programs that write none.
    begin = main.build or [Placed(main.path, key, np.eye(4)) for key in main.solids]
    waiting = [(placed, placed.where, 0) for placed in reversed(begin)]
    handled = 0
    while waiting:
        placed, where, depth = waiting.pop()
        handled += 1
        solid = _solid(models, placed)
        if handled > MOST_PLACED or depth > DEEPEST:
            raise Refused(t("Objects of the 3MF file hold each other too often."), t("Save it again as one mesh."))
        if solid.support:
            continue
        for inner in reversed(solid.parts):
            waiting.append((inner, inner.where @ where, depth + 1))
        if not len(solid.facets):
            continue
        count += len(solid.facets) // 3
        if count > MOST_FACETS:
            raise too_many(count)
        found.append(_moved(solid, where))
    if not found:
        raise Refused(t("There is no facet in the 3MF file."), t("Save it again; the part was not in it."))
    offsets = np.cumsum([0, *(len(points) for points, _ in found)])
    points = np.concatenate([points for points, _ in found])
    return points, np.concatenate([facets + offset for (_, facets), offset in zip(found, offsets[:-1], strict=True)])


def _solid(models: dict[str, Model], placed: Placed) -> Solid:
    model = models.get(posixpath.normpath(placed.path))
    solid = None if model is None else model.solids.get(placed.key)
    if solid is None:
        words = t("The 3MF file uses an object {key} that is not in it.", key=repr(placed.key[:20]))
        raise Refused(words, t(AGAIN))
    return solid


def _moved(solid: Solid, where: NDArray[np.float64]) -> tuple[Points, Facets]:
    points = np.frombuffer(solid.points, dtype=np.float64).reshape(-1, 3)
    facets = np.frombuffer(solid.facets, dtype=np.int64).reshape(-1, 3)
    if facets.min() < 0 or facets.max() >= len(points):
        raise Refused(t("A facet names a corner that is not in the file."), t("Save it again; the file is damaged."))
    if np.linalg.det(where[:3, :3]) < 0:
        facets = facets[:, ::-1]
    return points @ where[:3, :3] + where[3, :3], facets

"""What the facets of a mesh enclose: volume, area, bodies, hollows, and where the surface leaks. Runs in the child.

Volume by signed tetrahedra, V = 1/6 Σ a · (b × c), about the middle of the mesh in double precision: far from the
origin the terms cancel badly. An open surface encloses nothing, so it gets no volume.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from station.errors import Refused
from station.mesh import winding
from station.mesh.edges import Edges, labelled, merged
from station.texts import t

Points = NDArray[np.float64]
Facets = NDArray[np.int64]

FARTHEST = 1e7
"""Ten kilometres of millimetres: no positive, but a damaged number."""
FLAT = 1e-6
"""Below this part of its longest side a mesh has no thickness; of its bounding box, no volume."""
LEAKS_TOLD = 10


@dataclass(frozen=True, slots=True)
class Shape:
    """In the file's own unit. `points` are about the middle of the bounding box, `facets` turned outward.

    `volume` is None unless `closed` and `consistent`. `leaks` are (x, y, z, rim, edges), the longest first.
    """

    points: Points
    facets: Facets
    extents: tuple[float, float, float]
    volume: float | None
    area: float
    bodies: int
    hollows: int
    closed: bool
    consistent: bool
    inverted: bool
    turned: int
    leaks: tuple[tuple[float, float, float, float, int], ...]
    leaking: int
    open_edges: int


def shape(points: Points, facets: Facets) -> Shape:
    """Measures a mesh. Raises Refused with a sentence when it is no body at all."""
    if len(facets) == 0:
        raise Refused(t("There is no facet in the file, so no surface."), t("Save it again as a mesh of triangles."))
    if facets.min() < 0 or facets.max() >= len(points):
        raise Refused(t("A facet names a corner that is not in the file."), t("Save it again; the file is damaged."))
    used = points[facets.reshape(-1)] if len(points) > 3 * len(facets) else points
    if not np.isfinite(used).all():
        raise Refused(t("A coordinate in the file is no number."), t("Save it again; the file is damaged."))
    low, high = used.min(axis=0), used.max(axis=0)
    extents = high - low
    del used
    if max(np.abs(low).max(), np.abs(high).max()) > FARTHEST:
        raise Refused(t("A coordinate in the file is more than ten million."), t("Save it again near the origin."))
    _not_flat(extents)
    points = points - (low + high) / 2
    points, facets = merged(points, facets, float(extents.max()))
    edges = Edges(facets)
    closed = not edges.odd.any()
    turned = 0
    if closed and edges.unbalanced.any():
        facets, turned = winding.made_consistent(facets, edges)
        edges = Edges(facets)
    consistent = not closed or not edges.unbalanced.any()
    body, bodies = labelled(facets, len(points))
    area, signed = _sums(points, facets, body, bodies)
    hollows, volume, inverted = 0, None, False
    if closed and consistent:
        turn, hollows, inverted = winding.outward(points, facets, body, signed)
        facets = np.where(turn[body][:, None], facets[:, ::-1], facets) if turn.any() else facets
        volume = float(np.where(turn, -signed, signed).sum())
        if volume <= FLAT * float(np.prod(extents)):
            raise Refused(t("The surface closes, but there is no room in it."), t("Give the part a thickness."))
    leaks = () if closed else _leaks(points, edges)
    return Shape(
        points=points,
        facets=facets,
        extents=(float(extents[0]), float(extents[1]), float(extents[2])),
        volume=volume,
        area=area,
        bodies=bodies - hollows,
        hollows=hollows,
        closed=closed,
        consistent=consistent,
        inverted=inverted,
        turned=turned,
        leaks=leaks[:LEAKS_TOLD],
        leaking=len(leaks),
        open_edges=int(edges.odd.sum()),
    )


def _not_flat(extents: NDArray[np.float64]) -> None:
    longest = float(extents.max())
    if longest <= 0:
        raise Refused(t("All corners of the mesh lie in one point."), t("Save it again; the file is damaged."))
    for side, name in zip(extents, ("x", "y", "z"), strict=True):
        if side <= FLAT * longest:
            words = t("The mesh is flat: it has no thickness along {axis}.", axis=name)
            raise Refused(words, t("Give the part a thickness."))


def _sums(points: Points, facets: Facets, body: Facets, bodies: int) -> tuple[float, NDArray[np.float64]]:
    """Area, and the signed volume of each body; in slices, to spare memory."""
    area, signed = 0.0, np.zeros(bodies)
    for start in range(0, len(facets), 200_000):
        part = facets[start : start + 200_000]
        a, b, c = points[part[:, 0]], points[part[:, 1]], points[part[:, 2]]
        area += float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum()) / 2
        six = np.einsum("ij,ij->i", a, np.cross(b, c))
        signed += np.bincount(body[start : start + 200_000], weights=six, minlength=bodies) / 6
    return area, signed


def _leaks(points: Points, edges: Edges) -> tuple[tuple[float, float, float, float, int], ...]:
    """The open edges that hang together, each as one hole."""
    one, two = edges.ends(edges.odd)
    corners, inverse = np.unique(np.concatenate([one, two]), return_inverse=True)
    pairs = inverse.reshape(2, -1).T
    hole, count = labelled(pairs, len(corners))
    middle = (points[one] + points[two]) / 2
    rim = np.linalg.norm(points[one] - points[two], axis=1)
    number = np.bincount(hole, minlength=count)
    rims = np.bincount(hole, weights=rim, minlength=count)
    at = [np.bincount(hole, weights=middle[:, axis], minlength=count) / number for axis in range(3)]
    found = [(float(at[0][i]), float(at[1][i]), float(at[2][i]), float(rims[i]), int(number[i])) for i in range(count)]
    return tuple(sorted(found, key=lambda leak: -leak[3]))

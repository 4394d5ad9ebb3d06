"""Corners that are one, edges that facets share, and what hangs together. Runs in the child."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Facets = NDArray[np.int64]

STEPS = 2**21 - 2
"""Corners closer than the longest side divided by this are one; three such counts fit into 63 bits."""


def merged(points: Points, facets: Facets, longest: float) -> tuple[Points, Facets]:
    """Corners that lie in one place made one; facets that shrink to a line by it are left out.

    `points` are about the middle of their bounding box, whose longest side is `longest`.
    """
    packed = np.zeros(len(points), dtype=np.int64)
    for axis in range(3):
        # Unused corners may lie anywhere, but must not wrap round.
        grid = np.clip(np.rint((points[:, axis] / longest + 0.5) * (STEPS - 1)), 0, STEPS)
        packed = (packed << 21) | grid.astype(np.int64)
    _, first, inverse = np.unique(packed, return_index=True, return_inverse=True)
    del packed
    facets = inverse[facets]
    real = (facets[:, 0] != facets[:, 1]) & (facets[:, 1] != facets[:, 2]) & (facets[:, 2] != facets[:, 0])
    return points[first], facets if real.all() else facets[real]


class Edges:
    """The edges of a mesh: how often facets use each, and how often in one direction more than in the other."""

    def __init__(self, facets: Facets) -> None:
        ends = np.concatenate([facets[:, [0, 1]], facets[:, [1, 2]], facets[:, [2, 0]]])
        self._size = int(facets.max()) + 1 if len(facets) else 1
        low, high = ends.min(axis=1), ends.max(axis=1)
        self.forward: NDArray[np.bool_] = ends[:, 0] < ends[:, 1]
        del ends
        key = low * self._size + high
        del low, high
        self.keys, self.of_side, self.uses = np.unique(key, return_inverse=True, return_counts=True)
        """`of_side` numbers the edge of each side: the first sides of all facets, the second ones, the third ones."""
        forward = np.bincount(self.of_side[self.forward], minlength=len(self.keys))
        self.odd: NDArray[np.bool_] = self.uses % 2 == 1
        self.unbalanced: NDArray[np.bool_] = 2 * forward != self.uses

    def ends(self, which: NDArray[np.bool_]) -> tuple[Facets, Facets]:
        """The two corners of each of these edges."""
        keys = self.keys[which]
        return keys // self._size, keys % self._size


def labelled(groups: Facets, corners: int) -> tuple[NDArray[np.int64], int]:
    """A number for each row of corners, the same for rows that hang together by shared corners; and how many."""
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import connected_components

    one = np.concatenate([groups[:, 0]] * (groups.shape[1] - 1)).astype(np.int32)
    two = np.concatenate([groups[:, k] for k in range(1, groups.shape[1])]).astype(np.int32)
    links = coo_matrix((np.ones(len(one), dtype=np.int8), (one, two)), shape=(corners, corners))
    _, label = connected_components(links, directed=False)
    _, compact = np.unique(label[groups[:, 0]], return_inverse=True)
    return compact.astype(np.int64), int(compact.max()) + 1 if len(compact) else 0

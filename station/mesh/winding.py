"""Which side of a surface is outside: facets that contradict their neighbours, bodies inside out, hollows.

Runs in the child.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from station.errors import Refused
from station.mesh.edges import Edges
from station.texts import number, t

Points = NDArray[np.float64]
Facets = NDArray[np.int64]

MOST_JUDGED = 1000
"""Bodies that are looked at one by one."""


def made_consistent(facets: Facets, edges: Edges) -> tuple[Facets, int]:
    """Facets turned so that neighbours agree, as few as possible in each body; and how many were turned.

    Where more than two facets meet in an edge, or the surface has one side only, it is given back as it was.
    """
    if (edges.uses != 2).any():
        return facets, 0
    count = len(facets)
    order = np.argsort(edges.of_side, kind="stable")
    one, two = order[0::2] % count, order[1::2] % count
    differs = edges.forward[order[0::2]] == edges.forward[order[1::2]]
    turn = _two_colours(one, two, differs, count)
    if turn is None:
        return facets, 0
    return np.where(turn[:, None], facets[:, ::-1], facets), int(turn.sum())


def _two_colours(one: Facets, two: Facets, differs: NDArray[np.bool_], count: int) -> NDArray[np.bool_] | None:
    """Which facets to turn: neighbours over an edge that `differs` get different answers. None if it cannot be.

    Each facet stands in the graph twice, as it is and turned; linked are the states that agree.
    """
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import connected_components

    shift = np.where(differs, count, 0)
    rows = np.concatenate([one, one + count])
    columns = np.concatenate([two + shift, two + count - shift])
    links = coo_matrix((np.ones(len(rows), dtype=np.int8), (rows, columns)), shape=(2 * count, 2 * count))
    _, label = connected_components(links, directed=False)
    as_is, turned = label[:count], label[count:]
    if (as_is == turned).any():
        return None
    # Of the two ways to colour a body, the one that leaves more facets as they are.
    votes = np.bincount(as_is, minlength=int(label.max()) + 1)
    chosen: NDArray[np.bool_] = votes[turned] > votes[as_is]
    tie = votes[turned] == votes[as_is]
    chosen[tie] = turned[tie] < as_is[tie]
    return chosen


def outward(
    points: Points, facets: Facets, body: Facets, signed: NDArray[np.float64]
) -> tuple[NDArray[np.bool_], int, bool]:
    """Which bodies to turn, how many of them are hollows in others, and whether anything was inside out.

    A body of negative volume in the bounding box of a positive one is a hollow. Raises
    Refused when there are too many to look at.
    """
    turn = np.zeros(len(signed), dtype=bool)
    whole = signed.sum() < 0
    if whole:
        turn[:] = True
    now = np.where(turn, -signed, signed)
    if (now >= 0).all():
        return turn, 0, bool(whole)
    low, high = _boxes(points, facets, body, len(signed))
    solid = np.flatnonzero(now > 0)
    hollows = 0
    wrong = False
    inside_out = np.flatnonzero(now < 0)
    if len(inside_out) > MOST_JUDGED:
        raise Refused(
            t("{n} bodies of the mesh are inside out.", n=number(len(inside_out), ",")),
            t("Save it again as one whole body."),
        )
    for one in inside_out:
        holds = (low[solid] <= low[one]).all(axis=1) & (high[solid] >= high[one]).all(axis=1)
        if (holds & (now[solid] > -now[one])).any():
            hollows += 1
        else:
            turn[one] = ~turn[one]
            wrong = True
    return turn, hollows, bool(whole or wrong)


def _boxes(points: Points, facets: Facets, body: Facets, bodies: int) -> tuple[Points, Points]:
    low = np.full((bodies, 3), np.inf)
    high = np.full((bodies, 3), -np.inf)
    for corner in range(3):
        at = points[facets[:, corner]]
        np.minimum.at(low, body, at)
        np.maximum.at(high, body, at)
    return low, high

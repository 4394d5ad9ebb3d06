"""A picture of a positive: front, side and top to one scale, arranged as on a drawing (ISO 5456-2, third angle).

Shaded by own arithmetic: each facet is strewn with points, of which the nearest in each dot is kept. Middle greys on
nothing, so that it shows on a light and on a dark page. Runs in the child.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

Points = NDArray[np.float64]
Facets = NDArray[np.int64]
Dots = NDArray[np.float32]

WIDEST, HIGHEST = 960, 900
GAP, EDGE = 40, 26
FINER = 2
"""Drawn so much larger, then made smaller: soft edges."""
DENSITY = 2.5
"""Strewn points for each dot of a facet as it is seen."""
MOST_STREWN = 6_000_000
"""In one view: a mesh of many layers is drawn with gaps rather than for minutes."""
AT_ONCE = 400_000
DARKEST, LIGHTEST = 84.0, 196.0

VIEWS = (("front", 0, 2, 1, -1.0), ("side", 1, 2, 0, 1.0), ("top", 0, 1, 2, 1.0))
"""Name, axis to the right, axis upward, axis along which one looks, and on which side of it the eye is."""


def drawn(points: Points, facets: Facets, extents: tuple[float, ...], leaks: tuple[tuple[float, ...], ...]) -> bytes:
    """A PNG of the mesh about the middle of its box; leaks are ringed and numbered."""
    x, y, z = extents
    scale = min((WIDEST - GAP - 2 * EDGE) / (x + y), (HIGHEST - GAP - 2 * EDGE) / (y + z))
    wide, deep, high = (max(1, round(side * scale)) for side in extents)
    picture = Image.new("RGBA", (wide + deep + GAP + 2 * EDGE, high + deep + GAP + 2 * EDGE), (0, 0, 0, 0))
    corner = {
        "top": (EDGE, EDGE),
        "front": (EDGE, EDGE + deep + GAP),
        "side": (EDGE + wide + GAP, EDGE + deep + GAP),
    }
    pen = ImageDraw.Draw(picture)
    font = ImageFont.load_default(17)
    for name, right, up, along, eye in VIEWS:
        left, top = corner[name]
        shaded = _view(points, facets, extents, scale, (right, up, along, eye))
        picture.paste(shaded, (left, top))
        pen.text((left, top - 22), name, fill=(128, 128, 128, 255), font=font)
        for number, leak in enumerate(leaks, 1):
            at = left + (leak[right] + extents[right] / 2) * scale, top + (extents[up] / 2 - leak[up]) * scale
            _ring(pen, at, str(number), font)
    kept = io.BytesIO()
    picture.save(kept, "PNG", optimize=False)
    return kept.getvalue()


def _ring(pen: ImageDraw.ImageDraw, at: tuple[float, float], text: str, font: Any) -> None:
    x, y = at
    for radius, grey, width in ((10, 0, 5), (9, 255, 2)):
        pen.ellipse((x - radius, y - radius, x + radius, y + radius), outline=(grey, grey, grey, 255), width=width)
    pen.text((x + 12, y - 10), text, fill=(255, 255, 255, 255), stroke_width=2, stroke_fill=(0, 0, 0, 255), font=font)


def _view(
    points: Points, facets: Facets, extents: tuple[float, ...], scale: float, seen: tuple[int, int, int, float]
) -> Image.Image:
    right, up = seen[:2]
    fine = scale * FINER
    width, height = (max(FINER, round(extents[axis] * scale) * FINER) for axis in (right, up))
    depth = np.full(width * height, -np.inf, dtype=np.float32)
    grey = np.zeros(width * height, dtype=np.float32)
    for place, near, shade in _strewn(points, facets, extents, fine, seen):
        column = np.clip(place[:, 0].astype(np.int64), 0, width - 1)
        row = np.clip(height - 1 - place[:, 1].astype(np.int64), 0, height - 1)
        dot = row * width + column
        np.maximum.at(depth, dot, near)
        nearest = near >= depth[dot]
        grey[dot[nearest]] = shade[nearest]
    near_by, lit = depth.reshape(height, width), grey.reshape(height, width)
    for _ in range(2):
        near_by, lit = _without_pinholes(near_by, lit, 3 / fine)
    pixels = np.zeros((height, width, 4), dtype=np.uint8)
    pixels[..., :3] = lit[..., None]
    pixels[..., 3] = np.where(np.isfinite(near_by), 255, 0)
    whole = Image.fromarray(pixels, "RGBA")
    return whole.resize((width // FINER, height // FINER), Image.Resampling.BOX)


def _without_pinholes(depth: Dots, grey: Dots, step: float) -> tuple[Dots, Dots]:
    """Dots that no strewn point hit, or only one far behind, take the nearest of the dots around them."""
    around = np.pad(depth, 1, constant_values=-np.inf)
    greys = np.pad(grey, 1)
    height, width = depth.shape
    nearer = np.zeros(depth.shape, dtype=np.int8)
    best, best_grey = depth.copy(), grey.copy()
    for down, aside in ((0, 0), (0, 1), (0, 2), (1, 0), (1, 2), (2, 0), (2, 1), (2, 2)):
        here = around[down : down + height, aside : aside + width]
        nearer += here > depth + step
        takes = here > best
        best = np.where(takes, here, best)
        best_grey = np.where(takes, greys[down : down + height, aside : aside + width], best_grey)
    hole = nearer >= 5
    return np.where(hole, best, depth), np.where(hole, best_grey, grey)


def _strewn(
    points: Points, facets: Facets, extents: tuple[float, ...], fine: float, seen: tuple[int, int, int, float]
) -> Iterator[tuple[Points, NDArray[np.float32], NDArray[np.float32]]]:
    """Points strewn over the facets, slice by slice: dot to the right and upward, nearness, grey."""
    right, up, along, eye = seen
    light = np.zeros(3)
    light[[right, up, along]] = (-0.35, 0.5, 0.79 * eye)
    thinned = 1.0
    for part in _slices(facets):
        a, b, c = (points[part[:, corner]] for corner in range(3))
        normal = np.cross(b - a, c - a)
        thinned = max(thinned, DENSITY * fine**2 * float(np.abs(normal[:, along]).sum()) / 2 / MOST_STREWN * 5)
    for part in _slices(facets):
        a, b, c = (points[part[:, corner]] for corner in range(3))
        normal = np.cross(b - a, c - a)
        long = np.linalg.norm(normal, axis=1)
        bright = np.abs(normal @ light) / np.where(long > 0, long, 1)
        shade = (DARKEST + (LIGHTEST - DARKEST) * np.clip(bright, 0, 1)).astype(np.float32)
        number = 1 + (DENSITY * fine**2 * np.abs(normal[:, along]) / 2 / thinned).astype(np.int64)
        ends = np.cumsum(number)
        done = 0
        while done < len(part):
            before = int(ends[done - 1]) if done else 0
            upto = max(done + 1, int(np.searchsorted(ends, before + AT_ONCE, side="right")))
            which = np.repeat(np.arange(done, upto), number[done:upto])
            index = np.arange(len(which)) - (ends[which] - number[which] - before)
            u, v = _plastic(index)
            at = a[which] + u[:, None] * (b - a)[which] + v[:, None] * (c - a)[which]
            place = np.column_stack([(at[:, axis] + extents[axis] / 2) * fine for axis in (right, up)])
            yield place, (at[:, along] * eye).astype(np.float32), shade[which]
            done = upto


def _slices(facets: Facets) -> Iterator[Facets]:
    for start in range(0, len(facets), 100_000):
        yield facets[start : start + 100_000]


def _plastic(index: NDArray[np.int64]) -> tuple[Points, Points]:
    """Points that fill a triangle evenly, the first in its middle: the additive recurrence of the plastic number."""
    first = (1 / 3 + index * 0.7548776662466927) % 1
    second = (1 / 3 + index * 0.5698402909980532) % 1
    over = first + second > 1
    return np.where(over, 1 - first, first), np.where(over, 1 - second, second)

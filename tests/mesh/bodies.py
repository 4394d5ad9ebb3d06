"""Shapes with a known volume, written down as mesh files by hand, and the volume by a second way."""

from __future__ import annotations

import io
import struct
import zipfile
from collections.abc import Sequence

import numpy as np
import trimesh

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
TETRAHEDRON = (
    np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [0, 0, 1]], dtype=float),
    np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]]),
)


def box(x=10.0, y=10.0, z=10.0, at=(0.0, 0.0, 0.0)):
    """A box of twelve facets about `at`."""
    made = trimesh.creation.box(extents=(x, y, z))
    return np.asarray(made.vertices) + at, np.asarray(made.faces)


def icosphere(subdivisions, radius=1.0):
    made = trimesh.creation.icosphere(subdivisions=subdivisions, radius=radius)
    return np.asarray(made.vertices), np.asarray(made.faces)


def torus(large=30.0, small=10.0, around=256, across=256):
    """A torus on a grid of around × across corners."""
    u = np.repeat(np.arange(around), across) * 2 * np.pi / around
    v = np.tile(np.arange(across), around) * 2 * np.pi / across
    ring = large + small * np.cos(v)
    points = np.column_stack([ring * np.cos(u), ring * np.sin(u), small * np.sin(v)])
    i, j = np.divmod(np.arange(around * across), across)
    a, b = i * across + j, (i + 1) % around * across + j
    c, d = (i + 1) % around * across + (j + 1) % across, i * across + (j + 1) % across
    return points, np.concatenate([np.column_stack([a, b, c]), np.column_stack([a, c, d])])


def joined(*meshes):
    """Several meshes as one."""
    offsets = np.cumsum([0, *(len(points) for points, _ in meshes)])
    faces = [facets + offset for (_, facets), offset in zip(meshes, offsets[:-1], strict=True)]
    return np.concatenate([points for points, _ in meshes]), np.concatenate(faces)


def signed_sum(points, facets):
    """V = 1/6 Σ a · (b × c), facet by facet: another way than the one under test."""
    total = 0.0
    for a, b, c in points[facets].tolist():
        total += a[0] * (b[1] * c[2] - b[2] * c[1])
        total += a[1] * (b[2] * c[0] - b[0] * c[2])
        total += a[2] * (b[0] * c[1] - b[1] * c[0])
    return total / 6


def stl(points, facets, count=None, header=b""):
    """Binary STL; `count` may lie."""
    body = b"".join(struct.pack("<12fH", 0, 0, 0, *corners, 0) for corners in points[facets].reshape(-1, 9).tolist())
    return header.ljust(80, b" ") + struct.pack("<I", len(facets) if count is None else count) + body


def stl_text(points, facets):
    lines = ["solid part"]
    for corners in points[facets].tolist():
        lines += ["facet normal 0 0 0", " outer loop", *(f"  vertex {x!r} {y!r} {z!r}" for x, y, z in corners)]
        lines += [" endloop", "endfacet"]
    return "\n".join([*lines, "endsolid part", ""]).encode()


def obj(points, facets):
    lines = ["# by hand", "o part"]
    lines += [f"v {x!r} {y!r} {z!r}" for x, y, z in points.tolist()]
    lines += [f"f {a + 1} {b + 1} {c + 1}" for a, b, c in facets.tolist()]
    return "\n".join([*lines, ""]).encode()


def ply(points, facets, counted=None):
    head = ["ply", "format ascii 1.0", f"element vertex {len(points)}"]
    head += [f"property double {axis}" for axis in "xyz"]
    head += [f"element face {len(facets) if counted is None else counted}", "property list uchar int vertex_indices"]
    head += ["end_header"]
    lines = [f"{x!r} {y!r} {z!r}" for x, y, z in points.tolist()]
    lines += [f"3 {a} {b} {c}" for a, b, c in facets.tolist()]
    return "\n".join([*head, *lines, ""]).encode()


def model(objects: Sequence[str], build: str, unit: str | None = "millimeter", prologue: str = "") -> str:
    said = "" if unit is None else f' unit="{unit}"'
    inside = "".join(objects)
    inside = f"<resources>{inside}</resources><build>{build}</build>"
    return f'<?xml version="1.0"?>{prologue}<model{said} xmlns="{CORE}">{inside}</model>'


def object_of(points, facets, key=1, kind="model"):
    corners = "".join(f'<vertex x="{x!r}" y="{y!r}" z="{z!r}"/>' for x, y, z in points.tolist())
    sides = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in facets.tolist())
    mesh = f"<mesh><vertices>{corners}</vertices><triangles>{sides}</triangles></mesh>"
    return f'<object id="{key}" type="{kind}">{mesh}</object>'


def packed(text: str | bytes, name="3D/3dmodel.model"):
    """A zip file with one part."""
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(name, text)
    return made.getvalue()


def three_mf(points, facets, unit="millimeter"):
    return packed(model([object_of(points, facets)], '<item objectid="1"/>', unit))


WRITERS = {"part.stl": stl, "text.stl": stl_text, "part.obj": obj, "part.ply": ply, "part.3mf": three_mf}

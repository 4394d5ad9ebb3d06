"""What a mesh of a million facets takes; run by hand: python -m tests.benchmarks.mesh_million

Time to measure it in the process of its own, beside the time to read the same bytes in the same run: compare the
ratio. Peak memory of that process as the kernel counts it, and what the parent gained.
"""

from __future__ import annotations

import re
import struct
import tempfile
import time
from pathlib import Path
from typing import BinaryIO

import numpy as np

from station.mesh.kinds import MeshKind
from station.mesh.survey import peak_kib, survey
from tests.mesh.bodies import obj, three_mf, torus


def stl_fast(points: np.ndarray, facets: np.ndarray) -> bytes:
    """Binary STL without a loop."""
    rows = np.zeros(len(facets), dtype=np.dtype([("normal", "<f4", 3), ("corners", "<f4", 9), ("more", "<u2")]))
    rows["corners"] = points[facets].reshape(-1, 9)
    return bytes(80) + struct.pack("<I", len(facets)) + rows.tobytes()


def ply_fast(points: np.ndarray, facets: np.ndarray) -> bytes:
    """Binary PLY without a loop."""
    head = (
        f"ply\nformat binary_little_endian 1.0\nelement vertex {len(points)}\nproperty float x\nproperty float y\n"
        f"property float z\nelement face {len(facets)}\nproperty list uchar int vertex_indices\nend_header\n"
    ).encode()
    rows = np.zeros(len(facets), dtype=np.dtype([("count", "u1"), ("corners", "<i4", 3)]))
    rows["count"], rows["corners"] = 3, facets
    return head + points.astype("<f4").tobytes() + rows.tobytes()


def read_all(file: BinaryIO) -> float:
    """Seconds to read the file once; it was just written, so it comes from memory."""
    begun = time.perf_counter()
    file.seek(0)
    while file.read(1 << 20):
        pass
    return time.perf_counter() - begun


def peak_here(*, afresh: bool = False) -> int:
    """KiB that this process held at most, since it was last counted afresh."""
    if afresh:
        Path("/proc/self/clear_refs").write_text("5")
    return int(re.search(r"VmHWM:\s+(\d+)", Path("/proc/self/status").read_text())[1])  # type: ignore[index]


def main() -> None:
    points, facets = torus(60.0, 20.0, 1000, 500)
    rounded = points.round(4)
    writers = {
        MeshKind.STL: ("part.stl", lambda: stl_fast(points, facets)),
        MeshKind.PLY: ("part.ply", lambda: ply_fast(points, facets)),
        MeshKind.OBJ: ("part.obj", lambda: obj(rounded, facets)),
        MeshKind.PACKED: ("part.3mf", lambda: three_mf(rounded, facets)),
    }
    for kind, (name, write) in writers.items():
        with tempfile.TemporaryFile() as file:
            file.write(write())
            file.flush()
            size = file.tell()
            floor = min(read_all(file) for _ in range(3))
            before = peak_here(afresh=True)
            begun = time.perf_counter()
            part = survey(file, name).positive
            took = time.perf_counter() - begun
            gained = peak_here() - before
            peak = peak_kib(file, kind)
        print(
            f"{kind.value}: {part.facets} facets, {size / 1e6:.1f} MB; measured in {took:.1f} s, "
            f"{took / floor:.0f} times the {floor * 1000:.0f} ms to read it; peak {peak / 1024:.0f} MB; "
            f"the parent gained {gained / 1024:.1f} MB"
        )


if __name__ == "__main__":
    main()

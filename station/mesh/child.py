"""The measuring process: `python -m station.mesh.child KIND` with the file as standard input.

First it limits itself, so that a malicious or monstrous file takes only this process down. It answers on standard
output with one line of JSON and then, if all went well, the picture.
"""

from __future__ import annotations

import contextlib
import json
import os
import resource
import sys
from typing import Any

from station.errors import StationError
from station.mesh.kinds import MeshKind
from station.mesh.limits import CHILD_BYTES, CPU_S, NICER


def limit_itself() -> None:
    """Takes little: memory, processor time, no file written, no core left behind, and stands back for others."""
    with contextlib.suppress(OSError), open("/proc/self/oom_score_adj", "w") as sacrifice:
        # When the whole board runs out of memory, this process goes first and not the bench.
        sacrifice.write("1000")
    for what, most in ((resource.RLIMIT_AS, CHILD_BYTES), (resource.RLIMIT_FSIZE, 0), (resource.RLIMIT_CORE, 0)):
        resource.setrlimit(what, (most, most))
    # The soft limit first: its signal tells the parent why.
    resource.setrlimit(resource.RLIMIT_CPU, (CPU_S, CPU_S + 5))
    os.nice(NICER)


def measured(kind: MeshKind) -> tuple[dict[str, Any], bytes]:
    """The figures of the mesh at standard input, in its own unit, and its picture."""
    from station.mesh.picture import drawn
    from station.mesh.reading import read
    from station.mesh.shape import shape

    with open(0, "rb", closefd=False) as file:
        file.seek(0)
        mesh = read(file, kind)
    count, unit_mm = len(mesh.facets), mesh.unit_mm
    found = shape(mesh.points, mesh.facets)
    del mesh
    picture = drawn(found.points, found.facets, found.extents, found.leaks)
    figures = {name: value for name, value in _fields(found).items() if name not in ("points", "facets")}
    return figures | {"facets": count, "unit_mm": unit_mm, "peak_kib": _peak_kib()}, picture


def _peak_kib() -> int:
    """Most memory held; not as getrusage tells it, which begins with the parent's peak."""
    with open("/proc/self/status") as status:
        return next((int(line.split()[1]) for line in status if line.startswith("VmHWM")), 0)


def _fields(found: object) -> dict[str, Any]:
    """Fields by name, without copying the arrays."""
    return {name: getattr(found, name) for name in found.__dataclass_fields__}  # type: ignore[attr-defined]


def main() -> None:
    """Answers once."""
    limit_itself()
    picture = b""
    try:
        figures, picture = measured(MeshKind[sys.argv[1]])
    except StationError as refusal:
        figures = {"refused": str(refusal), "hint": refusal.hint}
    except MemoryError:
        figures = {"memory": True}
    answer = sys.stdout.buffer
    answer.write(json.dumps(figures).encode() + b"\n" + picture)
    answer.flush()


if __name__ == "__main__":
    main()

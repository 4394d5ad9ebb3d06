"""The measuring process: `python -m station.mesh.child KIND LANGUAGE` with the file as standard input.

First it limits itself, so that a malicious or monstrous file takes only this process down. It answers on standard
output with one line of JSON and then, if all went well, the picture.
"""

from __future__ import annotations

import json
import sys
from typing import Any

from station.confined.limits import limit_itself, peak_kib
from station.errors import StationError
from station.languages import begin_to_speak
from station.mesh.kinds import MeshKind
from station.mesh.limits import CHILD_BYTES, CPU_S


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
    return figures | {"facets": count, "unit_mm": unit_mm, "peak_kib": peak_kib()}, picture


def _fields(found: object) -> dict[str, Any]:
    """Fields by name, without copying the arrays."""
    return {name: getattr(found, name) for name in found.__dataclass_fields__}  # type: ignore[attr-defined]


def main() -> None:
    """Answers once."""
    limit_itself(CHILD_BYTES, CPU_S)
    begin_to_speak(sys.argv[2])
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

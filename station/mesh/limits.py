"""How much a mesh may ask of the station. Measured with tests/benchmarks/mesh_million.py; see there for figures."""

from station.confined.limits import MB

MOST_FACETS = 1_000_000
MOST_UNPACKED = 150 * MB
"""Of a packed (3MF) file once unpacked: a million facets take 110 MB as text."""
MOST_PARTS = 200
"""Of a packed file: more parts than any drawing program writes."""

CHILD_BYTES = 768 * MB
"""Address space of the measuring process. A million facets need 704 MB (binary PLY, the hungriest of them)."""
CPU_S = 60
"""Processor time of the measuring process."""
WALL_S = 90.0
"""How long a person waits at most; a slow board may be busy with something else."""

PICTURE_BYTES = 2 * MB

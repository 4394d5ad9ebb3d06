"""How much a photo may ask of the station. Measured with tests/benchmarks/photo_large.py; see there for figures."""

from station.confined.limits import MB
from station.photos.kinds import PhotoKind

MOST_PIXELS = {PhotoKind.JPEG: 50_000_000, PhotoKind.PNG: 50_000_000, PhotoKind.WEBP: 25_000_000}
"""Of one picture, as its head says: what the usual phones take at most. Opening a WebP takes three times the memory."""

LONGEST_PX = 1600
"""The longer side of what is kept, and of the small one for the grid."""
SMALL_PX = 320

CHILD_BYTES = 512 * MB
"""Address space of the process that turns one photo into another."""
CPU_S = 30
WALL_S = 60.0
"""How long a person waits at most for one; a slow board may be busy with something else."""
ANSWER_BYTES = 4 * MB
"""Of both pictures together; they take about half a megabyte."""

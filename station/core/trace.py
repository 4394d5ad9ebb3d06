"""A weighing trace: what the scale showed while one step was weighed, and the digest that the journal holds of it."""

from __future__ import annotations

import hashlib
import json

Points = tuple[tuple[float, int], ...]
"""(seconds since the step began, gross in mg), in the order in which they were seen."""


def digest_of(points: Points) -> str:
    """SHA-256 (FIPS 180-4), in hexadecimal, of the JSON array of [milliseconds, milligrams] pairs."""
    pairs = [[round(seconds * 1000), mg] for seconds, mg in points]
    return hashlib.sha256(json.dumps(pairs, separators=(",", ":")).encode("ascii")).hexdigest()

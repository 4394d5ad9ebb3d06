"""What the API is told of a part: the shape of a mass, of readings, of lengths and of a verdict."""

from __future__ import annotations

from station.core.judging_events import DefectKind, HardnessScale, Severity, Verdict
from station.phone.api_shapes import Shape, one_of
from station.phone.judge_form import PLACE_LIMIT
from station.phone.judge_orders import MOST_AT_ONCE
from station.phone.orders import TEXT_LIMIT

_PLACE: Shape = {"type": "string", "maxLength": PLACE_LIMIT}
_LENGTH: Shape = {"type": "number", "exclusiveMinimum": 0, "maximum": 100000}

TRIMMED: Shape = {"type": "boolean", "description": "Flash and sprue were cut off before."}


def _list_of(least: int, left_out: dict[str, Shape] | None = None, **needed: Shape) -> Shape:
    """A list of objects that may also name a `place`, and what is in `left_out`."""
    properties = {**needed, "place": _PLACE, **(left_out or {})}
    item: Shape = {"type": "object", "properties": properties, "required": list(needed)}
    return {"type": "array", "items": item, "minItems": least, "maxItems": MOST_AT_ONCE}


PART: dict[str, Shape] = {
    "mass_mg": {"type": "integer", "minimum": 1, "maximum": 10**9},
    "hardness": _list_of(
        1,
        {"since_demold_s": {"type": "number", "minimum": 0, "maximum": 10**12, "description": "Left out: now."}},
        scale=one_of(*(one.name for one in HardnessScale)),
        value={"type": "number", "minimum": 0, "maximum": 100},
    ),
    "lengths": _list_of(1, mold_mm=_LENGTH, part_mm=_LENGTH),
    "verdict": {
        "type": "object",
        "properties": {
            "worth": one_of(*(one.name for one in Verdict)),
            "defects": _list_of(
                0,
                kind=one_of(*(one.name for one in DefectKind)),
                severity=one_of(*(one.name for one in Severity)),
            ),
            "note": {"type": "string", "maxLength": TEXT_LIMIT},
        },
        "required": ["worth"],
    },
}
"""What may be said of a part; one of it at least."""

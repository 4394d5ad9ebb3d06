"""Worksheet: footwear sizes as lengths of last, in each other, and the step from one to another."""

from __future__ import annotations

import math

from station.casting.sizes import NOT_UNIFORM, SizeSystem, grade, last_mm, nearest_made, size_of
from station.worksheets.form import Field, Figure, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.plain import plain
from station.worksheets.room.footwear_drawing import size_ruler

_ALL = (-math.inf, math.inf)
_RANGES = {SizeSystem.UK_ADULT: (1.0, math.inf), SizeSystem.UK_CHILD: (0.0, 14.0)}
"""From which size and below which a system counts: children's end at 13 1/2, adults' begin at 1."""


def footwear(values: Values) -> Worked:
    """A size as a length of last, in the other systems, and the step to another size. Raises Refused."""
    system, toe_room = SizeSystem(values["system"]), values["toe-room"]
    size, other = values["size"], values["to-size"]
    last = last_mm(system, size, toe_room)
    foot = last - toe_room
    rows = [
        Row("Length of the last", f"{last:.1f} mm", _last_rule(system, size, toe_room)),
        Row("Foot", f"{foot:.1f} mm", f"{last:.1f} mm − {toe_room:g} mm at the toes"),
    ]
    counted = [each for each in SizeSystem if _counted(each, size_of(each, last, toe_room))]
    lasts = [(f"{system.value} {size:g}", last)]
    for each in counted:
        rows.append(Row(each.value, f"{size_of(each, last, toe_room):.2f}", f"last of {last:.1f} mm"))
    for step in (5.0, 7.5):
        rows.append(
            Row(f"Mondopoint in steps of {step:g} mm", f"{nearest_made(foot, step):g}", f"nearest to {foot:.1f} mm")
        )
    figures: dict[str, Figure] = {"last_mm": last, "foot_mm": foot}
    notes = ["Sizes are hints, sources differ; keep the length of the last in millimetres."]
    if other is not None:
        to_last = last_mm(system, other, toe_room)
        step_up = grade(last, to_last)
        rows.append(Row("Scale of length", f"{step_up.x:.4f}", f"last of {to_last:.1f} mm ÷ {last:.1f} mm"))
        rows.append(Row("Scale of volume if uniform", f"{step_up.volume:.4f}", f"{step_up.x:.4f}³"))
        figures |= {"to_last_mm": to_last, "length_scale": step_up.x, "volume_scale_if_uniform": step_up.volume}
        if (volume := values["volume"]) is not None:
            rows.append(
                Row(
                    "Volume if uniform",
                    f"{plain(volume * step_up.volume, 4)} cm³",
                    f"{plain(volume)} cm³ × {step_up.volume:.4f}",
                )
            )
            figures["volume_if_uniform_cm3"] = volume * step_up.volume
        notes.append(NOT_UNIFORM)
        lasts.append((f"{system.value} {other:g}", to_last))
    shown = [(each, *_RANGES.get(each, _ALL)) for each in counted]
    return Worked(tuple(rows), figures, notes=tuple(notes), drawings=(size_ruler(lasts, shown, toe_room),))


def _counted(system: SizeSystem, size: float) -> bool:
    low, below = _RANGES.get(system, _ALL)
    return low <= size < below


def _last_rule(system: SizeSystem, size: float, toe_room: float) -> str:
    match system:
        case SizeSystem.PARIS:
            return f"{size:g} × 2/3 cm"
        case SizeSystem.UK_ADULT:
            return f"({size:g} + 25) × 1/3 inch"
        case SizeSystem.UK_CHILD:
            return f"({size:g} + 12) × 1/3 inch"
        case SizeSystem.MONDOPOINT:
            return f"foot of {size:g} mm + {toe_room:g} mm at the toes"


FOOTWEAR = Worksheet(
    key="footwear-sizes",
    title="Footwear sizes",
    purpose="How long is the last of a size, and how much more does the next size take?",
    fields=(
        Field(
            "system",
            "Sizes counted in",
            Kind.CHOICE,
            choices=tuple(system.value for system in SizeSystem),
            hint="Mondopoint is the length of the foot in mm.",
        ),
        Field("size", "Size", Kind.NUMBER, default="42"),
        Field(
            "toe-room",
            "Room at the toes",
            Kind.LENGTH,
            default="15 mm",
            hint="How much longer than the foot the last is: sources say 15 or 20 mm.",
        ),
        Field("to-size", "Another size to go to", Kind.NUMBER, optional=True, hint="Counted in the same way."),
        Field(
            "volume",
            "Volume at the first size",
            Kind.VOLUME,
            optional=True,
            hint="Of the cavity, to carry over to the other size.",
        ),
    ),
    work=footwear,
)

"""Worksheet: footwear sizes as lengths of last, in each other, and the step from one to another."""

from __future__ import annotations

import math

from station.casting.sizes import NOT_UNIFORM, SizeSystem, grade, last_mm, nearest_made, size_of
from station.texts import N_, decimal, number, t
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
        Row(t("Length of the last"), _mm(last), _last_rule(system, size, toe_room)),
        Row(t("Foot"), _mm(foot), t("{last} − {room} mm at the toes", last=_mm(last), room=number(toe_room))),
    ]
    counted = [each for each in SizeSystem if _counted(each, size_of(each, last, toe_room))]
    lasts = [(f"{t(system.value)} {number(size)}", last)]
    for each in counted:
        found = number(size_of(each, last, toe_room), ".2f")
        rows.append(Row(t(each.value), found, t("last of {last}", last=_mm(last))))
    for step in (5.0, 7.5):
        rows.append(
            Row(
                t("Mondopoint in steps of {step} mm", step=number(step)),
                number(nearest_made(foot, step)),
                t("nearest to {foot}", foot=_mm(foot)),
            )
        )
    figures: dict[str, Figure] = {"last_mm": last, "foot_mm": foot}
    notes = [t("Sizes are hints, sources differ; keep the length of the last in millimetres.")]
    if other is not None:
        to_last = last_mm(system, other, toe_room)
        step_up = grade(last, to_last)
        ratio = t("last of {to_last} ÷ {last}", to_last=_mm(to_last), last=_mm(last))
        rows.append(Row(t("Scale of length"), number(step_up.x, ".4f"), ratio))
        rows.append(Row(t("Scale of volume if uniform"), number(step_up.volume, ".4f"), decimal(f"{step_up.x:.4f}³")))
        figures |= {"to_last_mm": to_last, "length_scale": step_up.x, "volume_scale_if_uniform": step_up.volume}
        if (volume := values["volume"]) is not None:
            rows.append(
                Row(
                    t("Volume if uniform"),
                    f"{plain(volume * step_up.volume, 4)} cm³",
                    f"{plain(volume)} cm³ × {number(step_up.volume, '.4f')}",
                )
            )
            figures["volume_if_uniform_cm3"] = volume * step_up.volume
        notes.append(t(NOT_UNIFORM))
        lasts.append((f"{t(system.value)} {number(other)}", to_last))
    shown = [(each, *_RANGES.get(each, _ALL)) for each in counted]
    return Worked(tuple(rows), figures, notes=tuple(notes), drawings=(size_ruler(lasts, shown, toe_room),))


def _counted(system: SizeSystem, size: float) -> bool:
    low, below = _RANGES.get(system, _ALL)
    return low <= size < below


def _last_rule(system: SizeSystem, size: float, toe_room: float) -> str:
    match system:
        case SizeSystem.PARIS:
            return f"{number(size)} × 2/3 cm"
        case SizeSystem.UK_ADULT:
            return t("({size} + 25) × 1/3 inch", size=number(size))
        case SizeSystem.UK_CHILD:
            return t("({size} + 12) × 1/3 inch", size=number(size))
        case SizeSystem.MONDOPOINT:
            return t("foot of {size} mm + {room} mm at the toes", size=number(size), room=number(toe_room))


def _mm(mm: float) -> str:
    return decimal(f"{mm:.1f} mm")


FOOTWEAR = Worksheet(
    key="footwear-sizes",
    title=N_("Footwear sizes"),
    purpose=N_("How long is the last of a size, and how much more does the next size take?"),
    fields=(
        Field(
            "system",
            N_("Sizes counted in"),
            Kind.CHOICE,
            choices=tuple(system.value for system in SizeSystem),
            hint=N_("Mondopoint is the length of the foot in mm."),
        ),
        Field("size", N_("Size"), Kind.NUMBER, default="42"),
        Field(
            "toe-room",
            N_("Room at the toes"),
            Kind.LENGTH,
            default="15 mm",
            hint=N_("How much longer than the foot the last is: sources say 15 or 20 mm."),
        ),
        Field(
            "to-size",
            N_("Another size to go to"),
            Kind.NUMBER,
            optional=True,
            hint=N_("Counted in the same way."),
        ),
        Field(
            "volume",
            N_("Volume at the first size"),
            Kind.VOLUME,
            optional=True,
            hint=N_("Of the cavity, to carry over to the other size."),
        ),
    ),
    work=footwear,
)

"""Shapes of what the API says of differences between casts and of advice, and how they are asked for."""

from __future__ import annotations

from station.core.advice_events import AdviceKind
from station.core.judging_events import DefectKind
from station.phone.api_shapes import CAST_NUMBER, FLAG, NUMBER, TEXT, WHOLE, Shape, listed, obj, one_of, or_none

_KIND = one_of(*(kind.name for kind in AdviceKind))
_SIDE = obj(words=TEXT, bad=WHOLE, of=WHOLE)
_LOOK = obj(
    key=TEXT,
    title=TEXT,
    p=NUMBER | {"description": "Of this look alone, with the choice of the cut or the lot paid for."},
    exact=FLAG | {"description": "Whether all ways were counted, not a sample of them."},
    corrected=NUMBER | {"description": "The same for all looks together (Holm)."},
    claimed=FLAG,
    cut=or_none(NUMBER),
    sides=listed(_SIDE),
)
DIFFERENCES = obj(asked=TEXT, casts=WHOLE, bad=WHOLE, looks=listed(_LOOK), unlooked=listed(TEXT))
_TOLD = obj(
    kind=_KIND,
    value=NUMBER,
    low=or_none(NUMBER),
    high=or_none(NUMBER),
    unit=TEXT,
    casts=listed(CAST_NUMBER),
    rule=TEXT,
    cautions=listed(TEXT),
)
_WHY_NOT = obj(kind=_KIND, why_not=TEXT)
_ADOPTED = obj(kind=_KIND, mold=TEXT, material=TEXT, value=NUMBER)
ADVICE = obj(material=TEXT, mold=TEXT, advice=listed({"anyOf": [_TOLD, _WHY_NOT]}), adopted=listed(_ADOPTED))

_KEY: Shape = {"type": "string", "minLength": 1, "maxLength": 60}
DIFFERENCES_ASKED = {
    "mold": ("Key of a mold; left out: any.", _KEY),
    "material": ("Key of a material; left out: any.", _KEY),
    "defect": ("Casts with this defect; left out: casts that were not good.", one_of(*(k.name for k in DefectKind))),
}
ADVICE_ASKED: dict[str, tuple[str, Shape]] = {
    "mold": ("Key of a mold; with material left out: that of the newest cast.", _KEY),
    "material": ("Key of a material.", _KEY),
    "density": (
        "The density wanted, in kg/m³; left out: what sheet or casts say.",
        {"type": "string", "pattern": "^[1-9][0-9]{1,2}$"},
    ),
}

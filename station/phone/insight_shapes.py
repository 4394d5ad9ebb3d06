"""Shapes of what the API says of insight."""

from __future__ import annotations

from station.core.judging_events import DefectKind
from station.insight.charted import Charted
from station.insight.individuals import Rule
from station.insight.yields import By
from station.phone.api_shapes import CAST_NUMBER, FLAG, NUMBER, TEXT, WHOLE, Shape, listed, obj, one_of, or_none

_WITHIN: Shape = {"type": "array", "items": NUMBER, "minItems": 2, "maxItems": 2, "description": "95 % interval."}
_SHARE = obj(count=WHOLE, of=WHOLE, share=NUMBER, within=_WITHIN)
_YIELD = obj(name=TEXT, casts=WHOLE, good=_SHARE, good_or_usable=_SHARE)
INSIGHT = obj(
    casts=WHOLE,
    figure=one_of(*(charted.name for charted in Charted)),
    unit=TEXT,
    comparable=FLAG | {"description": "Whether these casts may be charted together at all."},
    values=listed(
        obj(
            number=CAST_NUMBER,
            value=NUMBER,
            range=or_none(NUMBER),
            smoothed=or_none(NUMBER),
            mark=or_none(one_of(*(rule.name for rule in Rule))),
        )
    ),
    mean=or_none(NUMBER),
    mean_within=or_none(_WITHIN),
    lag1=or_none(NUMBER),
    limits=or_none(
        obj(
            middle=NUMBER,
            low=NUMBER,
            high=NUMBER,
            range_mean=NUMBER,
            range_high=NUMBER,
            sigma_relative_error=NUMBER,
        )
    ),
    capability=or_none(
        obj(
            low=or_none(NUMBER),
            high=or_none(NUMBER),
            outside=WHOLE,
            cp=or_none(NUMBER),
            cp_within=or_none(_WITHIN),
            cpk=NUMBER,
            cpk_within=_WITHIN,
        )
    ),
    judged=or_none(_YIELD),
    yields=obj(**{by.name: listed(_YIELD) for by in By}),
    defects=listed(
        obj(kind=one_of(*(kind.name for kind in DefectKind)), casts=_SHARE, spoilt=WHOLE, up_to_here=NUMBER)
    ),
)

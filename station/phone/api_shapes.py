"""Shapes: what the JSON of the API looks like, as JSON Schema. Names of enums come from the types themselves.

Every object lists all that it holds and nothing else is let through, so that a value which a page gains and this
description does not know is found by the test that holds the answers against it.
"""

from __future__ import annotations

from station.core.clocks import ClockKind
from station.core.judging_events import Verdict
from station.core.mold_care import Release
from station.neighbours import ErrandState
from station.phone.api_parts import (
    CAST_NUMBER,
    FLAG,
    NUMBER,
    TEXT,
    WHOLE,
    Shape,
    listed,
    named,
    obj,
    one_of,
    or_none,
    ref,
)
from station.phone.state_shapes import DIAL, STATE
from station.records import Stage

_AGE: Shape = NUMBER | {"description": "Seconds since the bench was so, by the station's clock."}
_ELSEWHERE_CAST = obj(
    number=CAST_NUMBER, material=TEXT, mold=TEXT, words=TEXT, demolded=FLAG, dials=listed(ref("dial")), page=TEXT
)
_ELSEWHERE_ALARM = obj(number=CAST_NUMBER, clock=named(ClockKind), since=TEXT, strong=FLAG, words=TEXT, on_its_way=TEXT)
_BENCHES = obj(
    bench=WHOLE,
    benches=listed(
        obj(
            bench=WHOLE,
            title=TEXT,
            own=FLAG,
            silent=FLAG,
            heard=TEXT,
            unclear=TEXT,
            casts=listed(_ELSEWHERE_CAST),
            alarms=listed(_ELSEWHERE_ALARM),
        )
    ),
    casts=listed(
        obj(
            bench=WHOLE,
            number=CAST_NUMBER,
            begun=TEXT,
            material=TEXT,
            mold=TEXT,
            total=TEXT,
            stage=TEXT,
            page=TEXT,
        )
    ),
    errands=listed(
        obj(
            to_bench=WHOLE,
            number=CAST_NUMBER,
            clock=named(ClockKind),
            state=named(ErrandState),
            open=FLAG,
            good=FLAG,
            words=TEXT,
        )
    ),
    sounding=WHOLE,
    trouble=TEXT,
    refused=TEXT,
    read=TEXT,
    unread=FLAG,
)

SCHEMAS: dict[str, Shape] = {
    "mass": obj(mg=WHOLE | {"description": "Whole milligrams."}, text=TEXT),
    "dial": DIAL,
    "state": obj(**STATE),
    "state_now": obj(**STATE, age_s=_AGE),
    "benches": _BENCHES,
    "molds": obj(
        molds=listed(
            obj(
                key=TEXT,
                title=TEXT,
                shots=WHOLE,
                since_release=or_none(WHOLE),
                release_every=or_none(WHOLE),
                release=named(Release),
                retired=TEXT,
            )
        )
    ),
    "lot": obj(
        lot=TEXT,
        left_mg=or_none(WHOLE),
        older=FLAG | {"description": "There are casts below the last one of these: ask again with it as before."},
        counts=listed(obj(at=TEXT, sure=FLAG, left_mg=WHOLE, by=TEXT)),
        casts=listed(
            obj(
                number=CAST_NUMBER,
                begun=TEXT,
                sure=FLAG,
                mold=TEXT,
                material=TEXT,
                ingredient=TEXT,
                taken_mg=WHOLE,
                stage=one_of(*(stage.value for stage in Stage)),
                verdict=or_none(one_of(*(verdict.value for verdict in Verdict))),
                set_aside=FLAG | {"description": "There is a part that contains the lot."},
            )
        ),
    ),
    "refused": obj(refused=TEXT | {"description": "What was wrong and what to do, in a sentence."}),
    "cast": obj(cast=or_none(CAST_NUMBER)),
}

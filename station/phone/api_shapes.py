"""Shapes: what the JSON of the API looks like, as JSON Schema. Names of enums come from the types themselves.

Every object lists all that it holds and nothing else is let through, so that a value which a page gains and this
description does not know is found by the test that holds the answers against it.
"""

from __future__ import annotations

from station.core.clocks import AlarmState, ClockKind
from station.core.cues import Cue, Urgency
from station.core.judging_events import Verdict
from station.core.lead import Lead
from station.core.mold_care import Release
from station.core.snapshot import BannerKind, Fill, ScaleState, StepState
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
from station.records import Stage

_DIAL = obj(
    kind=named(ClockKind),
    limit=one_of("at most", "at least"),
    left_s=or_none(NUMBER) | {"description": "Seconds left, below zero when past due; null: the clock stands still."},
    left=TEXT,
    left_words=TEXT,
    length=TEXT,
    due=TEXT,
    running=FLAG,
    alarm=named(AlarmState),
    tone=one_of("calm", "close", "over", "done", "sounding"),
    sign=TEXT,
    unknown_gap=FLAG,
    gap_words=TEXT,
    draw=obj(arc=TEXT),
)
_PACE: Shape = NUMBER | {"description": "From 0 (pour freely) to 1 (the thinnest stream); null: no pour is led now."}
_COLUMN = obj(
    ingredient=TEXT,
    cup=TEXT,
    target=ref("mass"),
    low=ref("mass"),
    high=ref("mass"),
    net=or_none(ref("mass")),
    net_text=TEXT,
    left=TEXT,
    left_unit=TEXT,
    left_size=TEXT,
    known=FLAG,
    grey=FLAG,
    near=ref("mass"),
    left_words=TEXT,
    fill=named(Fill, "UNKNOWN"),
    lead=obj(name=one_of(*(lead.name for lead in Lead), ""), words=TEXT, share=TEXT, pace=or_none(_PACE)),
    settling=FLAG,
    rule=TEXT,
    draw=obj(level=TEXT, top=TEXT, height=TEXT, target=TEXT),
    spoken=TEXT,
)
_BENCH = obj(
    number=CAST_NUMBER,
    material=TEXT,
    mold=TEXT,
    total=ref("mass"),
    way=TEXT,
    way_reason=TEXT,
    strip=listed(obj(place=WHOLE, label=TEXT, detail=TEXT, state=named(StepState), current=or_none(one_of("step")))),
    step=obj(at=WHOLE, of=WHOLE),
    title=TEXT,
    words=TEXT,
    do=TEXT,
    sign=TEXT,
    sign_at=TEXT,
    of_what=TEXT,
    view=one_of("column", "clocks", "words"),
    column=or_none(_COLUMN),
    dials=listed(ref("dial")),
    paused=FLAG,
    running=FLAG,
    press_means=TEXT,
    no_press=FLAG,
    give_up_page=TEXT,
    cautions=listed(TEXT),
    items=listed(TEXT),
    notes=listed(TEXT),
)
_SCALE = obj(
    state=named(ScaleState),
    gross=or_none(ref("mass")),
    shown=TEXT,
    grey=FLAG,
    at_rest=FLAG,
    rest=TEXT,
    age_s=or_none(NUMBER),
    age=TEXT,
    words=TEXT,
    pan_words=TEXT,
    frames=WHOLE,
)
_ALARM = obj(
    number=CAST_NUMBER,
    clock=named(ClockKind),
    since_s=or_none(NUMBER),
    since=TEXT,
    urgency=named(Urgency),
    strong=FLAG,
    words=TEXT,
)
_CURING = obj(
    number=CAST_NUMBER,
    material=TEXT,
    mold=TEXT,
    dials=listed(ref("dial")),
    demolded=FLAG,
    in_mold=FLAG,
    page=TEXT,
    due=TEXT,
    words=TEXT,
    calendar=TEXT,
    note_page=TEXT,
    bell=or_none(_ALARM),
    aged=TEXT,
    not_before=TEXT,
    range=TEXT,
)
_STATE: dict[str, Shape] = {
    "seq": WHOLE | {"description": "Rises with every change; begins anew when the station starts."},
    "time": TEXT,
    "time_trusted": FLAG,
    "scale": _SCALE,
    "bench": or_none(_BENCH),
    "free": FLAG,
    "none_cures": FLAG,
    "curing": listed(_CURING),
    "curing_count": {"anyOf": [WHOLE, {"const": ""}]},
    "alarms": listed(_ALARM),
    "last_cue": or_none(obj(cue=named(Cue), words=TEXT, count=WHOLE)),
    "banners": listed(obj(kind=named(BannerKind), words=TEXT, page=TEXT, ask=TEXT)),
    "unsaved": WHOLE,
    "readability": ref("mass"),
    "next": or_none(obj(ticket=WHOLE, material=TEXT, mold=TEXT, total=ref("mass"), button=TEXT)),
    "none_waits": FLAG,
    "waiting": WHOLE,
    "part": or_none(
        obj(
            number=CAST_NUMBER,
            mold=TEXT,
            mass=or_none(ref("mass")),
            shown=TEXT,
            words=TEXT,
            takes=FLAG,
            page=TEXT,
        )
    ),
    "unjudged": listed(obj(number=CAST_NUMBER, material=TEXT, mold=TEXT, words=TEXT, page=TEXT)),
    "unjudged_count": {"anyOf": [WHOLE, {"const": ""}]},
    "practice": or_none(
        obj(
            title=TEXT,
            words=TEXT,
            over=FLAG,
            column=or_none(_COLUMN),
            pours=listed(obj(place=WHOLE, net=TEXT, off=TEXT, verdict=TEXT)),
            poured=FLAG,
            progress=TEXT,
        )
    ),
    "may_practise": FLAG,
}
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
    "dial": _DIAL,
    "state": obj(**_STATE),
    "state_now": obj(**_STATE, age_s=_AGE),
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

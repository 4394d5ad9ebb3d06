"""The cast at the bench as plain values: what the hands should do now, the strip, the column and the dials."""

from __future__ import annotations

from station.core.lead import Lead
from station.core.snapshot import BenchView, Fill, ScaleState, Snapshot, StepState
from station.phone.wire_clocks import dials
from station.phone.wire_column import column
from station.phone.wire_values import Json, mass, named
from station.texts import N_, t


def bench(view: BenchView, seen: Snapshot) -> Json:
    """The cast at the bench."""
    step = seen.scale.readability
    live = seen.scale.state is ScaleState.LIVE
    do, sign = _do(view, live)
    now = next((place for place, one in enumerate(view.strip, 1) if one.state is StepState.NOW), len(view.strip))
    return {
        "number": view.number,
        "material": view.material,
        "mold": view.mold,
        "total": mass(view.total, step),
        "way": view.way,
        "way_reason": view.way_reason,
        "strip": [
            {
                "place": place,
                "label": one.label,
                "detail": one.detail,
                "state": named(one.state),
                "current": "step" if one.state is StepState.NOW else None,
            }
            for place, one in enumerate(view.strip, 1)
        ],
        "step": {"at": now, "of": len(view.strip)},
        "title": view.title,
        "words": view.words,
        "do": do,
        "sign": sign,
        "sign_at": f"#sign-{sign}",
        "of_what": "" if do == view.title else view.title,
        "view": "column" if view.column is not None else "clocks" if view.dials else "words",
        "column": None if view.column is None else column(view.column, step, live),
        "dials": dials(view.dials, seen.at),
        "paused": view.paused,
        "running": not view.paused,
        "press_means": view.press_means[:1].upper() + view.press_means[1:],
        "no_press": not view.press_means,
        "give_up_page": f"/give-up/{view.number}",
        "cautions": list(view.cautions),
        "items": list(view.items),
        "notes": list(view.notes),
    }


def _do(view: BenchView, live: bool) -> tuple[str, str]:
    """The largest words on the page, what the hands should do now, and the sign beside them.

    The sign's shape alone tells the cases apart. A weight that is not live never asks for more.
    """
    if view.paused:
        return t("Paused"), "paused"
    if view.column is None:
        return view.title, "step"
    if not live:
        return t("No weight"), "unknown"
    if view.column.net is None:
        return view.title, "step"
    fill = view.column.fill
    if view.column.lead is Lead.STOP and fill is not Fill.OVER:
        fill = Fill.IN_BAND  # what is still in flight will bring it there
    words, sign = _POURING[fill]
    return t(words), sign


_POURING = {
    Fill.UNDER: (N_("Keep pouring"), "under"),
    Fill.NEAR: (N_("Slowly"), "near"),
    Fill.IN_BAND: (N_("Stop pouring"), "band"),
    Fill.OVER: (N_("Too much"), "over"),
}

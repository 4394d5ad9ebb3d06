"""Lasting banners about the record, the scale and the time: what stays true until somebody does something about it."""

from __future__ import annotations

from station.core.bench import Bench
from station.core.moment import Moment
from station.core.snapshot import Banner, BannerKind, ScaleState, ScaleView
from station.core.time_view import TimeView, shift_words
from station.core.wording import restored_words
from station.texts import t


def bench_banners(bench: Bench, scale: ScaleView) -> tuple[Banner, ...]:
    """The record cannot be written or was restored; the scale is lost or in trouble."""
    found = []
    if bench.record_fault:
        found.append(
            Banner(
                BannerKind.RECORD,
                t(
                    "The record cannot be written: {record_fault} {unsaved} entries wait in memory.",
                    record_fault=bench.record_fault,
                    unsaved=bench.unsaved,
                ),
            )
        )
    if bench.standing.restored is not None:
        found.append(Banner(BannerKind.RECORD, restored_words(bench.standing.restored), t("I know")))
    if scale.state in (ScaleState.LOST, ScaleState.TROUBLE):
        found.append(Banner(BannerKind.SCALE, scale.words))
    return tuple(found)


def time_banners(time: TimeView, now: Moment) -> tuple[Banner, ...]:
    """How long the power was off is not known, or what time it is, or it was learned later."""
    found = [Banner(BannerKind.TIME, gap.words, t("Say how long")) for gap in time.gaps if gap.open]
    if not now.trusted:
        words = t("The station does not know the time: times of day may be wrong, durations are right.")
        found.append(Banner(BannerKind.TIME, words, t("Set the time")))
    if shifted := shift_words(time):
        found.append(Banner(BannerKind.TIME, shifted))
    return tuple(found)

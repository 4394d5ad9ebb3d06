"""Joins the overview's desk to a running station."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from station.address.own import page_addresses
from station.overview.desk import OverviewDesk, OverviewTools
from station.overview.sources import Running, about_of, sources, told_checks
from station.scale.checks import Checks


def joined(
    running: Running,
    *,
    port: Callable[[], int],
    sound: Callable[[], object],
    checks: Checks,
    lines: Callable[[], Sequence[str]],
) -> OverviewDesk:
    """The desk of that station. `port` is the page's, `sound` tries the buzzer, `lines` are the last of the log."""
    return OverviewDesk(
        OverviewTools(
            running.settings,
            running.board.latest,
            lambda: sources(running),
            addresses=lambda: page_addresses(running.settings, port()),
            sound=sound,
            about=lambda: about_of(running),
            checks=lambda: told_checks(checks),
            lines=lines,
            secrets=lambda: [device.name for device in running.phones()],
        )
    )

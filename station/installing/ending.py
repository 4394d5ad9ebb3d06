"""The last words of an installation: where the page is, and the code that lets a phone touch."""

from __future__ import annotations

from collections.abc import Sequence

from station.installing.bench import Bench
from station.texts import t


def last_words(bench: Bench, done: Sequence[str]) -> None:
    """Tell them."""
    if not done:
        bench.tell(t("Everything is as it should be. Nothing was changed."))
    now = bench.versions.current()
    if now is None:
        return
    if not bench.places.manager_runs:
        bench.tell(t("systemd does not run here: the station starts with the computer."))
        return
    bench.tell(bench.asking.told(now, "address"))
    # Once, and for somebody who is new here: a bench that phones are paired with already asks nobody for a code.
    bench.tell(bench.asking.told(now, "pair"))
    bench.tell(t("What the station wants to say is on its page Station, and in `journalctl -u tarebell`."))

"""The last words of an installation: where the page is, and the code that lets a phone touch."""

from __future__ import annotations

import json
from collections.abc import Sequence

from station.installing.bench import Bench
from station.installing.settings_file import known
from station.installing.writing import content
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
    # It is said aloud at the bench, so it is asked for only where no phone may touch yet.
    if _phones(bench):
        bench.tell(t("A code for one more phone: sudo tarebell pair"))
    else:
        bench.tell(bench.asking.told(now, "pair"))
    bench.tell(t("What the station wants to say is on its page Station, and in `journalctl -u tarebell`."))


def _phones(bench: Bench) -> bool:
    """Whether any phone is paired."""
    try:
        return bool(json.loads(content(known(bench.places).state / "devices.json") or "{}").get("devices"))
    except (ValueError, AttributeError):
        return False

"""From kill -9 to the alarm's return; run by hand: python -m tests.benchmarks.alarm_back [TIMES]

A cast cures, its demold alarm sounds and its last clock runs. The station is killed, and started anew by the benchmark
as the service manager would: after the unit's RestartSec; from the fifth time on it comes back in safe mode. Counted
from the kill until the buzzer's driver has the alarm again, and until a visitor's page shows alarm and clock. Beside it
the same without RestartSec, in the same run. The clock leaps to before the due time; nothing else is accelerated. Left
out: the manager itself, a slow card, a slow board.
"""

from __future__ import annotations

import json
import os
import re
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

from tests.benchmarks.process import ROOT
from tests.benchmarks.rig import GIVES_UP_S, Rig, percentiles

UNIT = ROOT / "systemd" / "tarebell.service"
PROMISED_S = 15.0


def restart_s() -> float:
    """What the unit says about how long a manager waits."""
    found = re.search(r"^RestartSec=([\d.]+)$", UNIT.read_text(), re.MULTILINE)
    if found is None:
        raise ValueError(f"{UNIT} says no RestartSec in plain seconds")
    return float(found[1])


def cured(rig: Rig) -> None:
    """A cast on its way through its cure, the pot life behind it."""
    rig.stand(0.0, 20)
    number = rig.order("begin")
    load = rig.pour_all()
    rig.order("leap")
    rig.put(load, "MIX_ENOUGH")
    while rig.order("where")[0] not in ("Cure", ""):
        rig.order("press")
        rig.stand(0.0, 2)
    print(f"cast {number} cures")


def page_shows(url: str) -> bool:
    try:
        with urllib.request.urlopen(f"{url}api/state", timeout=5) as answer:
            seen = json.loads(answer.read())
            return bool(seen["alarms"] and seen["curing"])
    except OSError:
        return False


def cpu_s(pid: int) -> float:
    """Seconds of processor time that this process has used."""
    fields = Path(f"/proc/{pid}/stat").read_text("ascii").rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def killed(rig: Rig, wait_s: float) -> tuple[float, float, float]:
    """Kill it, wait, start it: seconds from the kill to the buzzer's driver and to the page, and of processor time."""
    url, rig.cues = rig.url, []
    rig.run.kill()
    began = time.monotonic()
    rig.run.wait()
    time.sleep(wait_s)
    rig.start()
    while not page_shows(url):
        if time.monotonic() - began > GIVES_UP_S:
            raise RuntimeError("the alarm did not come back")
        time.sleep(0.02)
    page, cpu = time.monotonic() - began, cpu_s(rig.run.pid)
    rig.stand(0.0, 1)
    back = next(cue["mono_s"] for cue in rig.cues if cue["cue"] == "ALARM")
    return back - began, page, cpu


def main(times: int) -> None:
    waits = restart_s()
    with tempfile.TemporaryDirectory(dir="/var/tmp") as folder, Rig(Path(folder)) as rig:
        cured(rig)
        rig.ahead_s = rig.order("leap")
        rig.put(0.0, "ALARM")
        back = [killed(rig, waits) for _ in range(times)]
        floor = [killed(rig, 0.0) for _ in range(times)]
    for which, what in enumerate(("the buzzer's driver", "the page")):
        took = [one[which] for one in back]
        ratio = max(took) / max(one[which] for one in floor)
        print(f"kill to {what:20} {percentiles(took)}; {max(took) / PROMISED_S:.2f} of the {PROMISED_S:g} s promised")
        print(f"{'without RestartSec':28} {percentiles([one[which] for one in floor])}; ratio {ratio:.2f}")
    print(f"{'of it processor time':28} {percentiles([one[2] for one in back + floor])}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10)

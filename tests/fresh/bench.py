"""systemd/install in a booted Debian: all that it promises, in the order of a bench's life.

The blank Debian gets what every computer has (systemd, its bus, the rules for devices) and nothing else; what the
station needs, the installer fetches.
"""

from __future__ import annotations

import json
import re
import time

from tests.fresh import measures, sources
from tests.fresh.booted import Booted, booted
from tests.fresh.changing import killed, rolled_back, upgraded, watched
from tests.fresh.computer import computer, install, must, version
from tests.fresh.report import Report
from tests.fresh.roots import WentWrong
from tests.fresh.stick import plugged_in

BUSY = 3
IDLE_S = 60.0
KILLED_S, HUNG_S = 10.0, 45.0
"""A hang is noticed within 30 s; then comes the way back."""


def tried(suite: str) -> None:
    """The whole course. Raises WentWrong at the first promise that does not hold."""
    report = Report(f"systemd/install on a booted {suite}")
    root = computer(suite, "bench")
    now, later = sources.source(root, None), sources.source(root, "9.0.1")
    sick = {
        "that crashes": sources.source(root, "9.1.1", sources.crashes),
        "that is never ready": sources.source(root, "9.1.2", sources.never_ready),
        "that crashes and has changed the record": sources.source(
            root, "9.1.3", sources.crashes, sources.changes_record
        ),
    }
    with booted(root) as system:
        new(system, report, now)
        again(system, report, now)
        figures(system, report)
        limits(system, report, busy(system, report, later))
        knocked(system, report)
        upgraded(system, report, later)
        for how, folder in sick.items():
            rolled_back(system, report, folder, how)
        killed(system, report, sick["that crashes"])
    with booted(root) as system:
        started_by_itself(system, report)
        taken_away(system, report, later)
    root.free()


def new(system: Booted, report: Report, folder: str) -> None:
    """Nothing is there; one command, and the page answers."""
    ran = install(system, folder)
    system.phone("await", "1")
    must(system.shown(measures.UNIT, "ActiveState") == "active", "the station does not run")
    must(
        system.run("systemctl", "is-enabled", measures.UNIT).strip() == "enabled", "it is not started with the computer"
    )
    must("http://" in ran.said and "█" in ran.said, f"no address, no QR code:\n{ran.said}")
    report.tell("installed by one command, with what the system lacked", f"{ran.seconds:.0f} s")
    report.tell("a version on the disk", f"{system.root.size_mb('opt/tarebell/versions'):.0f} MB")


def again(system: Booted, report: Report, folder: str) -> None:
    """The same command changes nothing; whatever is missing it puts right; neither stops the station."""
    was = measures.pid(system)
    ran = install(system, folder)
    must("Nothing was changed." in ran.said, f"the second time something was done:\n{ran.said}")
    report.tell("the same again, nothing changed", f"{ran.seconds:.1f} s")
    gone = ["/etc/systemd/system/tarebell.service", "/usr/local/bin/tarebell", "/etc/udev/rules.d/70-tarebell.rules"]
    system.run("rm", *gone)
    ran = install(system, folder)
    system.run("ls", *gone)
    must(measures.pid(system) == was, "a repair has stopped the station")
    report.tell(f"{len(gone)} files deleted, repaired, station never stopped", f"{ran.seconds:.1f} s")
    system.run("dpkg", "--remove", "espeak-ng")
    system.run("bash", "-c", "rm -r /var/lib/apt/lists/*")
    ran = install(system, folder)
    system.run("espeak-ng", "--version")
    report.tell("a package and all lists of packages gone, there again", f"{ran.seconds:.0f} s")


def figures(system: Booted, report: Report) -> None:
    """What the service costs."""
    report.tell("exposure of the running unit (systemd-analyze security)", measures.exposure(system))
    page, ready = measures.page_after_s(system)
    report.tell("from start to the first page; to ready", f"{page:.1f} s; {ready:.1f} s")
    time.sleep(10)
    report.tell("processor, nobody there, no scale", f"{measures.busy_percent(system, IDLE_S):.1f} % of one")
    rss, own = measures.memory_mb(system)
    report.tell("memory; of it its own; threads", f"{rss:.0f} MB; {own:.0f} MB; {measures.threads(system)}")


def busy(system: Booted, report: Report, later: str) -> str:
    """While a cast is at the bench nothing is changed, and nothing taken away; the number of that cast, given up."""
    a_scale(system)
    code = re.search(r"\b(\d{3}) ?(\d{3})\b", system.run("tarebell", "pair"))
    if code is None:
        raise WentWrong("no pairing code")
    system.phone("pair", code[1] + code[2])
    cast = system.phone("begin")["cast"]
    was = measures.pid(system), version(system)
    ran = install(system, later, "--upgrade", code=BUSY)
    install(system, later, "--remove", code=BUSY)
    must((measures.pid(system), version(system)) == was, "the cast was disturbed")
    must(system.phone("state")["cast"] == cast, "the cast is gone")
    report.tell("a cast runs: upgrade and removal refused (3), nothing touched", f"{ran.seconds:.1f} s")
    system.phone("give-up")
    return str(cast)


def limits(system: Booted, report: Report, cast: str) -> None:
    """What the unit shuts hinders nothing: processes of their own, with limits, for strangers' files and messages."""
    must(system.phone("photo", cast, script="chores") == {"photos": 1}, "no photo")
    must(system.phone("mesh", script="chores") == {"facets": 4}, "no mesh")
    must(system.phone("message", script="chores") == {"heard": 1}, "no message")
    with plugged_in(system) as stick:
        system.phone("backup", script="chores")
        copies = [each for each in system.run("find", stick, "-name", "tarebell-*.zip").splitlines() if each]
        must(len(copies) == 1, f"no copy of the backup on the stick: {copies}")
    report.tell(
        "a photo taken in, a mesh measured, a message sent, a backup copied to a stick, by the shut-in service", "yes"
    )
    bad = "ermission|not permitted|Traceback"
    said = system.ran("journalctl", "--unit", measures.UNIT, "--grep", bad, "--quiet").said
    must(not said.strip(), f"something was refused:\n{said}")
    told = json.loads(system.ran("tarebell", "doctor", "--json").said)
    found = {one["check"]: {each["verdict"] for each in one["findings"]} for one in told["checks"]}
    must(found["service"] == found["page"] == {"pass"}, f"the doctor is wrong: {told}")
    report.tell("the doctor says FAIL of", [k for k, v in found.items() if "fail" in v] or "nothing")


def knocked(system: Booted, report: Report) -> None:
    """Killed, and hung: systemd brings it back by itself."""
    with watched(system, version(system)) as killed_:
        system.run("systemctl", "kill", "--kill-whom=main", "--signal=KILL", measures.UNIT)
        time.sleep(1)
        ready_again(system)
    with watched(system, version(system)) as hung:
        was = measures.pid(system)
        system.run("systemctl", "kill", "--kill-whom=main", "--signal=STOP", measures.UNIT)
        ends = time.monotonic() + HUNG_S
        while measures.pid(system) == was and time.monotonic() < ends:
            time.sleep(0.2)
        ready_again(system)
    report.tell(
        "killed, until it is ready again; hung, until the page is back",
        f"{killed_.version_s:.1f} s; {hung.page_s:.1f} s",
    )
    must(killed_.version_s < KILLED_S and hung.page_s < HUNG_S, "it was away for too long")


def ready_again(system: Booted) -> None:
    """Wait for it. Raises WentWrong."""
    system.run("timeout", "60", "bash", "-c", f"until systemctl --quiet is-active {measures.UNIT}; do sleep 0.2; done")


def a_scale(system: Booted) -> None:
    """A scale behind a serial server, and the settings that say so."""
    system.run("systemd-run", "--quiet", "--unit=scale-of-the-trial", "python3", "/within/scale.py")
    settings = "/etc/tarebell/station.toml"
    system.run("sed", "-i", 's|^port = "found"|port = "socket://127.0.0.1:4001"|', settings)
    system.run("systemctl", "restart", measures.UNIT)
    system.phone("await", "60")


def started_by_itself(system: Booted, report: Report) -> None:
    """After a restart of the computer."""
    system.phone("await", "60")
    done = int(system.shown(measures.UNIT, "ActiveEnterTimestampMonotonic")) / 1e6
    began = int(system.run("systemctl", "show", "--property=UserspaceTimestampMonotonic", "--value")) / 1e6
    report.tell("the computer starts: from systemd's first moment until the station is ready", f"{done - began:.1f} s")


def taken_away(system: Booted, report: Report, folder: str) -> None:
    """The program goes, the record stays; a new installation finds it; `--data` leaves nothing."""
    casts = system.run("tarebell", "casts")
    install(system, folder, "--remove")
    must(system.shown(measures.UNIT, "LoadState") == "not-found", "its unit is still there")
    left = files(system)
    must(any("record.db" in each for each in left), "the record is gone")
    must(not any("/opt/" in each or "/systemd/" in each for each in left), f"left: {left}")
    ran = install(system, folder)
    must(system.run("tarebell", "casts") == casts, "the record is not the same")
    report.tell("taken away, the record stays; installed again, the casts are there", f"{ran.seconds:.0f} s")
    install(system, folder, "--remove", "--data")
    left = files(system)
    must(left == ["/var/log/tarebell-install.log"], f"left: {left}")
    must(not system.run("bash", "-c", "getent passwd tarebell || true"), "the user is left")
    report.tell("taken away with its data: what is left", ", ".join(left))


def files(system: Booted) -> list[str]:
    """Every file of that computer that has something to do with the station, but for the sources."""
    said = system.run("find", "/", "-xdev", "-path", "/srv", "-prune", "-o", "-path", "*tarebell*", "-print")
    return sorted(each for each in said.splitlines() if not each.startswith(("/proc", "/sys", "/run/systemd", "/tmp")))

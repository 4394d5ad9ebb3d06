"""The sending process: `python -m station.push.child` with one message as JSON on standard input.

It answers with one line of JSON and ends. A process of its own costs the station no memory between messages, and
whatever a target does to it (hang, answer drop by drop), it can be ended from outside. It limits its own life too, so
that none is left over when the station dies.
"""

from __future__ import annotations

import contextlib
import json
import logging
import re
import resource
import signal
import sys
from typing import Any, Final

from station.push.verdict import Kind, Verdict

LIFE_S: Final = 60
CPU_S: Final = 40
LONGEST_INPUT: Final = 16 * 1024


class _Ear(logging.Handler):
    """Hears why the library did not send. What it hears may tell addresses: only a kind comes of it."""

    def __init__(self) -> None:
        super().__init__(logging.DEBUG)
        self._heard = ""

    def emit(self, record: logging.LogRecord) -> None:
        self._heard += record.getMessage()[:2000] + "\n"

    def verdict(self) -> Verdict:
        code = re.search(r"error=(\d{3})\b", self._heard)
        if code is not None:
            return Verdict(Kind.ANSWERED, int(code[1]))
        if "timed out" in self._heard:
            return Verdict(Kind.SILENT)
        if "onnection error" in self._heard:
            return Verdict(Kind.NOT_REACHED)
        return Verdict(Kind.NOT_TAKEN)


def limit_itself() -> None:
    """Lives a minute at most, and goes first when memory runs out."""
    signal.alarm(LIFE_S)
    with contextlib.suppress(OSError), open("/proc/self/oom_score_adj", "w") as sacrifice:
        sacrifice.write("1000")
    resource.setrlimit(resource.RLIMIT_CPU, (CPU_S, CPU_S))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def attempted(url: str, title: str, body: str, *, send: bool) -> Verdict:
    """Send a message, or without `send` only see whether the address is one that messages can go to."""
    try:
        import apprise
    except ImportError:
        return Verdict(Kind.NO_SENDER)
    logger, ear = logging.getLogger("apprise"), _Ear()
    logger.propagate = False
    logger.setLevel(logging.DEBUG)
    asset = apprise.AppriseAsset(storage_mode="memory", plugin_paths=[])
    target = apprise.Apprise.instantiate(url, asset=asset)
    if target is None:
        return Verdict(Kind.NOT_UNDERSTOOD)
    # A target that does not speak through the http library speaks something else, or to this very machine.
    if not hasattr(sys.modules[type(target).__module__], "requests"):
        return Verdict(Kind.NOT_HTTP)
    if not send:
        return Verdict(Kind.UNDERSTOOD)
    target.redirects = False  # a message goes where the person has said, and nowhere else
    logger.addHandler(ear)
    taken = target.notify(body=body, title=title)
    return Verdict(Kind.TAKEN) if taken else ear.verdict()


def main() -> None:
    """Read a message, send it, answer."""
    limit_itself()
    said: dict[str, Any] = json.loads(sys.stdin.read(LONGEST_INPUT))
    answer = sys.stdout
    sys.stdout = sys.stderr  # nothing but the answer goes out
    try:
        verdict = attempted(said["url"], said["title"], said["body"], send=said["send"])
    except Exception:  # whatever a library does with an odd address, its words stay here
        verdict = Verdict(Kind.BROKEN)
    answer.write(json.dumps([verdict.kind.name, verdict.code]) + "\n")
    answer.flush()


if __name__ == "__main__":
    main()

"""Checks: the results of scale checks, one JSON line each, appended to a file beside the record and never changed."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path
from typing import Any

from station.keeping import append_line
from station.metrology.promise import ScalePromise
from station.metrology.verdict import CheckResult

_FILE = "scale-checks.jsonl"


@dataclass(frozen=True, slots=True)
class KeptCheck:
    """One check as it is kept. Grams; None for what was not tested."""

    on: date
    due: date
    verdict: str
    reasons: tuple[str, ...]
    scale: str
    temperature_c: float | None
    promise: ScalePromise
    error_g: float | None
    corner_g: float | None
    drift_g_per_h: float | None
    settling_s: float | None


def kept(result: CheckResult, scale: str, temperature_c: float | None) -> KeptCheck:
    """What is kept of a result."""
    figures = result.figures
    return KeptCheck(
        on=result.on,
        due=result.due,
        verdict=result.verdict.value,
        reasons=tuple(reason.words for reason in result.reasons),
        scale=scale,
        temperature_c=temperature_c,
        promise=result.promise,
        error_g=figures.weights[0].error_g if figures.weights else None,
        corner_g=figures.corner_spread_g,
        drift_g_per_h=figures.drift_g_per_h,
        settling_s=figures.settling_s,
    )


class Checks:
    """The checks in the state folder."""

    def __init__(self, folder: Path) -> None:
        self._file = folder / _FILE

    def append(self, check: KeptCheck) -> None:
        """Keep a check; on disk when this returns. Raises LedgerFault."""
        row = asdict(check) | {"on": check.on.isoformat(), "due": check.due.isoformat()}
        append_line(self._file, json.dumps(row))

    def all(self) -> tuple[KeptCheck, ...]:
        """All checks, the newest first; a line that a power cut tore is left out."""
        try:
            lines = self._file.read_text(encoding="utf-8").splitlines()
        except OSError:
            return ()
        checks = [check for line in lines if (check := _read(line)) is not None]
        return tuple(sorted(checks, key=lambda check: check.on)[::-1])

    def newest(self, scale: str) -> KeptCheck | None:
        """The newest check of the scale at this port."""
        return next((check for check in self.all() if check.scale == scale), None)


def _read(line: str) -> KeptCheck | None:
    try:
        row: dict[str, Any] = json.loads(line)
        return KeptCheck(
            **{
                **row,
                "on": date.fromisoformat(row["on"]),
                "due": date.fromisoformat(row["due"]),
                "reasons": tuple(row["reasons"]),
                "promise": ScalePromise(**row["promise"]),
            }
        )
    except (ValueError, TypeError, KeyError):
        return None

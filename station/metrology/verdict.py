"""The verdict of a scale check, each reason in a sentence that a caster understands."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from station.metrology.check import CheckReadings, Figures, due_date, measured
from station.metrology.judging import corners, display, drift, repeats, settling, smallest, zero
from station.metrology.judging_weights import weights
from station.metrology.promise import ScalePromise
from station.metrology.reason import Reason, Verdict
from station.texts import N_, t

NOT_FOR_TRADE = N_(
    "This is a workshop check of one scale at one place. It is not a verification for trade: for selling "
    "by weight the scale must be verified by the authority in charge."
)


@dataclass(frozen=True, slots=True)
class CheckResult:
    """A finished scale check."""

    on: date
    due: date
    figures: Figures
    verdict: Verdict
    reasons: tuple[Reason, ...]

    @property
    def note(self) -> str:
        """What it is not."""
        return t(NOT_FOR_TRADE)

    @property
    def promise(self) -> ScalePromise:
        """What the scale can promise from now on."""
        return self.figures.promise


def checked(readings: CheckReadings, on: date, months: int = 12) -> CheckResult:
    """The result of a check made on that day, due again `months` later. Raises Refused for what makes no sense."""
    due = due_date(on, months)
    figures = measured(readings)
    reasons = tuple(
        reason
        for judge in (smallest, weights, zero, repeats, corners, drift, display, settling)
        for reason in judge(readings, figures)
    )
    allowed = {reason.allows for reason in reasons}
    worst = next((v for v in (Verdict.NOT_FIT, Verdict.FIT_WITH_LIMITS) if v in allowed), Verdict.FIT)
    return CheckResult(on, due, figures, worst, reasons)

"""What the page Station says of a part, as a finding: both say the same in the same words."""

from __future__ import annotations

from station.doctor.finding import Finding, Verdict
from station.phone.station_view import Fare, Part

_VERDICTS = {
    Fare.WRONG: Verdict.FAIL,
    Fare.LOOK: Verdict.LOOK,
    Fare.UNKNOWN: Verdict.PASS,
    Fare.WELL: Verdict.PASS,
    Fare.OFF: Verdict.PASS,
}


def finding_of(part: Part) -> Finding:
    """The finding; its words hold the cure already."""
    return Finding(_VERDICTS[part.fare], part.words)

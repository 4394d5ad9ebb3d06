"""The process that checks a record: `python -m station.store.walk_child PLACE LANGUAGE` says its verdict in a line."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from station.confined.limits import NICER
from station.errors import LedgerFault
from station.languages import begin_to_speak
from station.store.verify import verify
from station.store.walker import plain, plain_fault, stand_back


def main(place: Path, language: str) -> None:
    """Answers once."""
    stand_back(NICER)
    begin_to_speak(language)
    try:
        told = plain(verify(place))
    except LedgerFault as fault:
        told = plain_fault(fault)
    print(json.dumps(told))


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])

"""A writer that is killed in the middle of its work: writes casts for ever, says on stdout what is on disk."""

from __future__ import annotations

import sys
from pathlib import Path

from station.core import events as ev
from station.store.ledger import SqlLedger
from tests.store.stories import Story


def main(folder: str, first: int) -> None:
    """Write casts from number `first` on, entry by entry; the number of entries so far goes out after each."""
    with SqlLedger(Path(folder)) as ledger:
        story = Story()
        story.clock.advance(first * 1e6)
        story.tell(ev.StationStarted(ledger.last_seen(), "0.1.0"))
        written, number = sum(1 for _ in ledger.entries()), first
        while True:
            story.whole_cast(number)
            for entry in story.entries:
                ledger.write([entry])
                written += 1
                sys.stdout.write(f"{written}\n")
                sys.stdout.flush()
            story.entries.clear()
            number += 1


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))

"""The scribe: a full disk is tried again, a start goes on from the checkpoint, and no other record is written on."""

from __future__ import annotations

from pathlib import Path

import pytest

from station.core.fold import replayed
from station.errors import LedgerFault
from station.store.ledger import SqlLedger
from tests.store.scribes import scribe_on
from tests.store.stories import a_day

DAY = tuple(a_day(2))


def test_a_card_that_is_full_at_the_first_start_is_tried_again(tmp_path: Path) -> None:
    full = [True]

    def make(*given: object) -> SqlLedger:
        if full[0]:
            raise LedgerFault("The disk is full.", "Free some space.")
        return SqlLedger(*given)  # type: ignore[arg-type]

    with scribe_on(tmp_path, make) as scribe:
        assert scribe.standing() == replayed(())
        assert scribe.last_seen() is None
        with pytest.raises(LedgerFault, match="full"):
            scribe.write(DAY[:2])
        full[0] = False
        scribe.write(DAY[:4])
    with SqlLedger(tmp_path) as ledger:
        assert tuple(ledger.entries()) == DAY[:4]


def test_a_start_from_the_checkpoint_gives_the_state_of_the_whole_journal(tmp_path: Path) -> None:
    for cut in (1, len(DAY) // 2, len(DAY)):
        state = tmp_path / str(cut)
        with scribe_on(state) as scribe:
            scribe.write(DAY[:cut])
            scribe.keep_standing(replayed(DAY[:cut]))
            if DAY[cut:]:
                scribe.write(DAY[cut:])
        with scribe_on(state) as scribe:
            assert scribe.standing() == replayed(DAY)
            assert scribe.last_seen() == DAY[-1].at


def test_a_checkpoint_of_other_code_or_of_another_journal_is_passed_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    wrong = replayed(DAY[:1])
    with scribe_on(tmp_path) as scribe:
        scribe.write(DAY)
        scribe.keep_standing(wrong)
    with scribe_on(tmp_path) as scribe:
        assert scribe.standing() == wrong, "the control: a checkpoint is really used"
    monkeypatch.setattr("station.store.checkpoint.folding_code", lambda: "other code")
    with scribe_on(tmp_path) as scribe:
        assert scribe.standing() == replayed(DAY)


def test_a_record_that_changed_while_it_could_not_be_used_is_not_written_on(tmp_path: Path) -> None:
    """Entries that follow one history must not be put at the end of another."""
    full = [True]

    def make(*given: object) -> SqlLedger:
        if full[0]:
            raise LedgerFault("The disk is full.", "Free some space.")
        return SqlLedger(*given)  # type: ignore[arg-type]

    other = tmp_path / "other"
    with SqlLedger(other) as ledger:
        ledger.write(DAY[:3])
    state = tmp_path / "state"
    with scribe_on(state, make) as scribe:
        (other / "record.db").rename(state / "record.db")
        full[0] = False
        with pytest.raises(LedgerFault, match="changed while it could not be used"):
            scribe.write(DAY[5:6])
    with SqlLedger(state) as ledger:
        assert tuple(ledger.entries()) == DAY[:3]

"""Reading ahead: the first start of other code begins where its own reading came to, and only there."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from station.core.fold import replayed
from station.errors import LedgerFault
from station.store import ahead
from station.store.ledger import SqlLedger
from tests.store.stories import a_day

DAY = tuple(a_day(3))
CUT = len(DAY) // 2


def written(folder: Path, entries: tuple[object, ...] = DAY) -> None:
    with SqlLedger(folder) as ledger:
        ledger.write(entries)  # type: ignore[arg-type]


def spoilt(folder: Path, **changes: object) -> None:
    """Change what was read ahead."""
    file = folder / ahead.FILE
    file.write_text(json.dumps({**json.loads(file.read_text()), **changes}))


def rows_read(folder: Path, monkeypatch: pytest.MonkeyPatch) -> int:
    """How many rows a start reads; it must come to the true state."""
    monkeypatch.setattr(ahead, "TOLD_EVERY", 1)
    heard = [0]
    with SqlLedger(folder) as ledger:
        assert ledger.standing(heard.append) == replayed(DAY)
    return heard[-1]


def test_a_start_goes_on_where_the_reading_came_to(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert not ahead.FILE.startswith(".")
    with SqlLedger(tmp_path) as ledger:
        ledger.write(DAY[:CUT])
        assert ahead.read_ahead(tmp_path) == CUT, "while the station has the record"
        ledger.write(DAY[CUT:])
    assert rows_read(tmp_path, monkeypatch) == len(DAY) - CUT


@pytest.mark.parametrize(
    "changes",
    [{"code": "0" * 64}, {"digest": "0" * 64}, {"seq": 3}, {"standing": "{}"}, {"seal": ""}, {"standing": 7}],
    ids=str,
)
def test_what_does_not_fit_the_record_and_the_code_is_passed_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, changes: dict[str, object]
) -> None:
    written(tmp_path)
    ahead.read_ahead(tmp_path)
    assert rows_read(tmp_path, monkeypatch) == 0, "the control: it is really used"
    spoilt(tmp_path, **changes)
    assert rows_read(tmp_path, monkeypatch) == len(DAY)


@pytest.mark.parametrize("content", ["", "{", "[]", "null", "7", '{"code": 1}'])
def test_a_file_that_is_none_is_passed_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, content: str) -> None:
    written(tmp_path)
    (tmp_path / ahead.FILE).write_text(content)
    assert rows_read(tmp_path, monkeypatch) == len(DAY)


def test_the_later_of_both_shortcuts_counts_and_the_file_goes_once_the_record_has_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with SqlLedger(tmp_path) as ledger:
        ledger.write(DAY[:CUT])
        ahead.read_ahead(tmp_path)
        ledger.write(DAY[CUT:-1])
        ledger.keep_standing(replayed(DAY[:-1]))
        assert not (tmp_path / ahead.FILE).exists()
        ledger.write(DAY[-1:])
    assert rows_read(tmp_path, monkeypatch) == 1


def test_the_checkpoint_of_the_code_before_stays_for_the_way_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with SqlLedger(tmp_path) as ledger:
        ledger.write(DAY[:CUT])
        ledger.keep_standing(replayed(DAY[:CUT]))
    with monkeypatch.context() as newer:
        newer.setattr("station.store.checkpoint.folding_code", lambda: "newer code")
        for cut in (CUT + 1, CUT + 2, len(DAY)):
            with SqlLedger(tmp_path) as ledger:
                ledger.write(DAY[cut - 1 : cut] if cut < len(DAY) else DAY[CUT + 2 :])
                ledger.keep_standing(replayed(DAY[:cut]))
        assert rows_read(tmp_path, newer) == 0
    assert rows_read(tmp_path, monkeypatch) == len(DAY) - CUT


def test_much_reading_at_a_start_is_kept_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    written(tmp_path)
    monkeypatch.setattr("station.store.ledger.WORTH_KEEPING", len(DAY))
    assert rows_read(tmp_path, monkeypatch) == len(DAY)
    assert rows_read(tmp_path, monkeypatch) == 0


def test_a_damaged_record_is_not_read_ahead(tmp_path: Path) -> None:
    written(tmp_path)
    place = tmp_path / "record.db"
    place.write_bytes(place.read_bytes().replace(b'"number":1', b'"number":7'))
    with pytest.raises(LedgerFault):
        ahead.read_ahead(tmp_path)
    assert not (tmp_path / ahead.FILE).exists()

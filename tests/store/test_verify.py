"""Every damage to the journal is found: a changed value, a lost row, rows in each other's place.

The digest is SHA-256 (FIPS 180-4); the one computed here by hand follows the layout in `chain`'s docstring.
"""

from __future__ import annotations

import hashlib
import json
import random
import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from station.store.ledger import SqlLedger
from station.store.verify import verify
from tests.store.disk import opened, table, without_guards
from tests.store.stories import a_day

COLUMNS = ("kind", "cast_number", "boot_id", "boot_s", "wall", "trusted", "payload", "previous", "digest")
DAY = a_day(2)


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An undamaged record of a day, without the guards, in one file."""
    folder = tmp_path_factory.mktemp("whole")
    with SqlLedger(folder) as ledger:
        for entry in DAY:
            ledger.write([entry])
    with opened(folder / "record.db") as db:
        without_guards(db)
        db.execute("PRAGMA journal_mode = DELETE")
    return folder / "record.db"


@pytest.fixture
def record(whole: Path, tmp_path: Path) -> Path:
    """A copy to damage."""
    return Path(shutil.copy(whole, tmp_path / "record.db"))


def test_a_whole_journal_is_found_whole(record: Path) -> None:
    verdict = verify(record)
    assert (verdict.ok, verdict.rows, verdict.seq) == (True, len(DAY), None)
    assert verdict.words == f"All {len(DAY)} rows are whole and in order."


def test_an_empty_journal_is_whole(tmp_path: Path) -> None:
    with SqlLedger(tmp_path) as ledger:
        assert verify(ledger.place).rows == 0
        assert verify(ledger.place).ok


def test_the_seal_is_the_documented_digest(record: Path) -> None:
    before = "0" * 64
    with opened(record) as db:
        for row in db.execute("SELECT * FROM journal ORDER BY seq").fetchall():
            assert row[8] == before
            text = json.dumps(list(row[:9]), separators=(",", ":"))
            before = hashlib.sha256(text.encode()).hexdigest()
            assert row[9] == before


def test_each_column_is_sealed(record: Path) -> None:
    """Every column of every row, changed by one character or one unit."""
    with opened(record) as db:
        for seq in range(1, len(DAY) + 1):
            for column in COLUMNS:
                (value,) = db.execute(f"SELECT {column} FROM journal WHERE seq = ?", (seq,)).fetchone()
                other = value[:-1] + chr(ord(value[-1]) ^ 1) if isinstance(value, str) else (value or 0) + 1
                db.execute(f"UPDATE journal SET {column} = ? WHERE seq = ?", (other, seq))
                verdict = verify(record)
                assert (verdict.ok, verdict.seq, verdict.rows) == (False, seq, seq - 1), (seq, column)
                assert f"Row {seq} " in verdict.words
                db.execute(f"UPDATE journal SET {column} = ? WHERE seq = ?", (value, seq))
    assert verify(record).ok


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    seq=st.integers(1, len(DAY)),
    column=st.sampled_from(COLUMNS),
    value=st.none()
    | st.booleans()
    | st.integers(-5, 5)
    | st.floats(0, 200)
    | st.text(max_size=20)
    | st.binary(max_size=9),
)
def test_no_random_value_in_any_place_goes_unnoticed(record: Path, seq: int, column: str, value: object) -> None:
    with opened(record) as db:
        before = db.execute("SELECT * FROM journal WHERE seq = ?", (seq,)).fetchone()
        db.execute("BEGIN")
        db.execute(f"UPDATE OR IGNORE journal SET {column} = ? WHERE seq = ?", (value, seq))
        after = db.execute("SELECT * FROM journal WHERE seq = ?", (seq,)).fetchone()
        db.execute("COMMIT")
        verdict = verify(record)
        if repr(after) == repr(before):
            assert verdict.ok
        else:
            assert (verdict.ok, verdict.seq) == (False, seq)
        place = {name: position for position, name in enumerate(("seq", *COLUMNS))}[column]
        db.execute(f"UPDATE journal SET {column} = ? WHERE seq = ?", (before[place], seq))
    assert verify(record).ok


@pytest.mark.parametrize("changes", [250, pytest.param(1000, marks=pytest.mark.soak)])
def test_random_single_bytes_of_the_text_are_found(record: Path, changes: int) -> None:
    """Random single-byte changes to stored text, as a worn card makes them; UTF-8 or not."""
    rng = random.Random(417)
    texts = [column for column in COLUMNS if column not in ("cast_number", "boot_s", "trusted")]
    with opened(record) as db:
        for _ in range(changes):
            seq, column = rng.randint(1, len(DAY)), rng.choice(texts)
            query = f"SELECT CAST({column} AS BLOB) FROM journal WHERE seq = ?"
            (value,) = db.execute(query, (seq,)).fetchone()
            spot, flip = rng.randrange(len(value)), rng.randint(1, 255)
            bad = value[:spot] + bytes([value[spot] ^ flip]) + value[spot + 1 :]
            db.execute(f"UPDATE journal SET {column} = CAST(? AS TEXT) WHERE seq = ?", (bad, seq))
            verdict = verify(record)
            assert (verdict.ok, verdict.seq) == (False, seq), (seq, column, bad)
            db.execute(f"UPDATE journal SET {column} = CAST(? AS TEXT) WHERE seq = ?", (value, seq))
    assert verify(record).ok


@pytest.mark.parametrize("seq", [1, 2, len(DAY) // 2, len(DAY) - 1, len(DAY)])
def test_a_removed_row_is_found(record: Path, seq: int) -> None:
    with opened(record) as db:
        db.execute("DELETE FROM journal WHERE seq = ?", (seq,))
    verdict = verify(record)
    assert (verdict.ok, verdict.seq) == (False, seq)
    assert verdict.words.startswith(f"Row {seq} is missing")


def test_a_cut_off_end_and_an_emptied_journal_are_found(record: Path) -> None:
    with opened(record) as db:
        db.execute("DELETE FROM journal WHERE seq > 10")
        assert verify(record).seq == 11
        db.execute("DELETE FROM journal")
    assert verify(record).seq == 1


@pytest.mark.parametrize(("one", "other"), [(1, 2), (5, 6), (3, 20), (len(DAY) - 1, len(DAY))])
def test_swapped_rows_are_found(record: Path, one: int, other: int) -> None:
    with opened(record) as db:
        for old, new in ((one, -1), (other, one), (-1, other)):
            db.execute("UPDATE journal SET seq = ? WHERE seq = ?", (new, old))
    verdict = verify(record)
    assert (verdict.ok, verdict.seq) == (False, one)
    assert verdict.words == f"Row {one} is out of order: it was written as row {other}."


def test_a_row_changed_and_sealed_again_by_hand_is_found_at_the_next(record: Path) -> None:
    with opened(record) as db:
        row = list(db.execute("SELECT * FROM journal WHERE seq = 7").fetchone())
        row[7] = row[7].replace("1", "2")
        digest = hashlib.sha256(json.dumps(row[:9], separators=(",", ":")).encode()).hexdigest()
        db.execute("UPDATE journal SET payload = ?, digest = ? WHERE seq = 7", (row[7], digest))
    verdict = verify(record)
    assert not verdict.ok
    assert verdict.seq == 8
    assert "does not follow the row before it" in verdict.words


def test_a_last_row_changed_and_sealed_again_by_hand_is_found(record: Path) -> None:
    last = len(DAY)
    with opened(record) as db:
        row = list(db.execute("SELECT * FROM journal WHERE seq = ?", (last,)).fetchone())
        row[7] = row[7].replace("page", "pedal")
        digest = hashlib.sha256(json.dumps(row[:9], separators=(",", ":")).encode()).hexdigest()
        db.execute("UPDATE journal SET payload = ?, digest = ? WHERE seq = ?", (row[7], digest, last))
    verdict = verify(record)
    assert (verdict.ok, verdict.seq) == (False, last)


def test_a_row_put_in_is_found(record: Path) -> None:
    with opened(record) as db:
        last = len(DAY)
        db.execute(
            "INSERT INTO journal SELECT ?, kind, cast_number, boot_id, boot_s, wall, trusted, payload, previous, "
            "digest FROM journal WHERE seq = ?",
            (last + 1, last),
        )
    assert verify(record).seq == last + 1
    assert len(table(record, "journal")) == last + 1


def test_a_record_whose_tables_cannot_be_read_at_all_is_a_damaged_one(whole, tmp_path):
    record = tmp_path / "record.db"
    content = whole.read_bytes()
    # The list of tables begins on the first page: what it says of the journal is no longer a table.
    spoilt = content.replace(b"CREATE TABLE journal", b"CREATE TABXE journal", 1)
    assert spoilt != content
    record.write_bytes(spoilt)
    verdict = verify(record)
    assert not verdict.ok
    assert "damaged" in verdict.words

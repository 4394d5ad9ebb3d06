"""The record and its backups, read without a station."""

from datetime import timedelta

import pytest

from station import __version__
from station.doctor.checks import record
from station.doctor.examining import examined
from station.doctor.finding import Verdict
from station.doctor.order import CHECKS
from station.store.backup.left import Left, note_left
from station.store.backup.shelf import shelf_of
from station.store.ledger import SqlLedger
from tests.doctor.ward import only, verdicts
from tests.store.disk import opened, without_guards
from tests.store.stories import a_day

DAY = a_day(2)


@pytest.fixture
def kept(ward):
    """A machine with a record."""
    with SqlLedger(ward.state) as ledger:
        ledger.write(DAY)
    return ward


def trusted(ward, days=0.0):
    """The patient at a bench that knows the day, so many days from now."""
    ward.put("/run/systemd/timesync/synchronized")
    patient = ward.patient()
    at = patient.now
    return ward.patient(now=type(at)(at.boot_s, at.boot_id, at.wall + timedelta(days=days), True))


def spoil(ward, seq):
    with opened(ward.state / "record.db") as db:
        without_guards(db)
        db.execute(f"UPDATE journal SET payload = '{{}}' WHERE seq = {seq}")
        db.commit()


def test_without_a_record_that_needs_a_look(ward):
    found = only(record.record, ward.patient())
    assert found.verdict is Verdict.LOOK
    assert "There is no record" in found.told


def test_a_whole_record_passes_at_a_glance_and_in_full(kept):
    assert f"the end of its {len(DAY)} rows is whole" in only(record.record, kept.patient()).told
    found = only(record.record, kept.patient(thorough=True))
    assert found.verdict is Verdict.PASS
    assert f"All {len(DAY)} rows are whole" in found.told


def test_a_damaged_end_fails_at_a_glance(kept):
    spoil(kept, len(DAY))
    found = only(record.record, kept.patient())
    assert found.verdict is Verdict.FAIL
    assert "tarebell restore" in found.cure


def test_damage_long_ago_fails_in_full(kept):
    spoil(kept, 2)
    assert only(record.record, kept.patient()).verdict is Verdict.PASS
    found = only(record.record, kept.patient(thorough=True))
    assert found.verdict is Verdict.FAIL
    assert "Row 2" in found.told
    assert "restore" in found.cure.lower()


def test_a_file_that_is_no_database_fails_and_its_place_is_not_told_to_others(kept):
    for file in kept.state.glob("record*"):
        file.unlink()
    (kept.state / "record.db").write_bytes(b"no database" * 500)
    found = only(record.record, kept.patient())
    assert found.verdict is Verdict.FAIL
    assert str(kept.state) not in found.without_names().told


def test_backups_are_told_by_age_and_by_what_left_the_card(kept):
    assert only(record.backups, trusted(kept)).told.startswith("There is none yet")
    patient = trusted(kept)
    shelf = shelf_of(patient.known, __version__)
    shelf.make(patient.now, "test")
    found = only(record.backups, patient)
    assert found.verdict is Verdict.PASS
    assert "No copy has left the card yet." in found.told
    late = only(record.backups, trusted(kept, days=8))
    assert late.verdict is Verdict.LOOK
    assert "No copy of the record has left this card" in late.told
    note_left(shelf.folder, Left(trusted(kept, days=7).now.wall, len(DAY), "stick"))
    assert "A copy last left the card" in only(record.backups, trusted(kept)).told


def test_what_only_another_user_may_read_is_not_called_missing_or_damaged(kept, monkeypatch):
    patient = kept.patient()
    (kept.state / "backups").mkdir()
    monkeypatch.setattr("station.doctor.rights.os.access", lambda *_: False)
    for key in ("record", "backups"):
        (found,) = examined(patient, [check for check in CHECKS if check.key == key])
        assert verdicts(found.findings) == [Verdict.LOOK]
        assert found.findings[0].told.startswith("This user may not look at it")
        assert found.findings[0].cure == "Ask again with sudo."


def test_a_place_of_copies_that_is_not_there_needs_a_look(kept, tmp_path):
    kept.settings(f'[backup]\ncopies = ["{tmp_path}/share"]\n')
    assert verdicts(record.backups(trusted(kept))) == [Verdict.PASS, Verdict.LOOK]
    (tmp_path / "share").mkdir()
    assert verdicts(record.backups(trusted(kept))) == [Verdict.PASS]


def test_a_file_that_is_no_backup_needs_a_look(kept):
    patient = trusted(kept)
    shelf_of(patient.known, __version__).make(patient.now, "test")
    (kept.state / "backups" / "tarebell-2026.zip").write_text("torn")
    found = list(record.backups(patient))
    assert verdicts(found) == [Verdict.PASS, Verdict.LOOK]
    assert "1 file is no backup: tarebell-2026.zip" in found[1].told

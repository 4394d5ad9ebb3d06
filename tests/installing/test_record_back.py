"""What a change relies on at a real record: where programs find the backup, and the way back from another form."""

import json
import sqlite3
from contextlib import closing

import pytest
from click.testing import CliRunner

from station.cli import main
from station.core.messages import Abort
from station.errors import StationError
from station.installing.asking import record_version
from station.store.ledger import SqlLedger
from station.store.verify import verify
from tests.play import SILICONE, Play


@pytest.fixture
def bench(tmp_path):
    """Settings, and a record with a cast that was given up."""
    settings = tmp_path / "station.toml"
    settings.write_text(f'state_dir = "{tmp_path / "state"}"\n[scale]\nport = "/dev/x"\nfamily = "status-commas"\n')
    return tmp_path


def asked(bench, *words):
    ran = CliRunner().invoke(main, [*words, "--config", str(bench / "station.toml")])
    return ran.exit_code, ran.output


def written(bench, play):
    with SqlLedger(bench / "state") as ledger:
        ledger.write(play.entries)


def test_an_empty_bench_is_idle_and_has_no_backup(bench):
    assert asked(bench, "idle", "--json", "--backup") == (0, '{"busy": "", "backup": null}\n')


def test_a_cast_at_the_bench_is_told_to_programs_and_no_backup_is_made(bench):
    play = Play()
    play.begin(SILICONE, "110")
    written(bench, play)
    code, said = asked(bench, "idle", "--json", "--backup")
    assert code == 3
    assert json.loads(said)["busy"].startswith("Refused: cast 1 is at the bench")
    assert not (bench / "state/backups").exists()


def test_a_record_is_read_ahead_by_command(bench):
    play = Play()
    play.begin(SILICONE, "110")
    play.send(Abort(1, "a trial", "pedal"))
    assert asked(bench, "read-ahead") == (0, f"There is no record in {bench / 'state'} yet.\n")
    written(bench, play)
    code, said = asked(bench, "read-ahead")
    assert (code, said) == (0, f"{len(play.entries)} rows are read ahead.\n")
    with SqlLedger(bench / "state") as ledger:
        assert ledger.standing() == play.standing
    record = bench / "state/record.db"
    record.write_bytes(b"no record" * 1000)
    code, said = asked(bench, "read-ahead")
    assert code == 1
    assert "Traceback" not in said
    assert "record.db" in said


def test_a_record_that_a_newer_version_has_changed_goes_back_to_the_backup_made_before(bench):
    play = Play()
    play.begin(SILICONE, "110")
    play.put("30")
    play.send(Abort(1, "a trial", "pedal"))
    written(bench, play)
    state = bench / "state"
    before = record_version(state)
    rows = verify(state / "record.db").rows
    code, said = asked(bench, "idle", "--json", "--backup")
    assert code == 0, said
    backup = json.loads(said)["backup"]

    with closing(sqlite3.connect(state / "record.db")) as db, db:
        db.execute("UPDATE alembic_version SET version_num = '9999'")
        db.execute("CREATE TABLE of_a_newer_version (x)")
    assert record_version(state) == "9999"
    with pytest.raises(StationError, match="newer version of the station"), SqlLedger(state):
        pass

    code, said = asked(bench, "restore", backup, "--instead")
    assert code == 0, said
    assert record_version(state) == before
    assert verify(state / "record.db").ok
    with SqlLedger(state) as ledger:
        assert ledger.standing().bench is None
    assert verify(state / "record.db").rows >= rows


def test_no_record_or_one_that_cannot_be_read_has_no_version(tmp_path):
    assert record_version(tmp_path) is None
    (tmp_path / "record.db").write_text("no database")
    assert record_version(tmp_path) is None

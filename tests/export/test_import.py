"""A log taken over from another station: the same in every row and table, or nothing at all and a sentence."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from click.testing import CliRunner

from station.cli import main
from station.core import events as ev
from station.errors import LedgerFault, Refused, StationError
from station.export_desk.making import Source, export_folder, write_log
from station.export_desk.taking_over import lines_of
from station.records import Asked
from station.store.archive import Archive
from station.store.ledger import LOCK_FILE, SqlLedger
from station.store.lock import StationLock
from station.store.log_import import TakenOver, take_over
from station.store.schema import metadata
from station.store.verify import verify
from station.testing import ScriptedClock
from tests.export.logs import played, two_casts, written
from tests.store.disk import without_guards
from tests.store.stories import Story

NOW = ScriptedClock().now()
LEFT_OUT = {"checkpoints", "alembic_version"}
"""A shortcut that a start makes for itself; the version is that of the program."""


def everything(place: Path) -> dict[str, list[tuple[object, ...]]]:
    """Every row of every table."""
    with closing(sqlite3.connect(place)) as db:
        return {
            name: sorted(db.execute(f"SELECT * FROM {name}").fetchall()) for name in set(metadata.tables) - LEFT_OUT
        }


def taken(file: Path, state: Path) -> TakenOver:
    with lines_of(file) as lines:
        return take_over(lines, state, NOW)


@pytest.fixture
def log(tmp_path: Path) -> Path:
    written(tmp_path / "there", two_casts())
    write_log(Source(tmp_path / "there" / "record.db", "0.1.0"), tmp_path / "log.jsonl")
    return tmp_path / "log.jsonl"


def test_the_same_log_entries_tables_traces_and_verdict(tmp_path: Path) -> None:
    place, play = played(tmp_path / "there")
    export_folder(Source(place, "0.1.0"), tmp_path / "out")
    done = taken(tmp_path / "out", tmp_path / "here")
    here = tmp_path / "here" / "record.db"
    assert (done.rows, done.casts, done.traces, done.set_aside) == (len(play.entries), 1, len(play.traces), None)
    assert everything(here) == everything(place)
    assert verify(here) == verify(place)
    assert verify(here).traces.whole == len(play.traces) > 0
    with SqlLedger(tmp_path / "here") as ledger, SqlLedger(tmp_path / "there") as other:
        assert list(ledger.entries()) == list(other.entries()) == play.entries
        assert ledger.standing() == other.standing()
        # The station goes on where the other one stopped.
        ledger.write([ev.Entry(ev.StationStarted(other.last_seen(), "0.1.0"), NOW)])
    assert verify(here).ok


def test_clocks_that_were_wrong_and_a_time_learned_later_come_along(tmp_path: Path) -> None:
    clock = ScriptedClock()
    clock.trusted = False
    story = Story(clock)
    story.tell(ev.StationStarted(None, "0.1.0"))
    story.whole_cast(1)
    clock.trusted = True
    story.tell(ev.TemperatureNoted(22.0), 5)
    place = written(tmp_path / "there", story)
    write_log(Source(place, "0.1.0"), tmp_path / "log.jsonl")
    taken(tmp_path / "log.jsonl", tmp_path / "here")
    with Archive(place) as there, Archive(tmp_path / "here" / "record.db") as here:
        assert here.record(1) == there.record(1)
        assert here.page(Asked()) == there.page(Asked())
    assert everything(tmp_path / "here" / "record.db") == everything(place)


def test_a_station_that_has_started_but_cast_nothing_takes_it_and_keeps_its_own_aside(
    tmp_path: Path, log: Path
) -> None:
    own = Story()
    own.tell(ev.StationStarted(None, "0.1.0"))
    before = written(tmp_path / "here", own).read_bytes()
    done = taken(log, tmp_path / "here")
    assert done.set_aside is not None
    assert (done.set_aside / "record.db").read_bytes() == before
    assert everything(tmp_path / "here" / "record.db") == everything(tmp_path / "there" / "record.db")
    with SqlLedger(tmp_path / "here") as ledger:
        assert len(list(ledger.entries())) == done.rows


def test_a_station_with_casts_refuses_and_is_as_it_was(tmp_path: Path, log: Path) -> None:
    place = written(tmp_path / "here", two_casts())
    before = place.read_bytes()
    with pytest.raises(Refused, match="holds casts already"):
        taken(log, tmp_path / "here")
    assert place.read_bytes() == before


def test_a_station_that_runs_is_left_alone(tmp_path: Path, log: Path) -> None:
    (tmp_path / "here").mkdir()
    lock = StationLock(tmp_path / "here" / LOCK_FILE)
    with pytest.raises(LedgerFault, match="already runs"):
        taken(log, tmp_path / "here")
    lock.release()
    assert not (tmp_path / "here" / "record.db").exists()


def _without(kind: str) -> Callable[[list[str]], list[str]]:
    return lambda lines: [line for line in lines if f'"is":"{kind}"' not in line]


def _changed(old: str, new: str) -> Callable[[list[str]], list[str]]:
    def change(lines: list[str]) -> list[str]:
        text = "\n".join(lines)
        assert old in text
        return text.replace(old, new, 1).split("\n")

    return change


def _last(lines: list[str]) -> int:
    return int(json.loads(lines[-1])["entries"])


def _renamed(lines: list[str]) -> list[str]:
    """A file of a newer version: its seals hold, one of its events is not known here."""
    from dataclasses import asdict, replace

    from station.store.chain import Row, sealed_by

    out, previous = [lines[0]], ""
    for written_line in lines[1:]:
        line, content = written_line, json.loads(written_line)
        if content.pop("is") == "entry":
            row = Row(**content)
            row = replace(row, kind="PartPainted" if row.seq == 5 else row.kind, previous=previous or row.previous)
            row = replace(row, digest=sealed_by(row))
            previous = row.digest
            line = json.dumps({"is": "entry", **asdict(row)})
        out.append(line)
    return out


WRONG: dict[str, tuple[Callable[[list[str]], list[str]], str]] = {
    "a mass": (_changed('\\"net\\":190000', '\\"net\\":191000'), "Row .* is not as it was written"),
    "a row less": (lambda lines: lines[:9] + lines[10:], "Row 9 is missing: row 10 comes next"),
    "two rows exchanged": (lambda lines: [*lines[:4], lines[5], lines[4], *lines[6:]], "Row 4 is missing"),
    "cut off": (lambda lines: lines[:-1], "was cut off after line"),
    "cut off within a line": (lambda lines: [*lines[:-1], lines[-1][:9]], "cannot be read"),
    "the last row less": (
        lambda lines: [line for line in lines if f'"seq":{_last(lines)},' not in line],
        "does not hold what its last line says",
    ),
    "something behind it": (lambda lines: [*lines, lines[1]], "comes after the last one"),
    "no head": (lambda lines: lines[1:], "no log of a station"),
    "a newer form": (_changed('"format":1', '"format":2'), "newer version of the station"),
    "a kind nobody knows": (_renamed, "a kind that this version does not know"),
    "a strange line": (_changed('"is":"boot"', '"is":"boat"'), "is not one that a log has"),
    "a row without a column": (_changed('"trusted":1,', ""), "is not one that a log has"),
    "a number for a text": (_changed('"boot_id":"', '"boot_id":7,"x":"'), "is not one that a log has"),
    "nothing": (lambda lines: [], "is empty"),
    "no text": (lambda lines: ["\udcff\udcfe"], "no log of a station"),
}


@pytest.mark.parametrize("what", WRONG)
def test_a_file_that_is_not_as_it_was_written_leaves_the_station_as_it_was(
    tmp_path: Path, log: Path, what: str
) -> None:
    change, said = WRONG[what]
    lines = change(log.read_text().splitlines())
    log.write_text("".join(f"{line}\n" for line in lines), errors="surrogateescape")
    with pytest.raises(StationError, match=said):
        taken(log, tmp_path / "deep" / "here")
    assert sorted(one.name for one in tmp_path.iterdir()) == ["log.jsonl", "there"]


def test_what_was_there_before_a_refusal_stays(tmp_path: Path, log: Path) -> None:
    log.write_text("")
    for name, files in (("bare", []), ("photos", ["kept.jpg"]), ("used", [LOCK_FILE])):
        (tmp_path / name).mkdir()
        for file in files:
            (tmp_path / name / file).touch()
        with pytest.raises(StationError, match="is empty"):
            taken(log, tmp_path / name)
        assert [one.name for one in (tmp_path / name).iterdir()] == files


def test_a_trace_that_was_changed_is_not_taken(tmp_path: Path) -> None:
    place, _ = played(tmp_path / "there")
    write_log(Source(place, "0.1.0"), tmp_path / "log.jsonl")
    lines = (tmp_path / "log.jsonl").read_text().splitlines()
    at = next(n for n, line in enumerate(lines) if '"is":"trace"' in line)
    trace = json.loads(lines[at])
    trace["points"][-1][1] += 1
    lines[at] = json.dumps(trace)
    (tmp_path / "log.jsonl").write_text("\n".join(lines) + "\n")
    with pytest.raises(Refused, match="not as it was weighed"):
        taken(tmp_path / "log.jsonl", tmp_path / "here")


def test_a_damaged_record_is_not_handed_on(tmp_path: Path) -> None:
    place = written(tmp_path / "there", two_casts())
    with closing(sqlite3.connect(place)) as db:
        without_guards(db)
        db.execute("UPDATE journal SET payload = replace(payload, '190000', '191000') WHERE seq = 5")
        db.commit()
    with pytest.raises(LedgerFault, match="Row 5 was changed"):
        write_log(Source(place, "0.1.0"), tmp_path / "log.jsonl")
    assert not (tmp_path / "log.jsonl").exists()


def test_by_commands(tmp_path: Path) -> None:
    written(tmp_path / "there", two_casts())
    run = CliRunner()
    there, here = ["--state", str(tmp_path / "there")], ["--state", str(tmp_path / "here")]
    for to, said in (("out", "3 casts."), ("out.zip", "3 casts."), ("casts.csv", "3 casts."), ("log.jsonl", "rows of")):
        answer = run.invoke(main, ["export", str(tmp_path / to), *there])
        assert answer.exit_code == 0, answer.output
        assert said in answer.output
    part = run.invoke(main, ["export", str(tmp_path / "part.jsonl"), *there, "--since", "2099-01-01"])
    assert part.output.strip().endswith("part.jsonl: 0 casts.")
    assert run.invoke(main, ["import", str(tmp_path / "part.jsonl"), *here]).exit_code == 1
    answer = run.invoke(main, ["import", str(tmp_path / "out.zip"), *here])
    assert answer.exit_code == 0, answer.output
    assert "3 casts, each as it was written." in answer.output
    again = run.invoke(main, ["import", str(tmp_path / "out"), *here])
    assert again.exit_code == 1
    assert "holds casts already" in again.output

"""The tables of an export: what they hold, that both forms say the same, and that nothing in them is a formula."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from station.errors import LedgerFault, Refused
from station.export import each, read, table_names
from station.export.about import FILE, about
from station.export.form import Kind
from station.export.lines import FORMULA, CsvLines, from_csv, from_json, json_line
from station.export.reading import NotAnExport
from station.export.tables import TABLES
from station.export_desk.boxing import check, export_zip
from station.export_desk.making import Source, export_folder, write_table
from station.records import Asked
from station.store.archive import Archive
from tests.export.logs import FORMULAS, played, two_casts, with_parts, written

KINDS = {"text": Kind.TEXT, "mass": Kind.MASS, "far": Kind.NUMBER, "is": Kind.FLAG, "at": Kind.TIME, "word": Kind.WORD}
ROWS = st.fixed_dictionaries(
    {
        "text": st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\0")),
        "mass": st.none() | st.integers(-(10**12), 10**12),
        "far": st.none() | st.floats(allow_nan=False, allow_infinity=False),
        "is": st.none() | st.booleans(),
        "at": st.none()
        | st.datetimes(datetime(1970, 1, 1), datetime(2300, 1, 1), timezones=st.just(UTC)).map(
            lambda at: at.replace(microsecond=at.microsecond // 1000 * 1000)
        ),
        "word": st.sampled_from(["demolded", "one cup"]),
    }
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = written(tmp_path / "state", two_casts())
    export_folder(Source(place, "0.1.0"), tmp_path / "out")
    return tmp_path / "out"


@settings(max_examples=60, deadline=None)
@given(st.lists(ROWS, max_size=4))
def test_any_row_comes_back_from_csv_and_json_as_it_was(rows: list[dict[str, object]]) -> None:
    sheet = io.StringIO(newline="")
    out = CsvLines(sheet, KINDS)
    for row in rows:
        out.put(row)
    assert list(from_csv(io.StringIO(sheet.getvalue(), newline=""), KINDS)) == rows
    assert [from_json(json_line(row), KINDS) for row in rows] == rows


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=8))
def test_no_free_text_is_taken_for_a_formula(text: str) -> None:
    # OWASP, "CSV Injection": cells that begin with = + - @, a tabulator or a carriage return.
    sheet = io.StringIO(newline="")
    CsvLines(sheet, {"text": Kind.TEXT}).put({"text": text})
    (_, (cell,)) = list(csv.reader(io.StringIO(sheet.getvalue(), newline="")))[:2] if text else ((), ("",))
    assert not cell.startswith(("=", "+", "-", "@", "\t", "\r"))
    assert cell.startswith("'") == text.replace("\0", "").startswith(FORMULA)


def test_both_forms_of_every_table_say_the_same_and_what_the_record_says(folder: Path) -> None:
    for table in TABLES:
        assert read(folder / f"{table.name}.csv") == read(folder / f"{table.name}.jsonl"), table.name
    casts = {one["number"]: one for one in read(folder)}
    assert set(casts) == {1, 2, 3}
    with Archive(folder.parent / "state" / "record.db") as archive:
        for number, cast in casts.items():
            record = archive.record(int(str(number)))
            assert record is not None
            assert cast["actual_mg"] == record.actual_total.mg
            assert cast["stage"] == record.stage.value
            assert cast["begun"] == record.course.begun.wall
            assert cast["mix_s"] == record.course.mix_s
            assert cast["temperature_low_c"] == min(record.temperatures_c)
            assert cast["humidity_high_percent"] == max(record.humidities_percent)
    assert [casts[number]["mold_shot"] for number in (1, 2, 3)] == [1, 2, None]
    apart = datetime.fromisoformat(str(casts[2]["begun"])) - datetime.fromisoformat(str(casts[1]["begun"]))
    assert [casts[1]["pause_days"], casts[2]["pause_days"]] == [None, pytest.approx(apart.total_seconds() / 86400)]
    assert casts[1]["shots_since_release"] is None
    assert casts[1]["planned_mg"] == 300_000
    assert casts[3]["demolded"] is None
    weighed = [one for one in read(folder, "ingredients") if one["cast"] == 1]
    assert [(one["ingredient"], one["actual_mg"], one["in_mix_mg"]) for one in weighed] == [
        ("A", 190_000, 187_200),
        ("B", 112_100, 112_100),
    ]
    # 112.1 g to 187.2 g: parts of B for 100 of A, worked out by hand.
    assert weighed[1]["parts_mixed"] == pytest.approx(100 * 112.1 / 187.2)
    (alarm,) = [one for one in read(folder, "alarms") if one["cast"] == 1]
    assert (alarm["clock"], alarm["by"], alarm["after_s"]) == ("demold", "button", 25.0)


def test_what_was_said_of_a_part_is_in_the_tables(tmp_path: Path) -> None:
    export_folder(Source(with_parts(tmp_path / "state"), "0.1.0"), tmp_path / "out")
    for table in TABLES:
        assert read(tmp_path / "out" / f"{table.name}.csv") == read(tmp_path / "out" / f"{table.name}.jsonl")
    judged, waits, inside = read(tmp_path / "out")
    told = ("verdict", "part_mg", "part_trimmed", "defects", "verdict_note", "waits")
    assert [judged[name] for name in told] == ["usable", 208_500, True, 2, "trimmed with scissors", False]
    assert [waits[name] for name in told] == [None, None, None, None, "", True]
    assert [inside[name] for name in told] == [None, None, None, None, "", None]
    found = [(one["defect"], one["severity"], one["place"]) for one in read(tmp_path / "out", "defects")]
    assert found == [("bubbles", "slight", "under the rim"), ("flash", "clear", "")]
    read_off = [(one["scale"], one["value"], one["place"]) for one in read(tmp_path / "out", "hardness")]
    assert read_off == [("Shore A", 27.5, "rim"), ("Shore A", 29.0, "middle"), ("Shore A", 28.0, "")]
    (length,) = read(tmp_path / "out", "lengths")
    # (200.0 - 199.2) / 200.0 = 0.4 %, by hand.
    assert (length["mold_mm"], length["part_mm"]) == (200.0, 199.2)
    assert length["shrinkage_percent"] == pytest.approx(0.4)
    words = [one["words"] for one in read(tmp_path / "out", "notes") if one["kind"] == "part"]
    assert any("214.0 g" in str(one) for one in words), "what was corrected later is told, too"


def test_notes_that_look_like_formulas_are_marked_in_csv_and_come_back_whole(folder: Path) -> None:
    said = [one["words"] for one in read(folder / "notes.csv") if one["cast"] == 2 and one["kind"] == "note"]
    assert said[1:] == list(FORMULAS)
    with (folder / "notes.csv").open(encoding="utf-8-sig", newline="") as sheet:
        cells = [cell for line in csv.reader(sheet) for cell in line]
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t", "\r"))]
    assert (folder / "notes.csv").read_bytes().startswith(b"\xef\xbb\xbf")


def test_the_description_is_that_of_the_tables() -> None:
    assert FILE.read_text(encoding="utf-8") == about(), "run python -m station.export.about"
    for table in TABLES:
        names = [column.name for column in table.columns]
        assert len(set(names)) == len(names)
        assert all(f"| `{name}` |" in about() for name in names)


def test_a_part_of_the_log_goes_without_the_journal(tmp_path: Path) -> None:
    place = written(tmp_path / "state", two_casts())
    none = Source(place, "0.1.0", Asked(since=datetime(2099, 1, 1, tzinfo=UTC)))
    assert export_folder(none, tmp_path / "none") == 0
    assert read(tmp_path / "none") == []
    assert not (tmp_path / "none" / "log.jsonl").exists()
    with pytest.raises(Refused, match="not an empty folder"):
        export_folder(none, tmp_path / "none")


def test_one_table_in_one_file(tmp_path: Path) -> None:
    place, _ = played(tmp_path / "state")
    for name in ("weighings.csv", "weighings.jsonl"):
        assert write_table(Source(place, "0.1.0"), "weighings", tmp_path / name) == 1
    rows = list(each(tmp_path / "weighings.csv"))
    assert rows == read(tmp_path / "weighings.jsonl")
    assert rows[0]["net_mg"] == 200_000
    assert [file.name for file in tmp_path.iterdir() if file.name.startswith(".")] == []


def test_a_zip_reads_like_its_folder_and_tells_when_it_was_changed(tmp_path: Path) -> None:
    place = written(tmp_path / "state", two_casts())
    assert export_zip(Source(place, "0.1.0"), tmp_path / "log.zip") == 3
    export_folder(Source(place, "0.1.0"), tmp_path / "out")
    assert table_names(tmp_path / "log.zip") == [one.name for one in TABLES]
    for table in TABLES:
        assert read(tmp_path / "log.zip", table.name) == read(tmp_path / "out", table.name)
    with (tmp_path / "log.zip").open("rb") as whole:
        assert "log.jsonl" in check(whole)
    with zipfile.ZipFile(tmp_path / "log.zip") as box, zipfile.ZipFile(tmp_path / "bad.zip", "w") as bad:
        for name in box.namelist():
            bad.writestr(name, box.read(name).replace(b"190000", b"190001"))
    with (tmp_path / "bad.zip").open("rb") as changed, pytest.raises(LedgerFault, match="was changed"):
        check(changed)
    assert sorted(one.name for one in tmp_path.iterdir()) == ["bad.zip", "log.zip", "out", "state"]


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("casts.jsonl", b'{"number": 1}\n{"num', "near line 2"),
        ("casts.jsonl", b"[1]\n", "near line 1"),
        ("casts.csv", b"number,mold\r\n1\r\n", "near line"),
        ("casts.csv", b"number,mold\r\none,2\r\n", "near line"),
        ("casts.csv", b"\xff\xfe", "near line"),
        ("other.zip", b"none", "no zip of an export"),
    ],
)
def test_what_is_no_export_is_said_in_a_sentence(tmp_path: Path, name: str, content: bytes, said: str) -> None:
    (tmp_path / name).write_bytes(content)
    with pytest.raises(NotAnExport, match=said):
        read(tmp_path / name)


def test_what_is_not_there_is_said_in_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(NotAnExport, match="cannot be read"):
        read(tmp_path / "casts.csv")
    with pytest.raises(NotAnExport, match="no table 'casts' in"):
        read(tmp_path)
    with pytest.raises(NotAnExport, match="There is no table 'moulds'"):
        read(tmp_path, "moulds")


def test_reading_needs_nothing_but_python(tmp_path: Path) -> None:
    import subprocess
    import sys

    (tmp_path / "casts.jsonl").write_text(json.dumps({"number": 7}) + "\n")
    code = (
        "import sys; from station.export import read\n"
        f"assert read({str(tmp_path)!r}) == [{{'number': 7}}]\n"
        "heavy = {'sqlalchemy', 'flask', 'numpy', 'cattrs', 'click', 'reportlab'} & set(sys.modules)\n"
        "assert not heavy, heavy"
    )
    subprocess.run([sys.executable, "-c", code], check=True, cwd=Path(__file__).parents[2])

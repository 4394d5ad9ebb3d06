"""`tarebell scale …` as a person types it."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.scale.published import PUBLISHED, Published

ROOT = Path(__file__).resolve().parents[2]


def scale(*words: object, given: bytes = b"") -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-m", "station", "scale", *map(str, words)],
        input=given,
        capture_output=True,
        check=False,
        cwd=ROOT,
    )


ONE_OF_EACH = list({line.family: line for line in PUBLISHED if line.meaning.kind == "weight"}.values())[::6]


@pytest.mark.parametrize("line", ONE_OF_EACH, ids=lambda line: line.family)
def test_decode_says_what_a_recorded_line_means(line: Published, tmp_path: Path) -> None:
    recording = tmp_path / "bytes"
    recording.write_bytes(line.raw)
    (row,) = map(json.loads, scale("decode", recording, "--family", line.family).stdout.splitlines())
    assert row["family"] == line.family
    assert row["raw"].encode("latin-1") == line.raw
    assert (row["value"], row["unit"], row["stable"], row["kind"], row["mode"]) == (
        line.meaning.value,
        line.meaning.unit,
        line.meaning.stable,
        line.meaning.kind,
        line.meaning.mode,
    )


def test_decode_reads_standard_input_and_finds_the_family_out() -> None:
    ran = scale("decode", given=b"ST,+00123.45  g\r\nOL,+999999.9  g\r\nhello\r\n" * 3)
    rows = [json.loads(row) for row in ran.stdout.splitlines()]
    assert [row["kind"] for row in rows] == ["weight", "overload", "other"] * 3
    assert rows[0]["grams"] == "123.45"
    assert set(rows[0]) == {"family", "value", "unit", "grams", "stable", "kind", "mode", "raw"}


@pytest.mark.parametrize(
    ("words", "given", "code", "said"),
    [
        (("decode",), b"", 1, "no frame"),
        (("decode", "--family", "status-comma"), b"x", 2, "Did you mean 'status-commas'?"),
        (("decode", "/nowhere"), b"", 2, "No such file"),
        (("find", "quark://x"), b"", 1, "is no port"),
        (("find", "/dev/nowhere", "--state", "/tmp"), b"", 1, "There is no port /dev/nowhere"),
        (("check", "--state", "/tmp"), b"", 1, "asks questions"),
        (("checks", "--state", "/nowhere"), b"", 0, "No scale check was made yet"),
    ],
)
def test_nonsense_ends_in_a_sentence(words: tuple[str, ...], given: bytes, code: int, said: str) -> None:
    ran = scale(*words, given=given)
    out = (ran.stdout + ran.stderr).decode()
    assert said in out
    assert "Traceback" not in out
    assert ran.returncode == code

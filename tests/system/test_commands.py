"""The commands as a person types them: what works, and a sentence for what does not."""

import json
import signal
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
WITHIN_S = 120


def tarebell(*words: object, cwd: Path = ROOT) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "station", *map(str, words)],
        capture_output=True,
        text=True,
        check=False,
        cwd=cwd,
        env={"PYTHONPATH": str(ROOT)},
        timeout=WITHIN_S,
    )


def demo(*words: object) -> subprocess.CompletedProcess[str]:
    return tarebell("demo", "--once", "--speed", 0, "--port", 0, *words)


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    state = tmp_path_factory.mktemp("kept")
    run = demo("--keep", state)
    assert run.returncode == 0, run.stderr
    return state, run.stdout


def test_the_demo_casts_in_one_cup_and_in_two_and_ends_with_both_batch_records(kept):
    _, out = kept
    assert "one cup" in out
    assert "two cups" in out
    assert out.count("Ratio by weight") == 2
    for cue in ("tared", "contact", "accepted", "mix enough", "acknowledged"):
        assert f"♪ {cue}" in out
    assert "Wrenfield Works is an invented workshop" in out


CARRIERS = (
    # Of each way to speak one or two, most of them in the long runs; what all families say is tested line by line.
    # Frames that silence ends would make the demo wait for silence after each.
    "bare-number",
    pytest.param("blank-18", marks=pytest.mark.soak),
    pytest.param("reply-letter", marks=pytest.mark.soak),  # asked for each line, it takes half a minute
    "status-commas",
    pytest.param("status-mode-commas", marks=pytest.mark.soak),
    pytest.param("value-unit", marks=pytest.mark.soak),
)


@pytest.mark.parametrize("family", CARRIERS)
def test_a_frame_family_carries_a_whole_demo(family):
    run = demo("--family", family)
    assert run.returncode == 0, run.stderr
    assert run.stdout.count("demolded") >= 2


def test_casts_record_and_verify_read_what_the_demo_kept(kept):
    state, _ = kept
    listed = json.loads(tarebell("casts", "--state", state, "--json").stdout)
    assert [line["number"] for line in listed] == [2, 1]
    text = tarebell("record", 2, "--state", state)
    assert text.returncode == 0
    assert "pigment" in text.stdout
    assert json.loads(tarebell("record", 2, "--state", state, "--json").stdout)["number"] == 2
    good = tarebell("verify", "--state", state)
    assert good.returncode == 0


def test_a_changed_row_is_found_by_verify(kept, tmp_path):
    import shutil
    import sqlite3

    shutil.copytree(kept[0], tmp_path / "copy")
    with sqlite3.connect(tmp_path / "copy" / "record.db") as db:
        for (name,) in db.execute("select name from sqlite_master where type = 'trigger'").fetchall():
            db.execute(f"drop trigger {name}")
        db.execute("update journal set payload = replace(payload, '4', '5') where seq = 5")
    bad = tarebell("verify", "--state", tmp_path / "copy")
    assert bad.returncode == 1
    assert "5" in bad.stdout


def settings(folder: Path, **changes: str) -> Path:
    lines = {
        "state_dir": f'state_dir = "{folder / "state"}"',
        "scale": '[scale]\nport = "/dev/does-not-exist"\nfamily = "value-unit"',
        "web": '[web]\nhost = "127.0.0.1"\nport = 18061',
    }
    place = folder / "station.toml"
    place.write_text("\n".join((lines | changes).values()))
    return place


def spoken(run: subprocess.CompletedProcess[str]) -> str:
    """What was said; never a traceback."""
    said = run.stdout + run.stderr
    assert "Traceback" not in said
    assert said.strip()
    return said


def test_nonsense_in_the_settings_is_listed_whole(tmp_path):
    wrong = settings(tmp_path, scale='[scale]\nport = 7\nfamliy = "value-unit"\nbaud = "fast"\nreadability = "0.1"')
    run = tarebell("run", "--config", wrong)
    said = spoken(run)
    assert run.returncode == 2
    for part in ("port", "famliy", "did you mean 'family'", "baud", "readability", "with its unit"):
        assert part in said


@pytest.mark.parametrize(
    ("words", "part"),
    [
        (("record", 99), "no cast 99"),
        (("casts", "--search", "nothing like it"), "No cast matches"),
    ],
)
def test_what_is_not_there_is_said(kept, words, part):
    assert part in spoken(tarebell(*words, "--state", kept[0]))


def test_a_folder_without_a_record_is_said(tmp_path):
    run = tarebell("casts", "--state", tmp_path)
    assert run.returncode == 1
    assert "no record" in spoken(run)


def test_a_folder_that_cannot_be_written_is_said(tmp_path):
    wrong = settings(tmp_path, state_dir='state_dir = "/dev/null/nowhere"')
    run = tarebell("run", "--config", wrong)
    assert run.returncode == 1
    assert "/dev/null/nowhere" in spoken(run)


def test_missing_settings_are_said(tmp_path):
    assert "no such file" in spoken(tarebell("run", "--config", tmp_path / "none.toml"))


def test_a_station_without_its_scale_runs_says_so_and_stops_on_sigterm(tmp_path):
    place = settings(tmp_path)
    (tmp_path / "state").mkdir()
    run = subprocess.Popen(
        [sys.executable, "-m", "station", "run", "--config", place],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=ROOT,
        env={"PYTHONPATH": str(ROOT)},
    )
    assert any("page url=" in line for line in run.stderr)
    second = tarebell("run", "--config", place)
    assert second.returncode == 1
    assert "station" in spoken(second)
    run.send_signal(signal.SIGTERM)
    out, err = run.communicate(timeout=WITHIN_S)
    assert run.returncode == 0
    assert "Traceback" not in out + err


@pytest.mark.parametrize(("family", "why"), [("ticket", "printed at a key"), ("enq-five", "while the load moves")])
def test_a_family_that_cannot_guide_is_refused_in_a_sentence(family, why):
    run = demo("--family", family)
    assert run.returncode == 2
    assert why in run.stderr

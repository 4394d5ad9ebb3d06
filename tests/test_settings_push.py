"""Addresses that messages go to, in the settings: read, refused by a sentence, and never repeated anywhere."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.config import without_passwords
from station.errors import SettingsError
from station.settings import read_settings

PLAIN = """state_dir = "state"

[scale]
port = "/dev/ttyUSB0"
family = "status-commas"
"""


def written(folder: Path, push: str) -> Path:
    file = folder / "station.toml"
    file.write_text(f"{PLAIN}\n{push}\n")
    return file


def test_addresses_are_read_and_not_shown_by_the_settings(tmp_path: Path) -> None:
    settings = read_settings(written(tmp_path, '[push]\naddresses = ["json://10.0.0.7/Zq81xY", "jsons://h.example/a"]'))
    assert settings.push.addresses == ("json://10.0.0.7/Zq81xY", "jsons://h.example/a")
    assert "Zq81xY" not in repr(settings)


@pytest.mark.parametrize(
    ("push", "says"),
    [
        ('addresses = "json://10.0.0.7/Zq81xY"', "must be a list"),
        ('addresses = ["json://10.0.0.7/ok", "Zq81xY"]', "number 2: That is no address"),
        ('addresses = ["https://10.0.0.7/Zq81xY"]', "number 1: Write json://"),
        ("addresses = [7]", "must be a list"),
        ("addresses = [" + '"json://10.0.0.7/Zq81xY",' * 9 + "]", "8 at most"),
        ('adresses = ["json://10.0.0.7/Zq81xY"]', "adresses"),
    ],
)
def test_what_is_wrong_with_them_is_said_without_repeating_one(tmp_path: Path, push: str, says: str) -> None:
    with pytest.raises(SettingsError) as told:
        read_settings(written(tmp_path, f"[push]\n{push}"))
    assert says in told.value.sentence()
    assert "Zq81xY" not in told.value.sentence()


@pytest.mark.parametrize(
    "push",
    [
        '[push]\naddresses = ["json://u:p@10.0.0.7/Zq81xY", "https://10.0.0.7/Zq81xY"]',
        "[push]\naddresses = [\n  'json://10.0.0.7/it\"s/Zq81xY',\n  'form://h/Zq81xY'\n]\n\n[web]\nport = 8060",
        '[ "push" ] # mine\naddresses = ["https://h/[a]/Zq81xY"]',
        'push = { addresses = ["json://h/a\\"Zq81xY"] }',
        'push.addresses = ["json://h/Zq81xY"]',
        "# once: json://h/Zq81xY\n[push]\n# or: http://h/Zq81xY\naddresses = []",
        '[push]\naddresses = ["""json://h/Zq81xY"""]',
    ],
)
def test_a_settings_file_for_others_eyes_holds_no_address_of_messages(push: str) -> None:
    shown = without_passwords(f"{PLAIN}\n{push}\n")
    assert "Zq81xY" not in shown
    assert shown.startswith(PLAIN)


def test_other_addresses_stay_readable() -> None:
    text = (
        'port = "socket://10.0.0.5:4001"\nsource = "https://wrenfield.example/sheet?a=b"\n'
        'url = "postgresql+psycopg://bench:word@db:5432/log"\n[push]\naddresses = ["json://h/Zq81xY"]\n[web]\n'
        'see = "https://wrenfield.example/x"\n'
    )
    assert without_passwords(text) == text.replace(":word@", ":…@").replace("json://h/Zq81xY", "json://…")


@given(st.from_regex(r"[A-Za-z0-9/._~%?=&+-]{6,40}", fullmatch=True), st.sampled_from(["json", "https", "x+y.z"]))
def test_no_address_in_the_table_survives(rest: str, scheme: str) -> None:
    shown = without_passwords(f'{PLAIN}[push]\naddresses = ["{scheme}://{rest}", "{scheme}://{rest}2"]\n')
    assert shown == f'{PLAIN}[push]\naddresses = ["{scheme}://…", "{scheme}://…"]\n'

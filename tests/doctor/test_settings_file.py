"""The settings: good, wrong, and not to be read by the station's user."""

import pytest

from station.doctor.checks import settings_file
from station.doctor.examining import examined
from station.doctor.finding import Verdict
from station.doctor.order import CHECKS
from tests.doctor.ward import NOBODY, only


def test_good_settings_pass_and_say_how_many_materials_there_are(ward):
    found = only(settings_file.settings, ward.patient())
    assert (found.verdict, found.told) == (Verdict.PASS, f"{ward.config} is good, with 3 materials.")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "state_dir"),
        ("[scale", "not TOML"),
        ('state_dir = "."\n[scale]\nport = "/dev/ttyUSB0"\nfamily = "none-such"\n', "none-such"),
        ('state_dir = "."\nsheets = ["nowhere.toml"]\n[scale]\nport = "x"\nfamily = "status-commas"\n', "nowhere.toml"),
        (
            'state_dir = "."\n[scale]\nport = "x"\nfamily = "status-commas"\n'
            '[web]\ncertificate = "no.pem"\nkey = "no.key"\n',
            "no.pem",
        ),
    ],
)
def test_every_mistake_fails_and_is_said(ward, text, said):
    ward.config.write_text(text)
    found = only(settings_file.settings, ward.patient())
    assert found.verdict is Verdict.FAIL
    assert "mistake" in found.told
    assert said in found.told
    assert found.cure


def test_without_a_file_that_is_said(ward):
    ward.config.unlink()
    assert "there is no such file" in only(settings_file.settings, ward.patient()).told


def test_settings_that_the_service_may_not_read_fail(ward):
    ward.config.chmod(0o600)
    found = only(settings_file.settings, ward.patient(owner=NOBODY))
    assert found.verdict is Verdict.FAIL
    assert "nobody-here, who may not read" in found.told
    ward.config.chmod(0o644)
    assert only(settings_file.settings, ward.patient(owner=NOBODY)).verdict is Verdict.PASS


def test_settings_that_only_who_asks_may_not_read_are_not_called_wrong(ward, monkeypatch):
    ward.config.write_text("nonsense")
    patient = ward.patient()
    monkeypatch.setattr("station.doctor.rights.os.access", lambda *_: False)
    (found,) = examined(patient, [check for check in CHECKS if check.key == "settings"])
    assert [finding.verdict for finding in found.findings] == [Verdict.LOOK]
    assert "Ask again with sudo." in found.findings[0].cure


def test_no_mistake_is_told_to_others_word_by_word(ward):
    ward.config.write_text('state_dir = "."\nbogus = "marmot9"\n[scale]\nport = "x"\nfamily = "marmot9"\n')
    found = only(settings_file.settings, ward.patient())
    assert "bogus" in found.told
    bare = found.without_names()
    assert "marmot9" not in f"{bare.told}{bare.cure}"
    assert "bogus" not in bare.told

"""`tarebell address`."""

import re

import pytest
from click.testing import CliRunner

from station.cli import main
from tests.address.seen import of_blocks, read

SETTINGS = """
name = "Wrenfield Works"
[scale]
port = "/dev/ttyUSB0"
family = "status-commas"
[web]
host = "{host}"
port = 8061
"""


@pytest.fixture
def run(tmp_path):
    def run(*words, host="192.0.2.17"):
        config = tmp_path / "station.toml"
        config.write_text(SETTINGS.format(host=host).replace("[scale]", 'state_dir = "state"\n[scale]', 1))
        return CliRunner().invoke(main, [*words, "--config", str(config)])

    return run


def test_the_address_is_printed_with_a_code_that_says_it(run):
    done = run("address")
    assert done.exit_code == 0, done.output
    assert done.output.startswith("http://192.0.2.17:8061/\n")
    code = "\n".join(line for line in done.output.splitlines() if re.fullmatch("[█▀▄ ]{20,}", line))
    assert [text for text, _ in read(of_blocks(code))] == ["http://192.0.2.17:8061/"]


def test_without_an_address_for_a_phone_that_is_said(run):
    done = run("address", host="127.0.0.1")
    assert done.exit_code == 1
    assert "No phone can reach the page" in done.output

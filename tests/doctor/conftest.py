"""A machine made of a folder for each test."""

from pathlib import Path

import pytest

from tests.doctor.ward import Ward


@pytest.fixture
def ward(tmp_path: Path) -> Ward:
    """A machine on which nothing is plugged in or switched on yet."""
    return Ward(tmp_path)

"""One station's pages for each test."""

import pytest

from tests.phone.shown import WEIGHING, opened_station


@pytest.fixture
def station():
    with opened_station() as opened:
        opened.post(WEIGHING)
        yield opened

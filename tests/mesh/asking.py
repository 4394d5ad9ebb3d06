"""A survey of bytes, and the sentence of one that is refused."""

import io

import pytest

from station.casting.positive import Survey
from station.errors import StationError
from station.mesh.survey import survey


def asked(content: bytes, name: str) -> Survey:
    return survey(io.BytesIO(content), name)


def refusal(content: bytes, name: str) -> str:
    with pytest.raises(StationError) as caught:
        asked(content, name)
    assert caught.value.hint
    return caught.value.sentence()

"""What tests of worksheets share."""

from collections.abc import Iterator

import pytest

from station.languages import begin_to_speak


@pytest.fixture(params=["en", "de"])
def in_each_language(request: pytest.FixtureRequest) -> Iterator[None]:
    """The test runs once in each language: words may be longer than the English ones a drawing was made with."""
    begin_to_speak(request.param)
    yield
    begin_to_speak("en")

"""Languages of the station: a compiled catalogue each, beside the code. English needs none."""

from __future__ import annotations

from gettext import GNUTranslations, NullTranslations
from pathlib import Path

from station.errors import SettingsError
from station.texts import speak

ENGLISH = "en"
PLACE = Path(__file__).parent / "locale"
"""A folder for each language, with `station.po` (what translators edit) and `station.mo` (what is read here)."""


def languages() -> tuple[str, ...]:
    """The codes of all languages that there are."""
    return (ENGLISH, *sorted(file.parent.name for file in PLACE.glob("*/station.mo")))


def begin_to_speak(code: str) -> None:
    """Speak the language `code` from now on. Raises SettingsError when there is no such language."""
    if code not in languages():
        raise SettingsError([f'language = "{code}": must be one of {", ".join(languages())}'])
    if code == ENGLISH:
        speak(ENGLISH, NullTranslations())
        return
    with (PLACE / code / "station.mo").open("rb") as file:
        speak(code, GNUTranslations(file))

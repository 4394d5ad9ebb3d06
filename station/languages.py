"""Languages of the station: a compiled catalogue each, beside the code. English needs none."""

from __future__ import annotations

import re
from gettext import GNUTranslations, NullTranslations
from pathlib import Path

from station.errors import SettingsError
from station.texts import speak, t

ENGLISH = "en"
PLACE = Path(__file__).parent / "locale"
"""A folder for each language, with `station.po` (what translators edit) and `station.mo` (what is read here)."""


def languages() -> tuple[str, ...]:
    """The codes of all languages that there are."""
    return (ENGLISH, *sorted(file.parent.name for file in PLACE.glob("*/station.mo")))


def begin_to_speak(code: str) -> None:
    """Speak the language `code` from now on. Raises SettingsError when there is no such language."""
    if code not in languages():
        raise SettingsError([t('language = "{code}": must be one of {known}', code=code, known=", ".join(languages()))])
    if code == ENGLISH:
        speak(ENGLISH, NullTranslations())
        return
    with (PLACE / code / "station.mo").open("rb") as file:
        speak(code, GNUTranslations(file))


def begin_to_speak_as_set(file: Path) -> None:
    """Speak the language that the settings in `file` name; English where there is no such file or language.

    It comes before the settings are read, so that what is wrong with them is said in that language too: hence by the
    look of one line, for a file that is no TOML at all tells its language just as well.
    """
    try:
        said = re.search(r"""(?m)^[ \t]*language[ \t]*=[ \t]*["'](\w+)["']""", file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        said = None
    begin_to_speak(said[1] if said and said[1] in languages() else ENGLISH)

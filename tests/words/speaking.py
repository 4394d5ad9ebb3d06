"""A language for tests: English in brackets, so that a text that no catalogue was asked for is seen."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from gettext import NullTranslations

from station.texts import speak

BEGIN, END = "⟦", "⟧"


class Marked(NullTranslations):
    """A catalogue in which every text is found. The decimal mark stays as it is: numbers are no texts."""

    def gettext(self, message: str) -> str:
        return f"{BEGIN}{message}{END}"

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid1 if n == 1 else msgid2)

    def pgettext(self, context: str, message: str) -> str:
        return message if message == "." else self.gettext(message)


@contextmanager
def spoken(catalogue: NullTranslations, code: str = "en") -> Iterator[None]:
    """Speak this for a while, then English again."""
    speak(code, catalogue)
    try:
        yield
    finally:
        speak("en", NullTranslations())

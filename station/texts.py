"""Texts that a person reads: written in English, said in the one language of the station.

The English text is the key of the catalogue. `t` and its like are called where a text is shown, never at import, since
the language is known only once the settings are read (`station.languages`). A text that must stand at import, such as
an enum's word, is marked there with `N_` and translated with `t` where it is shown.
"""

from __future__ import annotations

from gettext import NullTranslations

_NARROW = "\u202f"


class _Spoken:
    """What is spoken now: set once at the start, before anything speaks."""

    language = "en"
    catalogue = NullTranslations()
    mark = "."


def speak(language: str, catalogue: NullTranslations) -> None:
    """From now on the station speaks `language` (its code, such as `de`), from `catalogue`."""
    _Spoken.language, _Spoken.catalogue = language, catalogue
    _Spoken.mark = tc("the mark between whole numbers and decimals", ".")


def language() -> str:
    """The code of the language that is spoken: for a page's `lang` and for a voice."""
    return _Spoken.language


def t(text: str, **values: object) -> str:
    """The text in the station's language, with `{name}` filled in from `values`, which come as they are to be read."""
    # The empty key of a catalogue is its own description.
    said = _Spoken.catalogue.gettext(text) if text else ""
    return said.format(**values) if values else said


def tn(one: str, many: str, n: int, **values: object) -> str:
    """The text for `n` of something, by the language's own rule of plurals; `{n}` is the number."""
    return _Spoken.catalogue.ngettext(one, many, n).format(n=n, **values)


def tc(context: str, text: str, **values: object) -> str:
    """The text as it is meant in `context`: for a word that other languages say in several ways."""
    said = _Spoken.catalogue.pgettext(context, text)
    return said.format(**values) if values else said


def N_(text: str) -> str:  # noqa: N802
    """Marks a text that stands at import; whoever shows it translates it with `t`."""
    return text


class Phrase(str):
    """A text with what fills it in: English as a string, so in a record's JSON, and said only where it is shown.

    The text is marked with `N_`. A value that is to be said too is itself a Phrase.
    """

    _text: str
    _values: dict[str, str]

    def __new__(cls, text: str, **values: str) -> Phrase:
        """The text, filled in in English."""
        phrase = super().__new__(cls, text.format(**values) if values else text)
        phrase._text, phrase._values = text, values
        return phrase

    def said(self) -> str:
        """The same in the station's language."""
        return t(self._text, **{name: said(value) for name, value in self._values.items()})


class Figure(str):
    """A number that fills a Phrase: written with a point, said with the mark of the language."""


def said(words: str) -> str:
    """Words out of a record: a Phrase or a Figure in the station's language, anything else as somebody wrote it."""
    if isinstance(words, Figure):
        return decimal(words)
    return words.said() if isinstance(words, Phrase) else words


def decimal(number: str) -> str:
    """A number written with a point, with the mark of the language instead."""
    return number if _Spoken.mark == "." else number.replace(".", _Spoken.mark)


def number(value: float, how: str = "g") -> str:
    """A number as it is read, formatted by `how` (as in a format string) and with the mark of the language.

    Where that mark is not a point, thousands are parted by a narrow blank (ISO 80000-1, 7.3.1): "12,345" would be a
    decimal there.
    """
    said = format(value, how)
    return said if _Spoken.mark == "." else decimal(said.replace(",", _NARROW))

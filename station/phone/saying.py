"""The words of the templates: the functions by which they say a text in the station's language."""

from __future__ import annotations

from flask import Flask
from markupsafe import Markup

from station.texts import decimal, language, number, t, tc, tn


def th(text: str, **values: object) -> Markup:
    """A text with tags of its own, such as a link amid a sentence; what is filled in is escaped."""
    said = Markup(t(text))
    return said.format(**values) if values else said


def say_in(app: Flask) -> None:
    """Give the templates of the application these functions."""
    app.jinja_env.globals.update(t=t, tn=tn, tc=tc, th=th, decimal=decimal, number=number, language=language)

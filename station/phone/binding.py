"""How a template says once which value stands where, for the first drawing here and for the script later.

`{{ scope|text("left") }}` writes both the value and the mark by which the page's script finds the
place again. A path names keys, separated by dots; on the way a None makes the whole None, and a key
that does not exist is a mistake in the template and raises KeyError.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import cast

from flask import Flask
from markupsafe import Markup


def dig(scope: object, path: str) -> object:
    """The value at `path` below `scope`; `.` is the scope itself."""
    for key in path.split(".") if path != "." else ():
        if scope is None:
            return None
        scope = cast("dict[str, object]", scope)[key]
    return scope


def text(scope: object, path: str) -> Markup:
    """`data-text` with the value as content; to stand last in an opening tag in place of its `>`."""
    value = dig(scope, path)
    return Markup('data-text="{}">{}').format(path, "" if value is None else str(value))


def put(scope: object, pairs: str) -> Markup:
    """Attributes from values: `"y=draw.top height=draw.height"`. None and False leave the attribute off."""
    parts = [Markup('data-put="{}"').format(pairs)]
    for pair in pairs.split():
        name, path = pair.split("=")
        value = dig(scope, path)
        if value is True:
            parts.append(Markup("{}").format(name))
        elif value is not None and value is not False:
            parts.append(Markup('{}="{}"').format(name, str(value)))
    return Markup(" ").join(parts)


def show(scope: object, path: str) -> Markup:
    """Shown while the value says something, hidden otherwise."""
    return Markup('data-show="{}"{}').format(path, Markup("") if dig(scope, path) else Markup(" hidden"))


def within(scope: object, path: str) -> Markup:
    """Everything inside takes its paths from `path`; hidden while that is None."""
    return Markup('data-in="{}"{}').format(path, Markup(" hidden") if dig(scope, path) is None else Markup(""))


def each(scope: object, path: str) -> Iterable[object]:
    """The entries of the list at `path`."""
    return cast("list[object]", dig(scope, path) or [])


def bind(app: Flask) -> None:
    """Make the filters known to the templates of `app`."""
    for name, work in {"dig": dig, "text": text, "put": put, "show": show, "within": within, "each": each}.items():
        app.jinja_env.filters[name] = work

"""Styles, scripts and icons from memory: under an address that names their content, and packed where that pays.

One mark for all of them, as a part of the path: so a script finds the other scripts of its own age by their plain
names, and a phone keeps all until one of them changes. What is asked for under an older mark is told afresh.
"""

from __future__ import annotations

import gzip
import hashlib
import mimetypes
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from flask import Flask, Response, abort, request

ALWAYS = "public, max-age=31536000, immutable"
KINDS = {".css": "text/css", ".js": "text/javascript", ".svg": "image/svg+xml"}
"""Said here, because a machine's own list of kinds may call a script something that no browser runs."""


@dataclass(frozen=True, slots=True)
class StaticFile:
    """One file: its bytes, the same packed (None where that saves next to nothing), and what kind it is."""

    plain: bytes
    packed: bytes | None
    kind: str


def read_static(folder: Path) -> tuple[str, dict[str, StaticFile]]:
    """The mark of all files below `folder`, and each by its path from there."""
    mark, files = hashlib.sha256(), {}
    for path in sorted(path for path in folder.rglob("*") if path.is_file()):
        name, plain = path.relative_to(folder).as_posix(), path.read_bytes()
        mark.update(f"{name}\0{len(plain)}\0".encode() + plain)
        packed = gzip.compress(plain, 9, mtime=0)
        kind = KINDS.get(path.suffix) or mimetypes.guess_type(name)[0] or "application/octet-stream"
        files[name] = StaticFile(plain, packed if len(packed) < 0.9 * len(plain) else None, kind)
    return mark.hexdigest()[:12], files


def static_files(app: Flask, folder: Path) -> None:
    """Serve what lies in `folder`; `url_for("static", filename=…)` gives the address with the mark of today."""
    today, files = read_static(folder)

    @app.url_defaults
    def marked(endpoint: str, values: dict[str, Any]) -> None:
        if endpoint == "static":
            values.setdefault("mark", today)

    def static(mark: str, filename: str) -> Response:
        return _answer(files, filename, mark == today)

    app.add_url_rule("/static/<mark>/<path:filename>", "static", static)


def _answer(files: dict[str, StaticFile], filename: str, current: bool) -> Response:
    file = files.get(filename)
    if file is None:
        abort(404)
    packed = file.packed if request.accept_encodings["gzip"] > 0 else None
    response = Response(file.plain if packed is None else packed, mimetype=file.kind)
    if packed is not None:
        response.headers["Content-Encoding"] = "gzip"
    response.headers["Vary"] = "Accept-Encoding"
    response.headers["Cache-Control"] = ALWAYS if current else "no-cache"
    return response

"""What the code and the templates say: every text that is marked for translation, and the files that catalogues are.

`{name}` marks a place in every text, in Python and in templates alike.
"""

from __future__ import annotations

import io
import re
import struct
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from babel.messages.catalog import Catalog, Message
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).resolve().parents[2]
LOCALE = ROOT / "station" / "locale"
WORDS: dict[str, tuple[int | tuple[int, str], ...] | None] = {
    "t": None,
    "th": None,
    "tn": (1, 2),
    "tc": ((1, "c"), 2),
    "N_": None,
}
COMPLETE = ("de",)
"""Languages that must not lack a text."""


def marked(file: Path) -> Iterator[tuple[str | tuple[str, ...], str | None]]:
    """Each marked text of one file (one and many, where it has a plural), with its context."""
    method = "python" if file.suffix == ".py" else "jinja2.ext:babel_extract"
    options = {"trimmed": "true", "encoding": "utf-8", "silent": "false"}
    with file.open("rb") as opened:
        for _, text, _, context in extract(method, opened, keywords=WORDS, options=options):
            yield text, context


def sources() -> list[Path]:
    """Every file that may say something."""
    return [*sorted((ROOT / "station").rglob("*.py")), *sorted((ROOT / "web" / "templates").iterdir())]


@cache
def found() -> tuple[tuple[str, str | tuple[str, ...], str | None], ...]:
    """File, text and context of all that is marked; read once, since it takes seconds."""
    return tuple((str(file.relative_to(ROOT)), *one) for file in sources() for one in marked(file))


def gathered() -> Catalog:
    """All that is marked, without translations."""
    catalogue = Catalog(project="Tarebell", charset="utf-8")
    for file, text, context in found():
        # Files without lines: a line that moves is no change of a text.
        catalogue.add(text, locations=[(file, 0)], context=context)
    return catalogue


def kept(code: str) -> Catalog:
    """The catalogue of a language as it lies in the tree; an empty one for a new language."""
    file = LOCALE / code / "station.po"
    if not file.exists():
        return Catalog(locale=code, project="Tarebell", charset="utf-8")
    with file.open("rb") as opened:
        return read_po(opened, locale=code)


def renewed(code: str) -> Catalog:
    """The kept catalogue with every text that is marked now, and no other. Nothing is guessed from texts alike."""
    catalogue = kept(code)
    catalogue.update(gathered(), no_fuzzy_matching=True)
    catalogue.obsolete.clear()
    return catalogue


def _header(catalogue: Catalog) -> str:
    """What a catalogue says of itself; without dates and versions, so that only words change its files."""
    plain = f"Language: {catalogue.locale}\nPlural-Forms: {catalogue.plural_forms}\n"
    return plain + "Content-Type: text/plain; charset=utf-8\n"


def as_po(catalogue: Catalog) -> bytes:
    """The catalogue as translators edit it, in the order of the texts."""
    out = io.BytesIO()
    write_po(out, catalogue, sort_output=True, width=120, omit_header=True, include_lineno=False)
    lines = "".join(f'"{line}\\n"\n' for line in _header(catalogue).splitlines())
    return f'msgid ""\nmsgstr ""\n{lines}\n'.encode() + out.getvalue()


def as_mo(catalogue: Catalog) -> bytes:
    """The catalogue as the station reads it: the format of gettext, sorted keys before their texts."""
    texts = {b"": _header(catalogue).encode()}
    for message in catalogue:
        here, there = texts_of(message)
        if message.id and all(there):
            context = f"{message.context}\x04" if message.context else ""
            texts[(context + "\0".join(here)).encode()] = "\0".join(there).encode()
    keys = sorted(texts)
    tables, body, at = b"", b"", 28 + 16 * len(keys)
    for column in (keys, [texts[key] for key in keys]):
        for text in column:
            tables += struct.pack("<II", len(text), at + len(body))
            body += text + b"\0"
    return struct.pack("<7I", 0x950412DE, 0, len(keys), 28, 28 + 8 * len(keys), 0, at) + tables + body


def places_in(text: str) -> set[str]:
    """The names of the places that are filled in, and the tags, which must stand in a translation as well."""
    return set(re.findall(r"\{\w*\}|<[^>]+>", text))


def texts_of(message: Message) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What a message says in English, and its translation; both in as many numbers as they have."""
    here = (message.id,) if isinstance(message.id, str) else tuple(message.id)
    said = message.string or ("",) * len(here)
    there = (said,) if isinstance(said, str) else tuple(said)
    return here, there

"""What an export holds, told from the declaration of its tables: in EXPORT.md, in each export, on the page.

python -m station.export.about    writes EXPORT.md anew
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from station.export.form import FORMAT, Table
from station.export.tables import TABLES
from station.texts import N_, t

FILE: Final = Path(__file__).with_name("EXPORT.md")

RULES: Final = (
    N_("Each table comes twice: as CSV for spreadsheets, as JSON Lines (one object a line) for programs."),
    N_("Masses are whole milligrams, exactly as they were weighed; spans are seconds, temperatures °C."),
    N_(
        "Times are ISO 8601 in UTC. “Sure” columns say whether the clock was right; if not, the time is what it showed."
    ),
    N_("The decimal mark is a point. Nothing known is an empty cell in CSV and null in JSON."),
    N_("Yes and no are “yes” and “no” in CSV, true and false in JSON."),
    N_("Words of a fixed list are always English; what people typed stays in their language."),
    N_(
        "In CSV an apostrophe stands before a text that begins with = + - @, an apostrophe, a tabulator or a line end: "
        "a spreadsheet would take it for a formula. Take that one apostrophe off to have the text as it was."
    ),
    N_(
        "CSV is in UTF-8 with a mark at its beginning, with commas, quoted where needed, lines end in CR LF (RFC 4180)."
    ),
    N_("Columns may be added in later versions; none is renamed or means something else without a new format number."),
    N_("Each cast is told as it stood when its line was written; casts begun after the export began are left out."),
)
LOG_LINES: Final = (
    ("log", N_("the first line: format, version of the station, version of its record")),
    ("entry", N_("one row of the journal with its SHA-256 and that of the row before, so that a change is found")),
    ("boot", N_("when the station ran, and how its wall clock stood")),
    ("trace", N_("one weighing: milliseconds and gross milligrams")),
    ("end", N_("the last line: how many entries and traces there are, and the last SHA-256")),
)


def about() -> str:
    """The description in the station's language, as Markdown."""
    title, in_python = t("Export of the log"), t("Reading it in Python")
    parts = [
        f"# {title}",
        t("Format {format}. Made from the declaration of the tables; do not edit.", format=FORMAT),
        "\n".join(f"- {t(rule)}" for rule in RULES),
        *(_told(table) for table in TABLES),
        f"## log.jsonl\n\n{t(LOG)}",
        _table((t("is"), t("meaning")), [(f"`{name}`", t(words)) for name, words in LOG_LINES]),
        f"## {in_python}\n\n{t(PYTHON)}\n\n```python\n{EXAMPLE}```",
    ]
    return "\n\n".join(parts) + "\n"


LOG: Final = N_(
    "The journal itself, one JSON object a line, what it is under “is”. `tarebell import log.jsonl` makes it the "
    "record of a station that has cast nothing yet: the same rows, the same tables. Only a whole export has it."
)
PYTHON: Final = N_(
    "`station.export` reads a folder, a zip or a file of an export; it needs no running station and no other library."
)
EXAMPLE: Final = """\
from station.export import read

casts = read("export")
for cast in casts:
    if cast["stage"] == "demolded":
        print(cast["number"], cast["mold"], cast["actual_mg"] / 1000, "g")

parts = read("export", "ingredients")
worst = max((one for one in parts if one["error_percent"] is not None), key=lambda one: abs(one["error_percent"]))
print(worst["cast"], worst["ingredient"], worst["error_percent"], "%")
"""


def _told(table: Table[object]) -> str:
    rows = [(f"`{column.name}`", t(column.kind.value), t(column.words)) for column in table.columns]
    return f"## {table.name}\n\n{t(table.words)}\n\n" + _table((t("column"), t("values"), t("meaning")), rows)


def _table(head: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> str:
    lines = [head, tuple("---" for _ in head), *rows]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


if __name__ == "__main__":
    FILE.write_text(about(), encoding="utf-8")

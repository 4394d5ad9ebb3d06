"""Export: the log as tables for spreadsheets and notebooks. `read(path)` needs no station and nothing but Python.

    from station.export import read

    for cast in read("export"):
        print(cast["number"], cast["mold"], cast["actual_mg"] / 1000, "g")

What each table and column holds stands in EXPORT.md beside this file.
"""

from station.export.reading import each, read, table_names

__all__ = ["each", "read", "table_names"]

"""`python -m tests.words`: bring the catalogues up to date with the code, and compile them.

With a code (`python -m tests.words fr`) a new language is begun. What a language still lacks is counted; the texts
themselves stand with an empty msgstr in its station.po.
"""

import sys

from tests.words.gathered import LOCALE, as_mo, as_po, kept, renewed, texts_of


def main(codes: list[str]) -> None:
    """Write station.po and station.mo of every language there is, and of those asked for."""
    there = sorted(file.parent.name for file in LOCALE.glob("*/station.po"))
    for code in sorted({*there, *codes}):
        (LOCALE / code).mkdir(parents=True, exist_ok=True)
        catalogue = renewed(code)
        (LOCALE / code / "station.po").write_bytes(as_po(catalogue))
        (LOCALE / code / "station.mo").write_bytes(as_mo(kept(code)))
        lacking = [one.id for one in catalogue if one.id and not all(texts_of(one)[1])]
        print(f"{code}: {len(catalogue)} texts, {len(lacking)} not translated")
        for text in lacking:
            print(f"  {text!r}")


main(sys.argv[1:])

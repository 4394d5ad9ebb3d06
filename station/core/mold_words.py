"""What a mold's sheet says, as labels and values for a page or a terminal."""

from __future__ import annotations

from station.core.material import Mold


def mold_words(mold: Mold) -> tuple[tuple[str, str], ...]:
    """Every fact of the sheet that is known, in the order in which a caster asks for them."""
    said: list[tuple[str, str]] = []
    if mold.cavity_cm3 is not None:
        said.append(("Volume of the cavity", f"{mold.cavity_cm3:g} cm³"))
    if mold.shot is not None:
        said.append(("Usual amount of mix", mold.shot.text()))
    if mold.packing is not None:
        said.append(("Packing factor", f"{mold.packing:g}"))
    if mold.shrinkage_percent is not None:
        said.append(("Parts come out smaller by", f"{mold.shrinkage_percent:g} %"))
    said.append(("Lid", "is clamped on" if mold.closes else "none"))
    if mold.price is not None:
        borne = "" if mold.lasts is None else f", for {mold.lasts} casts"
        said.append(("Price", f"{mold.price // 100}.{mold.price % 100:02d}{borne}"))
    said += [("To be at hand", item) for item in mold.ready_items]
    said += [("Caution", caution) for caution in mold.cautions]
    return tuple(said)

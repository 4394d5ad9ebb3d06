"""What a mold's sheet says, as labels and values for a page or a terminal."""

from __future__ import annotations

from station.core.material import Mold
from station.texts import decimal, number, t, tn


def mold_words(mold: Mold) -> tuple[tuple[str, str], ...]:
    """Every fact of the sheet that is known, in the order in which a caster asks for them."""
    said: list[tuple[str, str]] = []
    if mold.cavity_cm3 is not None:
        said.append((t("Volume of the cavity"), f"{number(mold.cavity_cm3)} cm³"))
    if mold.shot is not None:
        said.append((t("Usual amount of mix"), mold.shot.text()))
    if mold.packing is not None:
        said.append((t("Packing factor"), number(mold.packing)))
    if mold.shrinkage_percent is not None:
        said.append((t("Parts come out smaller by"), f"{number(mold.shrinkage_percent)} %"))
    if mold.release_every is not None:
        every = tn("every shot", "every {n} shots", mold.release_every)
        said.append((t("Release agent"), every))
    said.append((t("Lid"), t("is clamped on") if mold.closes else t("none")))
    if mold.price is not None:
        price = decimal(f"{mold.price // 100}.{mold.price % 100:02d}")
        if mold.lasts is not None:
            price = tn("{price}, for {n} cast", "{price}, for {n} casts", mold.lasts, price=price)
        said.append((t("Price"), price))
    said += [(t("To be at hand"), item) for item in mold.ready_items]
    said += [(t("Caution"), caution) for caution in mold.cautions]
    return tuple(said)

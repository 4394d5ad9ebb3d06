"""Project: from molds and parts wanted to the material that they take, trials and margin included."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from station.errors import Refused
from station.texts import t


@dataclass(frozen=True, slots=True)
class Need:
    """What a project takes: casts in all, and grams of mold material and casting material."""

    casts: int
    mold_g: float
    cast_g: float


def need(*, molds: int, mold_g: float, parts: int, trials: int, cast_g: float, margin_percent: float) -> Need:
    """Material of `molds` molds of `mold_g` each and of `parts` parts after `trials` trial casts of `cast_g` each.

    `trials` are per mold: each one is learned anew. `margin_percent` comes on top of both materials.
    Raises Refused for numbers that cannot be.
    """
    if molds < 1 or parts < 0 or trials < 0 or parts + trials == 0:
        raise Refused(t("A project needs a mold and something to cast."), t("Type at least one mold and one part."))
    if mold_g < 0 or cast_g <= 0 or not 0 <= margin_percent <= 200:
        raise Refused(
            t("The masses or the margin cannot be like that."), t("Masses above zero, a margin from 0 to 200 %.")
        )
    casts = parts + trials * molds
    more = 1 + margin_percent / 100
    return Need(casts, molds * mold_g * more, casts * cast_g * more)


def by_component(grams: float, shares: Mapping[str, float]) -> dict[str, float]:
    """Grams of each component; the shares sum to 1."""
    return {name: grams * share for name, share in shares.items()}


def checklist(*, isocyanate: bool, silicone: bool) -> tuple[str, ...]:
    """What must be at hand before the first can is opened. Common practice, no source; the safety data sheet counts."""
    always = [
        t("safety data sheet of every can, read, within reach"),
        t("gloves that the sheet names, several pairs; eye protection for everyone in the room"),
        t("ventilation that runs; a bench cover that burns badly; a metal bin with a lid for what still reacts"),
        t("soap and water within reach; a tap to rinse an eye for 15 minutes"),
        t("paper or binder for a spilled cup; a fire extinguisher that suits the liquids"),
        t("cups and sticks, twice as many as casts; a check weight for the scale; a clock that rings"),
        t("a place where left-over mix can react in the open, in small amounts"),
    ]
    if isocyanate:
        always += [
            t(
                "isocyanates: respirator as the safety data sheet says, long sleeves, nobody with asthma "
                "near; in the EU, the training that is asked for before professional use"
            ),
            t("dry cans and dry air; lids closed at once, never a wet can closed"),
            t("clamps, and a shield or distance for closed molds of foam"),
        ]
    if silicone:
        always.append(t("a dab test of the silicone on each new surface: sulfur, tin and amines stop its cure"))
    return tuple(always)

"""How much mix a cast takes: as typed, as the mold is known to take, or from its cavity, the density and the loss."""

from __future__ import annotations

from dataclasses import replace

from station.casting.digits import digits
from station.casting.foam import free_rise_from_expansion, if_multiplied, shot, shot_for
from station.casting.foam_practice import FoamSort, warnings_of
from station.casting.loss import Allowance, allowance
from station.core.mass import Mass
from station.core.material import Material, Mold
from station.core.mix_amount import Amount
from station.core.standing import Standing
from station.core.workplace import Workplace
from station.errors import Refused
from station.texts import number, t

SHORT_PERCENT = 2.0
"""Below the cavity's need by more than this, a mix that does not foam is told to be too little."""


def free_rise(material: Material) -> float | None:
    """Free-rise density of a foam in g/cm³: its sheet's, else the liquid's ÷ expansion; None when neither is known."""
    foam = material.foam
    if foam is None:
        return None
    if foam.free_rise_density is not None:
        return foam.free_rise_density
    if foam.expansion is None or material.density is None:
        return None
    return free_rise_from_expansion(material.density, foam.expansion)


def loss_of(place: Workplace, standing: Standing) -> Allowance:
    """What will stay in this bench's cup."""
    return allowance(place.cup.capacity.g, standing.losses)


def from_cavity(material: Material, mold: Mold, cavity_cm3: float, place: Workplace, standing: Standing) -> Amount:
    """The mix for a cavity. Raises Refused when the sheet lacks the density that it takes."""
    loss = loss_of(place, standing)
    d = place.scale.readability
    lost = f" ÷ (1 − {number(loss.percent, '.1f')}/100), " + loss.source
    risen = free_rise(material)
    if risen is not None:
        packing = mold.packing or _usual_packing(material)
        made = shot(cavity_cm3, risen, packing=packing, loss_percent=loss.percent)
        total = Mass.nearest(made.mixed_g)
        rule = t(
            "{total} = {cavity_cm3} cm³ × {risen} kg/m³ free rise × {packing} packing factor{lost}",
            total=total.text(d),
            cavity_cm3=digits(cavity_cm3),
            risen=digits(risen * 1000),
            packing=number(packing),
            lost=lost,
        )
        return _of_foam(Amount(total, rule), material, mold, cavity_cm3, loss.percent)
    if material.foam is not None or material.density is None:
        what = t("free-rise density") if material.foam is not None else t("density of the mix")
        raise Refused(
            t(
                "The sheet of {material} gives no {what}, so no amount follows from a volume.",
                material=material.title,
                what=what,
            ),
            t("Type the amount as a mass, such as 220 g, or add it to the sheet."),
        )
    made = shot_for(cavity_cm3, material.density, loss_percent=loss.percent)
    total = Mass.nearest(made.mixed_g)
    return Amount(total, f"{total.text(d)} = {digits(cavity_cm3)} cm³ × {number(material.density)} g/cm³{lost}")


def given(material: Material, mold: Mold, total: Mass, said: str, *, place: Workplace, standing: Standing) -> Amount:
    """A mass as it was typed or is usual for the mold, held against the cavity where that is known.

    `said` tells which of both, with the places {total} and {mold}.
    """
    rule = t(said, total=total.text(place.scale.readability), mold=mold.title)
    if mold.cavity_cm3 is None:
        return Amount(total, rule)
    loss = loss_of(place, standing).percent
    if material.foam is not None:
        return _of_foam(Amount(total, rule), material, mold, mold.cavity_cm3, loss)
    if material.density is None:
        return Amount(total, rule)
    need = shot_for(mold.cavity_cm3, material.density, loss_percent=loss).mixed_g
    if total.g < need * (1 - SHORT_PERCENT / 100):
        return Amount(
            total,
            rule,
            (
                t(
                    "Too little: the cavity of {cavity_cm3} cm³ takes {need} g with a loss of {loss} %, and what has "
                    "cured cannot be topped up.",
                    cavity_cm3=digits(mold.cavity_cm3),
                    need=digits(need),
                    loss=number(loss, ".1f"),
                ),
            ),
        )
    return Amount(total, rule)


def _usual_packing(material: Material) -> float:
    foam = material.foam
    low = (foam.packing_low if foam else None) or FoamSort.FLEXIBLE.usual.packing[0]
    high = (foam.packing_high if foam else None) or FoamSort.FLEXIBLE.usual.packing[1]
    return round((low + high) / 2, 3)


def _of_foam(amount: Amount, material: Material, mold: Mold, cavity_cm3: float, loss_percent: float) -> Amount:
    """The amount with what this much foam does in this cavity."""
    risen, foam = free_rise(material), material.foam
    if risen is None or foam is None:
        return amount
    part_g = amount.total.g * (1 - loss_percent / 100)
    made = shot_for(cavity_cm3, part_g / cavity_cm3, free_rise=risen, loss_percent=loss_percent)
    assert made.packing is not None
    assert made.free_rise_cm3 is not None
    notes = [
        t(
            "Packing factor {packing}: {part_g} g reach a cavity of {cavity_cm3} cm³, {molded} kg/m³; left alone "
            "they would rise to {free_rise_cm3} cm³.",
            packing=number(made.packing, ".2f"),
            part_g=number(made.part_g, ".1f"),
            cavity_cm3=digits(cavity_cm3),
            molded=f"{made.molded * 1000:.0f}",
            free_rise_cm3=f"{made.free_rise_cm3:.0f}",
        )
    ]
    if material.density is not None:
        notes.append(if_multiplied(cavity_cm3, material.density, material.density / risen))
    if mold.closes:
        notes.append(
            t("A closed mold of rising foam is under pressure: vents open, clamped, and nobody leans over it.")
        )
    warnings = warnings_of(made, FoamSort.FLEXIBLE, low=foam.packing_low, high=foam.packing_high)
    return replace(amount, warnings=warnings, notes=tuple(notes))

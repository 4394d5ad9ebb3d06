"""The fields of the worksheet for a shot of foam, and what a material's sheet knows of them."""

from __future__ import annotations

from collections.abc import Mapping

from station.casting.foam_practice import FoamSort
from station.core.material import Material
from station.texts import N_
from station.worksheets.form import Field
from station.worksheets.kinds import Kind
from station.worksheets.mixing.mixes import ratio_text

LIQUID_ASSUMED = 1.05
"""Density in g/cm³ of a liquid foam mix that nobody told. Common practice, no source; only the cup hangs on it."""

FIELDS = (
    Field("cavity", N_("Volume of the cavity"), Kind.VOLUME, hint=N_("By filling it with water, or from the mesh.")),
    Field(
        "free-rise",
        N_("Free-rise density"),
        Kind.DENSITY,
        optional=True,
        bare="kg/m3",
        hint=N_("On the sheet. A foam called “6 lb” has 6 lb/ft3."),
    ),
    Field(
        "expansion",
        N_("Expansion"),
        Kind.NUMBER,
        optional=True,
        hint=N_("When the sheet gives no free-rise density: how many times its liquid's volume it fills."),
    ),
    Field("liquid", N_("Density of the liquid mix"), Kind.DENSITY, optional=True, hint=N_("Before it rises.")),
    Field(
        "packing",
        N_("Packing factor"),
        Kind.NUMBER,
        "1.15",
        hint=N_("Molded ÷ free-rise density. 1.05 to 1.3 is usual for flexible parts (common practice, no source)."),
    ),
    Field(
        "molded",
        N_("or molded density wanted"),
        Kind.DENSITY,
        optional=True,
        bare="kg/m3",
        hint=N_("Such as that of a part you like: its mass ÷ the cavity. Counts before the packing factor."),
    ),
    Field("sort", N_("Sort of foam"), Kind.CHOICE, choices=tuple(sort.value for sort in FoamSort)),
    Field(
        "loss", N_("Loss in cup and tools"), Kind.PERCENT, "5 %", hint=N_("Learned from weighed parts; 5 % to begin.")
    ),
    Field("ratio", N_("Mix ratio by weight"), Kind.TEXT, hint=N_("A to B to …, such as 100:60.")),
    Field(
        "minimum-fill",
        N_("Least mass that fills this mold"),
        Kind.MASS,
        optional=True,
        hint=N_("From your own casts, when you know it."),
    ),
    Field("packing-low", N_("Sheet's lowest packing factor"), Kind.NUMBER, optional=True),
    Field("packing-high", N_("Sheet's highest packing factor"), Kind.NUMBER, optional=True),
    Field("cup", N_("Cup holds"), Kind.VOLUME, optional=True, hint=N_("To the brim.")),
)


def of_material(material: Material) -> Mapping[str, str]:
    """What the sheet says of the fields, as typed texts."""
    foam = material.foam
    known = {
        "ratio": ratio_text(material),
        "liquid": f"{material.density:g} g/cm3" if material.density else None,
    }
    if foam is not None:
        known |= {
            "free-rise": f"{foam.free_rise_density * 1000:g} kg/m3" if foam.free_rise_density else None,
            "expansion": f"{foam.expansion:g}" if foam.expansion else None,
            "packing-low": f"{foam.packing_low:g}" if foam.packing_low else None,
            "packing-high": f"{foam.packing_high:g}" if foam.packing_high else None,
        }
    return {key: text for key, text in known.items() if text is not None}

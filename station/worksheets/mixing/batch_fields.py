"""The fields of the worksheet for a batch, and what a material's sheet knows of them."""

from __future__ import annotations

from collections.abc import Mapping

from station.core.material import Basis, Material
from station.texts import N_
from station.worksheets.form import Field
from station.worksheets.kinds import Kind
from station.worksheets.mixing.batch_lines import additives_text
from station.worksheets.mixing.mixes import densities_text

WEIGHT, VOLUME = N_("by weight"), N_("by volume")

FIELDS = (
    Field("ratio", N_("Mix ratio"), Kind.TEXT, hint=N_("A to B to …, such as 100:60 or 10:1.")),
    Field(
        "basis",
        N_("It is"),
        Kind.CHOICE,
        choices=(WEIGHT, VOLUME),
        hint=N_("The sheet says which. It matters."),
    ),
    Field(
        "densities",
        N_("Densities of the components"),
        Kind.TEXT,
        optional=True,
        hint=N_("In g/cm³, in the same order, such as 1.06 : 0.98. Needed for a ratio by volume."),
    ),
    Field("mass", N_("Mix wanted, by mass"), Kind.MASS, optional=True, hint=N_("What goes into the mold.")),
    Field("volume", N_("or by volume"), Kind.VOLUME, optional=True, hint=N_("Of the cavity or the mold box.")),
    Field(
        "left",
        N_("or as much as is left allows"),
        Kind.LINES,
        optional=True,
        hint=N_("What is left of one component or several, one a line, such as A 640 g."),
    ),
    Field("density", N_("Density of the mix"), Kind.DENSITY, optional=True, hint=N_("For a batch by volume.")),
    Field(
        "loss",
        N_("Stays in cup and tools"),
        Kind.PERCENT,
        "0 %",
        hint=N_("3 % is a beginning (common practice, no source); weigh emptied cups to learn yours."),
    ),
    Field(
        "additives",
        N_("Additives"),
        Kind.LINES,
        optional=True,
        hint=N_("One a line: pigment 3 % of B; thinner 5 % of all (components); filler 10 % of whole mix."),
    ),
    Field("step", N_("Scale reads in steps of"), Kind.MASS, "0.1 g"),
    Field("within", N_("Allowed error of a component"), Kind.PERCENT, "2 %"),
    Field("additive-within", N_("Allowed error of an additive"), Kind.PERCENT, "10 %"),
)


def of_material(material: Material) -> Mapping[str, str]:
    """What the sheet says of the fields, as typed texts."""
    known = {
        "ratio": ":".join(f"{component.parts:g}" for component in material.components),
        "basis": VOLUME if material.basis is Basis.VOLUME else WEIGHT,
        "within": f"{material.tolerance_percent:g} %",
        "additives": additives_text(material),
    }
    if material.additives:
        known["additive-within"] = f"{min(one.tolerance_percent for one in material.additives):g} %"
    if (densities := densities_text(material)) is not None:
        known["densities"] = densities
    if material.density:
        known["density"] = f"{material.density:g} g/cm3"
    return known

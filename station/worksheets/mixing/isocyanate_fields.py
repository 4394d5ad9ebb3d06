"""The fields of the worksheet of equivalents, and what a material's sheet knows of them."""

from __future__ import annotations

from collections.abc import Mapping

from station.core.material import Material
from station.texts import N_
from station.worksheets.form import Field
from station.worksheets.kinds import Kind
from station.worksheets.plain import plain

FIELDS = (
    Field("nco", N_("NCO of the isocyanate side"), Kind.PERCENT, hint=N_("On its certificate.")),
    Field("oh", N_("OH number of the polyol side"), Kind.NUMBER, hint=N_("mg KOH/g, on its certificate.")),
    Field("acid", N_("Acid number of the polyol side"), Kind.NUMBER, optional=True, hint=N_("mg KOH/g.")),
    Field("polyol", N_("Polyol side"), Kind.MASS, "100 g", pan=True),
    Field("index", N_("Index"), Kind.NUMBER, "105", hint=N_("100: as much isocyanate as there is to take it.")),
    Field(
        "isocyanate",
        N_("Isocyanate really weighed"),
        Kind.MASS,
        optional=True,
        hint=N_("To see the index that it gives; empty: as reckoned here."),
        pan=True,
    ),
    Field("water", N_("Water in the polyol"), Kind.PERCENT, "0 %", hint=N_("By its certificate; damp air adds to it.")),
    Field("count-water", N_("Weigh the isocyanate for this water as well"), Kind.YES),
    Field("error", N_("Weighing error to look at"), Kind.PERCENT, "2 %"),
    Field(
        "can-water",
        N_("Water that got into a closed can"),
        Kind.MASS,
        optional=True,
        hint=N_("Of isocyanate."),
    ),
    Field("can-room", N_("Room above the liquid in that can"), Kind.VOLUME, optional=True),
    Field("can", N_("Temperature of that can"), Kind.TEMPERATURE, "23 °C"),
)


def of_material(material: Material) -> Mapping[str, str]:
    """What the sheet says of the fields, as typed texts."""
    known: dict[str, str] = {}
    for component in material.components:
        if component.nco_percent is not None:
            known["nco"] = f"{component.nco_percent:g}"
        if component.oh_number is not None:
            known["oh"] = plain(component.oh_number)
    return known

"""What a material sheet says, as labels and values for a page or a terminal."""

from __future__ import annotations

from station.core.material import TOTAL, Additive, Basis, Component, FoamFacts, Kit, Material, Times
from station.core.spans import span


def sheet_words(material: Material) -> tuple[tuple[str, str], ...]:
    """Every fact of the sheet that is known, in the order in which a caster asks for them."""
    said: list[tuple[str, str]] = [
        ("Material", material.title + (" (invented example)" if material.example else "")),
        ("Short name", material.key),
        ("Chemistry", material.chemistry.value),
        ("Mix ratio", f"{' : '.join(f'{c.name} {c.parts:g}' for c in material.components)} {material.basis.value}"),
        *_other_ratio(material),
        *((f"Component {c.name}", words) for c in material.components if (words := _component(c))),
        *((f"Additive {a.name}", _additive(a)) for a in material.additives),
        ("Allowed error", f"± {material.tolerance_percent:g} % of each component"),
        ("Weighed in this order", ", ".join(material.weigh_order)),
        ("Poured together into", f"the cup of {material.pour_into}"),
        ("Clings to a cup", f"{material.cling_percent:g} %"),
        *_times(material.times),
    ]
    if material.density:
        said.append(("Density of the mix", f"{material.density:g} g/cm³"))
    if material.foam is not None:
        said += _foam(material.foam)
    if material.hardness:
        said.append(("Hardness", material.hardness))
    if material.shrinkage_percent is not None:
        said.append(("Linear shrinkage", f"{material.shrinkage_percent:g} %"))
    said += [(f"Kit, {kit.title}", _kit(kit)) for kit in material.kits]
    said += [("To be at hand", item) for item in material.ready_items]
    said += [("Caution", caution) for caution in material.cautions]
    return tuple(said)


def _other_ratio(material: Material) -> list[tuple[str, str]]:
    told = [f"{c.name} {c.other_parts:g}" for c in material.components if c.other_parts is not None]
    other = Basis.WEIGHT if material.basis is Basis.VOLUME else Basis.VOLUME
    return [("The same", f"{' : '.join(told)} {other.value}")] if told else []


def _component(component: Component) -> str:
    words = [f"{component.density:g} g/cm³"] if component.density else []
    words += ["isocyanate: keep dry"] if component.isocyanate else []
    words += [f"{component.nco_percent:g} % NCO"] if component.nco_percent else []
    words += [f"OH number {component.oh_number:g} mg KOH/g"] if component.oh_number else []
    words += [f"keeps {component.opened_life_d:g} d once opened"] if component.opened_life_d else []
    return ", ".join(words)


def _additive(additive: Additive) -> str:
    of = "all components together" if additive.of == TOTAL else additive.of
    stirred = f", stirred in for {span(additive.premix_s)}" if additive.premix_s else ""
    return f"{additive.percent:g} % of {of}, into {additive.into}, ± {additive.tolerance_percent:g} %{stirred}"


def _times(times: Times) -> list[tuple[str, str]]:
    said = [
        ("Pot life", span(times.pot_life_s) + (f" for {times.pot_life_g:g} g" if times.pot_life_g else "")),
        ("Mix at least", span(times.mix_s)),
        ("Kept for pouring", span(times.pour_reserve_s)),
        ("Demold after", span(times.demold_s)),
    ]
    if times.full_cure_s:
        said.append(("Full cure after", span(times.full_cure_s)))
    said.append(("All that at", f"{times.reference_c:g} °C"))
    if times.coldest_c is not None or times.warmest_c is not None:
        said.append(("To be used", _range(times.coldest_c, times.warmest_c, " °C")))
    for row in times.at:
        each = [f"pot life {span(row.pot_life_s)}"] if row.pot_life_s else []
        each += [f"demold {span(row.demold_s)}"] if row.demold_s else []
        said.append((f"At {row.celsius:g} °C", ", ".join(each)))
    if times.pot_life_by_mass:
        each = [f"{p.mass_g:g} g {span(p.pot_life_s)}" for p in times.pot_life_by_mass]
        said.append(("Pot life by mass", ", ".join(each)))
    if times.activation_kj:
        said.append(("Activation energy", f"{times.activation_kj:g} kJ/mol"))
    return said


def _foam(foam: FoamFacts) -> list[tuple[str, str]]:
    said = [("Free-rise density", f"{foam.free_rise_density * 1000:g} kg/m³")] if foam.free_rise_density else []
    said += [("Expansion", f"{foam.expansion:g} times")] if foam.expansion else []
    if foam.packing_low or foam.packing_high:
        said.append(("Packing factor", _range(foam.packing_low, foam.packing_high, "")))
    return said


def _range(low: float | None, high: float | None, unit: str) -> str:
    ends = ["" if low is None else f"from {low:g}{unit}", "" if high is None else f"to {high:g}{unit}"]
    return " ".join(filter(None, ends))


def _kit(kit: Kit) -> str:
    return ", ".join(f"{part.component} {part.mass.g:g} g" for part in kit.parts) + f", {kit.price / 100:.2f}"

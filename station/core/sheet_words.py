"""What a material sheet says, as labels and values for a page or a terminal."""

from __future__ import annotations

from station.core.material import Component, Kit, Material


def span(seconds: float) -> str:
    """A time in the unit in which people say it: 50 s, 15 min, 6 h, 3 d."""
    for unit, worth in (("d", 86400.0), ("h", 3600.0), ("min", 60.0)):
        if seconds >= worth * (2 if unit == "d" else 1) and seconds % (worth / 2) == 0:
            return f"{seconds / worth:g} {unit}"
    return f"{seconds:g} s"


def sheet_words(material: Material) -> tuple[tuple[str, str], ...]:
    """Every fact of the sheet that is known, in the order in which a caster asks for them."""
    times, foam = material.times, material.foam
    said: list[tuple[str, str]] = [
        ("Material", material.title + (" (invented example)" if material.example else "")),
        ("Chemistry", material.chemistry.value),
        ("Mix ratio", f"{' : '.join(f'{c.name} {c.parts:g}' for c in material.components)} {material.basis.value}"),
        *((f"Component {c.name}", words) for c in material.components if (words := _component(c))),
        *(
            (a.name, f"{a.percent:g} % of {a.of}, into {a.into}, ± {a.tolerance_percent:g} %")
            for a in material.additives
        ),
        ("Allowed error", f"± {material.tolerance_percent:g} % of each component"),
        ("Pot life", span(times.pot_life_s) + (f" for {times.pot_life_g:g} g" if times.pot_life_g else "")),
        ("Mix at least", span(times.mix_s)),
        ("Kept for pouring", span(times.pour_reserve_s)),
        ("Demold after", span(times.demold_s)),
    ]
    if times.full_cure_s:
        said.append(("Full cure after", span(times.full_cure_s)))
    said.append(("All that at", f"{times.reference_c:g} °C"))
    if times.coldest_c is not None or times.warmest_c is not None:
        low = "" if times.coldest_c is None else f"from {times.coldest_c:g} °C"
        high = "" if times.warmest_c is None else f"to {times.warmest_c:g} °C"
        said.append(("To be used", f"{low} {high}".strip()))
    for row in times.at:
        each = [f"pot life {span(row.pot_life_s)}"] if row.pot_life_s else []
        each += [f"demold {span(row.demold_s)}"] if row.demold_s else []
        said.append((f"At {row.celsius:g} °C", ", ".join(each)))
    if times.pot_life_by_mass:
        said.append(
            ("Pot life by mass", ", ".join(f"{p.mass_g:g} g {span(p.pot_life_s)}" for p in times.pot_life_by_mass))
        )
    if times.activation_kj:
        said.append(("Activation energy", f"{times.activation_kj:g} kJ/mol"))
    if material.density:
        said.append(("Density of the mix", f"{material.density:g} g/cm³"))
    if foam is not None:
        if foam.free_rise_density:
            said.append(("Free-rise density", f"{foam.free_rise_density * 1000:g} kg/m³"))
        if foam.expansion:
            said.append(("Expansion", f"{foam.expansion:g} times"))
        if foam.packing_low and foam.packing_high:
            said.append(("Packing factor", f"{foam.packing_low:g} to {foam.packing_high:g}"))
    if material.hardness:
        said.append(("Hardness", material.hardness))
    if material.shrinkage_percent is not None:
        said.append(("Linear shrinkage", f"{material.shrinkage_percent:g} %"))
    said += [(f"Kit, {kit.title}", _kit(kit)) for kit in material.kits]
    said += [("Caution", caution) for caution in material.cautions]
    return tuple(said)


def _component(component: Component) -> str:
    words = [f"{component.density:g} g/cm³"] if component.density else []
    words += ["isocyanate: keep dry"] if component.isocyanate else []
    words += [f"{component.nco_percent:g} % NCO"] if component.nco_percent else []
    words += [f"OH number {component.oh_number:g}"] if component.oh_number else []
    words += [f"keeps {component.opened_life_d:g} d once opened"] if component.opened_life_d else []
    return ", ".join(words)


def _kit(kit: Kit) -> str:
    return ", ".join(f"{part.component} {part.mass.g:g} g" for part in kit.parts) + f", {kit.price / 100:.2f}"

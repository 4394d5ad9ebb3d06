"""What a material sheet says, as labels and values for a page or a terminal."""

from __future__ import annotations

from station.core.material import TOTAL, Additive, Basis, Component, FoamFacts, Kit, Material, Times
from station.core.spans import span
from station.texts import number, t


def sheet_words(material: Material) -> tuple[tuple[str, str], ...]:
    """Every fact of the sheet that is known, in the order in which a caster asks for them."""
    said: list[tuple[str, str]] = [
        (t("Material"), material.title + (t(" (invented example)") if material.example else "")),
        (t("Short name"), material.key),
        (t("Chemistry"), t(material.chemistry.value)),
        (t("Mix ratio"), _ratio([(c.name, c.parts) for c in material.components], material.basis)),
        *_other_ratio(material),
        *((t("Component {c}", c=c.name), words) for c in material.components if (words := _component(c))),
        *((t("Additive {a}", a=a.name), _additive(a)) for a in material.additives),
        (
            t("Allowed error"),
            t(
                "± {tolerance_percent} % of each component",
                tolerance_percent=number(material.tolerance_percent),
            ),
        ),
        (t("Weighed in this order"), ", ".join(material.weigh_order)),
        (t("Poured together into"), t("the cup of {pour_into}", pour_into=material.pour_into)),
        (t("Clings to a cup"), f"{number(material.cling_percent)} %"),
        *_times(material.times),
    ]
    if material.density:
        said.append((t("Density of the mix"), f"{number(material.density)} g/cm³"))
    if material.foam is not None:
        said += _foam(material.foam)
    if material.hardness:
        said.append((t("Hardness"), material.hardness))
    if material.shrinkage_percent is not None:
        said.append((t("Linear shrinkage"), f"{number(material.shrinkage_percent)} %"))
    said += [(t("Kit, {kit}", kit=kit.title), _kit(kit)) for kit in material.kits]
    said += [(t("To be at hand"), item) for item in material.ready_items]
    said += [(t("Caution"), caution) for caution in material.cautions]
    return tuple(said)


def _other_ratio(material: Material) -> list[tuple[str, str]]:
    told = [(c.name, c.other_parts) for c in material.components if c.other_parts is not None]
    other = Basis.WEIGHT if material.basis is Basis.VOLUME else Basis.VOLUME
    return [(t("The same"), _ratio(told, other))] if told else []


def _ratio(parts: list[tuple[str, float]], basis: Basis) -> str:
    return " : ".join(f"{name} {number(part)}" for name, part in parts) + f" {t(basis.value)}"


def _component(component: Component) -> str:
    words = [f"{number(component.density)} g/cm³"] if component.density else []
    words += [t("isocyanate: keep dry")] if component.isocyanate else []
    words += [f"{number(component.nco_percent)} % NCO"] if component.nco_percent else []
    words += [t("OH number {oh_number} mg KOH/g", oh_number=number(component.oh_number))] if component.oh_number else []
    words += (
        [t("keeps {opened_life_d} d once opened", opened_life_d=number(component.opened_life_d))]
        if component.opened_life_d
        else []
    )
    return ", ".join(words)


def _additive(additive: Additive) -> str:
    of = t("all components together") if additive.of == TOTAL else additive.of
    stirred = t(", stirred in for {premix_s}", premix_s=span(additive.premix_s)) if additive.premix_s else ""
    return t(
        "{percent} % of {of}, into {into}, ± {tolerance_percent} %{stirred}",
        percent=number(additive.percent),
        of=of,
        into=additive.into,
        tolerance_percent=number(additive.tolerance_percent),
        stirred=stirred,
    )


def _times(times: Times) -> list[tuple[str, str]]:
    said = [
        (
            t("Pot life"),
            span(times.pot_life_s)
            + (t(" for {pot_life_g} g", pot_life_g=number(times.pot_life_g)) if times.pot_life_g else ""),
        ),
        (t("Mix at least"), span(times.mix_s)),
        (t("Kept for pouring"), span(times.pour_reserve_s)),
        (t("Demold after"), span(times.demold_s)),
    ]
    if times.full_cure_s:
        said.append((t("Full cure after"), span(times.full_cure_s)))
    said.append((t("All that at"), f"{number(times.reference_c)} °C"))
    if times.coldest_c is not None or times.warmest_c is not None:
        said.append((t("To be used"), _range(times.coldest_c, times.warmest_c, " °C")))
    for row in times.at:
        each = [t("pot life {pot_life_s}", pot_life_s=span(row.pot_life_s))] if row.pot_life_s else []
        each += [t("demold {demold_s}", demold_s=span(row.demold_s))] if row.demold_s else []
        said.append((t("At {celsius} °C", celsius=number(row.celsius)), ", ".join(each)))
    if times.pot_life_by_mass:
        each = [f"{number(p.mass_g)} g {span(p.pot_life_s)}" for p in times.pot_life_by_mass]
        said.append((t("Pot life by mass"), ", ".join(each)))
    if times.activation_kj:
        said.append((t("Activation energy"), f"{number(times.activation_kj)} kJ/mol"))
    return said


def _foam(foam: FoamFacts) -> list[tuple[str, str]]:
    said = (
        [(t("Free-rise density"), f"{number(foam.free_rise_density * 1000)} kg/m³")] if foam.free_rise_density else []
    )
    said += [(t("Expansion"), t("{expansion} times", expansion=number(foam.expansion)))] if foam.expansion else []
    if foam.packing_low or foam.packing_high:
        said.append((t("Packing factor"), _range(foam.packing_low, foam.packing_high, "")))
    return said


def _range(low: float | None, high: float | None, unit: str) -> str:
    least, most = ("" if end is None else f"{number(end)}{unit}" for end in (low, high))
    if least and most:
        return t("from {least} to {most}", least=least, most=most)
    return t("from {least}", least=least) if least else t("to {most}", most=most) if most else ""


def _kit(kit: Kit) -> str:
    return ", ".join(
        [*(f"{part.component} {number(part.mass.g)} g" for part in kit.parts), number(kit.price / 100, ".2f")]
    )

"""Worksheet: the mass of every component and additive of a batch, in steps that the scale can show."""

from __future__ import annotations

from collections.abc import Mapping

from station.casting.batch import Recipe, grown_for_loss, mixed_density
from station.casting.ratio import volume_shares, weight_shares
from station.casting.rounding import rounded
from station.core.material import Basis, Material
from station.errors import Refused
from station.metrology.promise import ScalePromise
from station.worksheets.form import Field, Figure, Row, Table, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.mixing.batch_lines import additives, additives_text, left_of
from station.worksheets.mixing.mixes import densities_as_printed, densities_text, parts_of
from station.worksheets.mixing.ratio_drawing import bars
from station.worksheets.plain import plain

WEIGHT, VOLUME = "by weight", "by volume"


def work(values: Values) -> Worked:
    """Exact and rounded masses. Raises Refused where they do not go together or the scale is too coarse."""
    parts = parts_of(values["ratio"])
    dense = {name: one.value for name, one in densities_as_printed(values["densities"], tuple(parts)).items()}
    by_volume = values["basis"] == VOLUME
    if by_volume and not dense:
        raise Refused("A ratio by volume needs the density of every component.", "They are on the data sheet.")
    found = weight_shares(tuple(parts.values()), tuple(dense.values()) if by_volume else None)
    shares = dict(zip(parts, found, strict=True))
    recipe = Recipe(shares, additives(values["additives"], shares))
    left = left_of(values["left"], (*recipe.components, *recipe.additives))
    total, how = _total(values, recipe, dense, left)
    exact = recipe.masses(total)
    shown = rounded(
        recipe,
        total,
        values["step"],
        values["within"],
        additive_percent=values["additive-within"],
        left_g=left or None,
    )
    rows = [Row("Mix in all", f"{plain(shown.total_g, 8)} g", how)]
    rows += [
        Row(name, f"{plain(mass, 8)} g", _share_rule(name, exact[name], total, parts if not by_volume else {}, recipe))
        for name, mass in shown.masses.items()
    ]
    allowed = f"in steps of {values['step']:g} g; ± {values['within']:g} % of each component's ratio to A allowed"
    rows.append(Row("Error that the steps leave", f"{shown.error_percent:.2g} %", allowed))
    figures: dict[str, Figure | dict[str, Figure]] = {
        "total_g": total,
        "poured_g": total * (1 - values["loss"] / 100),
        "masses_g": dict(exact),
        "shown_g": dict(shown.masses),
        "shown_total_g": shown.total_g,
        "rounding_error_percent": shown.error_percent,
    }
    tables: tuple[Table, ...] = ()
    if dense:
        tables = (_by_volume(recipe, exact, dense),)
        figures["mixed_density_g_cm3"] = mixed_density(shares, dense)
    return Worked(
        tuple(rows),
        figures,
        warnings=_too_small(recipe, exact, values["step"], values["within"]),
        notes=(
            "Weigh. Measured by volume, what clings to the measure and air in the liquid change the ratio.",
            "Too much of one in the cup? Work the others out from what is really there; never add a bit more hardener.",
        ),
        drawings=(bars("The batch", (("mass", exact),), unit="g"),),
        tables=tables,
    )


def _total(values: Values, recipe: Recipe, dense: Mapping[str, float], left: Mapping[str, float]) -> tuple[float, str]:
    """Grams to mix, and how they come about. One of mass, volume and what is left counts."""
    given = [key for key in ("mass", "volume", "left") if values[key] not in (None, ())]
    if len(given) != 1:
        raise Refused(
            f"How much is wanted is said {'more than once' if given else 'not at all'}.",
            "Fill in the mass, or the volume, or what is left of a component.",
        )
    loss = values["loss"]
    if left:
        total, limit = recipe.largest(left)
        grown_for_loss(total, loss)  # refuses a loss that cannot be
        poured = f", of which {plain(total * (1 - loss / 100))} g are poured" if loss else ""
        return total, f"{limit} limits it: the {left[limit]:g} g left of it make {plain(total)} g of mix{poured}"
    if values["mass"] is not None:
        wanted, said = values["mass"], f"{values['mass']:g} g wanted"
    else:
        known, how = values["density"], "of the mix"
        if known is None:
            known, how = mixed_density(recipe.components, dense), "as the volumes add up, an estimate"
        wanted = values["volume"] * known
        said = f"{plain(wanted)} g = {values['volume']:g} cm³ × {plain(known, 4)} g/cm³ {how}"
    total = grown_for_loss(wanted, loss)
    grown = f"; {plain(total)} g = {plain(wanted)} g ÷ (1 − {loss:g}/100) for what stays in the cup" if loss else ""
    return total, said + grown


def _share_rule(name: str, exact: float, total: float, parts: Mapping[str, float], recipe: Recipe) -> str:
    if name in parts and not recipe.additives:
        share = f"{parts[name]:g}/{plain(sum(parts.values()), 8)} by weight"
    else:
        share = f"{plain(100 * exact / total)} % of the mix"
    return f"exactly {plain(exact, 6)} g = {plain(total, 6)} g × {share}"


def _too_small(recipe: Recipe, exact: Mapping[str, float], step: float, within: float) -> tuple[str, ...]:
    """Whether the scale can hold the ratio at this size, by the rounding of its display alone."""
    least = ScalePromise(step, 1e7 * step).smallest_g(within)
    short = {name: exact[name] for name in recipe.components if least is not None and exact[name] < least}
    if least is None or not short:
        return ()
    name = min(short, key=short.__getitem__)
    needed = sum(exact.values()) * least / short[name]
    return (
        f"{plain(short[name], 3)} g of {name} is little for this scale: with steps of {step:g} g its own rounding "
        f"exceeds ± {within:g} % below {plain(least, 3)} g. Mix {plain(needed, 3)} g or more, or use a finer scale.",
    )


def _by_volume(recipe: Recipe, exact: Mapping[str, float], dense: Mapping[str, float]) -> Table:
    names = tuple(recipe.components)
    shares = volume_shares([recipe.components[name] for name in names], [dense[name] for name in names])
    rows = tuple(
        (name, f"{exact[name]:.1f} g", f"{exact[name] / dense[name]:.1f} cm³", f"{100 * share:.4g} %")
        for name, share in zip(names, shares, strict=True)
    )
    return Table("The components by volume", ("", "mass", "volume", "share by volume"), rows)


def _of_material(material: Material) -> Mapping[str, str]:
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


BATCH = Worksheet(
    "batch",
    "Batch",
    "How much of each component and additive do I weigh?",
    (
        Field("ratio", "Mix ratio", Kind.TEXT, hint="A to B to …, such as 100:60 or 10:1."),
        Field("basis", "It is", Kind.CHOICE, choices=(WEIGHT, VOLUME), hint="The sheet says which. It matters."),
        Field(
            "densities",
            "Densities of the components",
            Kind.TEXT,
            optional=True,
            hint="In g/cm³, in the same order, such as 1.06 : 0.98. Needed for a ratio by volume.",
        ),
        Field("mass", "Mix wanted, by mass", Kind.MASS, optional=True, hint="What goes into the mold."),
        Field("volume", "or by volume", Kind.VOLUME, optional=True, hint="Of the cavity or the mold box."),
        Field(
            "left",
            "or as much as is left allows",
            Kind.LINES,
            optional=True,
            hint="What is left of one component or several, one a line, such as A 640 g.",
        ),
        Field("density", "Density of the mix", Kind.DENSITY, optional=True, hint="For a batch by volume."),
        Field(
            "loss",
            "Stays in cup and tools",
            Kind.PERCENT,
            "0 %",
            hint="3 % is a beginning (common practice, no source); weigh emptied cups to learn yours.",
        ),
        Field(
            "additives",
            "Additives",
            Kind.LINES,
            optional=True,
            hint="One a line: pigment 3 % of B; thinner 5 % of all (components); filler 10 % of whole mix.",
        ),
        Field("step", "Scale reads in steps of", Kind.MASS, "0.1 g"),
        Field("within", "Allowed error of a component", Kind.PERCENT, "2 %"),
        Field("additive-within", "Allowed error of an additive", Kind.PERCENT, "10 %"),
    ),
    work,
    _of_material,
)

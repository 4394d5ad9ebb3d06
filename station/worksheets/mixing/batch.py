"""Worksheet: the mass of every component and additive of a batch, in steps that the scale can show."""

from __future__ import annotations

from collections.abc import Mapping

from station.casting.batch import Recipe, grown_for_loss, mixed_density
from station.casting.ratio import volume_shares, weight_shares
from station.casting.rounding import rounded
from station.core.mass import ZERO, Mass
from station.core.material import ScaleCard
from station.core.pourable import Dose, small_doses
from station.errors import Refused
from station.metrology.promise import ScalePromise
from station.texts import N_, number, t
from station.worksheets.form import Figure, Row, Table, Values, Worked, Worksheet
from station.worksheets.mixing.batch_fields import FIELDS, VOLUME, of_material
from station.worksheets.mixing.batch_lines import additives, left_of
from station.worksheets.mixing.mixes import densities_as_printed, parts_of
from station.worksheets.mixing.ratio_drawing import bars
from station.worksheets.plain import plain


def work(values: Values) -> Worked:
    """Exact and rounded masses. Raises Refused where they do not go together or the scale is too coarse."""
    parts = parts_of(values["ratio"])
    dense = {name: one.value for name, one in densities_as_printed(values["densities"], tuple(parts)).items()}
    by_volume = values["basis"] == VOLUME
    if by_volume and not dense:
        raise Refused(t("A ratio by volume needs the density of every component."), t("They are on the data sheet."))
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
    rows = [Row(t("Mix in all"), f"{plain(shown.total_g, 8)} g", how)]
    rows += [
        Row(name, f"{plain(mass, 8)} g", _share_rule(name, exact[name], total, parts if not by_volume else {}, recipe))
        for name, mass in shown.masses.items()
    ]
    allowed = t(
        "in steps of {step} g; ± {within} % of each component's ratio to A allowed",
        step=number(values["step"]),
        within=number(values["within"]),
    )
    rows.append(Row(t("Error that the steps leave"), f"{number(shown.error_percent, '.2g')} %", allowed))
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
        warnings=(
            *_too_small(recipe, exact, values["step"], values["within"]),
            *_too_small_to_pour(recipe, exact, values),
        ),
        notes=(
            t("Weigh. Measured by volume, what clings to the measure and air in the liquid change the ratio."),
            t(
                "Too much of one in the cup? Work the others out from what is really there; never add a bit more "
                "hardener."
            ),
        ),
        drawings=(bars(t("The batch"), ((t("mass"), exact),), unit="g"),),
        tables=tables,
    )


def _total(values: Values, recipe: Recipe, dense: Mapping[str, float], left: Mapping[str, float]) -> tuple[float, str]:
    """Grams to mix, and how they come about. One of mass, volume and what is left counts."""
    given = [key for key in ("mass", "volume", "left") if values[key] not in (None, ())]
    if len(given) != 1:
        raise Refused(
            t("How much is wanted is said more than once.") if given else t("How much is wanted is said not at all."),
            t("Fill in the mass, or the volume, or what is left of a component."),
        )
    loss = values["loss"]
    if left:
        total, limit = recipe.largest(left)
        grown_for_loss(total, loss)  # refuses a loss that cannot be
        return total, _limited(limit, left[limit], total, loss)
    wanted, said = _wanted(values, recipe, dense)
    total = grown_for_loss(wanted, loss)
    if not loss:
        return total, said
    grown = t(
        "{total} g = {wanted} g ÷ (1 − {loss}/100) for what stays in the cup",
        total=plain(total),
        wanted=plain(wanted),
        loss=number(loss),
    )
    return total, f"{said}; {grown}"


def _limited(limit: str, left_g: float, total: float, loss: float) -> str:
    """The rule of a batch that is as large as what is left of one component allows."""
    if not loss:
        return t(
            "{limit} limits it: the {left} g left of it make {total} g of mix",
            limit=limit,
            left=number(left_g),
            total=plain(total),
        )
    return t(
        "{limit} limits it: the {left} g left of it make {total} g of mix, of which {poured} g are poured",
        limit=limit,
        left=number(left_g),
        total=plain(total),
        poured=plain(total * (1 - loss / 100)),
    )


def _wanted(values: Values, recipe: Recipe, dense: Mapping[str, float]) -> tuple[float, str]:
    """Grams that are wanted in the mold, and how they come about."""
    if values["mass"] is not None:
        return values["mass"], t("{mass} g wanted", mass=number(values["mass"]))
    known, rule = values["density"], N_("{wanted} g = {volume} cm³ × {density} g/cm³ of the mix")
    if known is None:
        known = mixed_density(recipe.components, dense)
        rule = N_("{wanted} g = {volume} cm³ × {density} g/cm³ as the volumes add up, an estimate")
    wanted = values["volume"] * known
    return wanted, t(rule, wanted=plain(wanted), volume=number(values["volume"]), density=plain(known, 4))


def _share_rule(name: str, exact: float, total: float, parts: Mapping[str, float], recipe: Recipe) -> str:
    if name in parts and not recipe.additives:
        return t(
            "exactly {exact} g = {total} g × {part}/{parts} by weight",
            exact=plain(exact, 6),
            total=plain(total, 6),
            part=number(parts[name]),
            parts=plain(sum(parts.values()), 8),
        )
    return t(
        "exactly {exact} g = {total} g × {share} % of the mix",
        exact=plain(exact, 6),
        total=plain(total, 6),
        share=plain(100 * exact / total),
    )


def _too_small(recipe: Recipe, exact: Mapping[str, float], step: float, within: float) -> tuple[str, ...]:
    """Whether the scale can hold the ratio at this size, by the rounding of its display alone."""
    least = ScalePromise(step, 1e7 * step).smallest_g(within)
    short = {name: exact[name] for name in recipe.components if least is not None and exact[name] < least}
    if least is None or not short:
        return ()
    name = min(short, key=short.__getitem__)
    needed = sum(exact.values()) * least / short[name]
    return (
        t(
            "{short} g of {name} is little for this scale: with steps of {step} g its own rounding exceeds ± {within} "
            "% below {least} g. Mix {needed} g or more, or use a finer scale.",
            short=plain(short[name], 3),
            name=name,
            step=number(step),
            within=number(within),
            least=plain(least, 3),
            needed=plain(needed, 3),
        ),
    )


def _too_small_to_pour(recipe: Recipe, exact: Mapping[str, float], values: Values) -> tuple[str, ...]:
    """Whether pouring can hit every mass, by what is usual of hands and drops on a scale of these steps."""
    step = Mass.nearest(values["step"])
    if step <= ZERO:
        return ()
    card = ScaleCard(step, Mass.nearest(1e7 * values["step"]))
    doses = (
        Dose(name, Mass.nearest(grams), values["within" if name in recipe.components else "additive-within"])
        for name, grams in exact.items()
    )
    return small_doses(doses, sum(exact.values()), card)


def _by_volume(recipe: Recipe, exact: Mapping[str, float], dense: Mapping[str, float]) -> Table:
    names = tuple(recipe.components)
    shares = volume_shares([recipe.components[name] for name in names], [dense[name] for name in names])
    rows = tuple(
        (
            name,
            f"{number(exact[name], '.1f')} g",
            f"{number(exact[name] / dense[name], '.1f')} cm³",
            f"{number(100 * share, '.4g')} %",
        )
        for name, share in zip(names, shares, strict=True)
    )
    return Table(t("The components by volume"), ("", t("mass"), t("volume"), t("share by volume")), rows)


BATCH = Worksheet(
    "batch",
    N_("Batch"),
    N_("How much of each component and additive do I weigh?"),
    FIELDS,
    work,
    of_material,
)

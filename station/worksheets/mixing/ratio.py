"""Worksheets of mixing: a batch, one ratio told by weight and by volume, and what stays in the cup."""

from __future__ import annotations

from collections.abc import Mapping

from station.casting.two_ratios import compared
from station.core.material import Basis, Material
from station.errors import Refused
from station.texts import N_, number, t
from station.worksheets.form import Field, Row, Values, Worked, Worksheet
from station.worksheets.kinds import Kind
from station.worksheets.mixing.batch import BATCH
from station.worksheets.mixing.cup_loss import CUP_LOSS
from station.worksheets.mixing.mixes import NAMES, densities_as_printed, densities_text, parts_as_printed
from station.worksheets.mixing.ratio_drawing import bars
from station.worksheets.plain import plain


def work(values: Values) -> Worked:
    """Compare both statements. Raises Refused when they do not name the same components."""
    weights, volumes = parts_as_printed(values["weight"]), parts_as_printed(values["volume"])
    if len(weights) != len(volumes):
        raise Refused(
            t("The two ratios name different numbers of components."), t("Write both in the same order, A first.")
        )
    names = NAMES[: len(weights)]
    dense = densities_as_printed(values["densities"], names)
    found = compared(weights, volumes, tuple(dense.values()))
    stated = dict(zip(names, found.weight_shares, strict=True))
    reckoned = dict(zip(names, found.volume_as_weight_shares, strict=True))
    terms = ", ".join(
        f"{name} {number(volume.value)} × {number(dense[name].value)}"
        for name, volume in zip(names, volumes, strict=True)
    )
    rows = (
        Row(t("By weight, as stated"), _to_hundred(stated), t("A set to 100")),
        Row(
            t("By volume, as weight"),
            _to_hundred(reckoned),
            t("parts × g/cm³: {terms}; A set to 100", terms=terms),
        ),
        Row(
            t("Apart"),
            f"{plain(found.percent, 2)} %",
            t("the printed digits leave {percent} % open", percent=plain(found.rounding_percent, 2)),
        ),
    )
    said = found.sentence(names)
    ask = t("Ask the supplier which holds; until then weigh by the ratio that is stated by weight.")
    drawn = ((t("as stated by weight"), stated), (t("as stated by volume"), reckoned))
    return Worked(
        rows,
        {
            "apart_percent": found.percent,
            "rounding_percent": found.rounding_percent,
            "agrees": found.agrees,
            "by_weight": list(found.weight_shares),
            "by_volume_as_weight": list(found.volume_as_weight_shares),
        },
        warnings=() if found.agrees else (f"{said} {ask}",),
        notes=(said,) if found.agrees else (),
        drawings=(bars(t("Shares by weight"), drawn),),
    )


def _to_hundred(shares: Mapping[str, float]) -> str:
    return " : ".join(plain(100 * share / shares["A"], 4) for share in shares.values())


def _of_material(material: Material) -> Mapping[str, str]:
    parts = [component.parts for component in material.components]
    other = [component.other_parts for component in material.components]
    told = {material.basis: ":".join(f"{part:g}" for part in parts)}
    if all(other):
        told[Basis.WEIGHT if material.basis is Basis.VOLUME else Basis.VOLUME] = ":".join(f"{part:g}" for part in other)
    known = {"weight": told.get(Basis.WEIGHT), "volume": told.get(Basis.VOLUME), "densities": densities_text(material)}
    return {key: text for key, text in known.items() if text is not None}


TWO_RATIOS = Worksheet(
    "two-ratios",
    N_("Ratio by weight against ratio by volume"),
    N_("My sheet gives both: do they say the same?"),
    (
        Field("weight", N_("Ratio by weight"), Kind.TEXT, hint=N_("As printed, such as 100:92: its digits count.")),
        Field("volume", N_("Ratio by volume"), Kind.TEXT, hint=N_("As printed, such as 1:1.")),
        Field("densities", N_("Densities of the components"), Kind.TEXT, hint=N_("In g/cm³, such as 1.06 : 0.98.")),
    ),
    work,
    _of_material,
)

WORKSHEETS: tuple[Worksheet, ...] = (BATCH, TWO_RATIOS, CUP_LOSS)

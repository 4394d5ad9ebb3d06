"""What is mixed for a mold box, and in how many pours it goes: at once, or a half of a two-piece mold at a time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from station.casting.box_pours import Pours, pours
from station.casting.moldbox import Plan
from station.casting.parting import halves
from station.casting.ratio import weight_shares
from station.errors import Refused
from station.texts import N_, number, t
from station.worksheets.form import Row, Values
from station.worksheets.plain import plain
from station.worksheets.room.box_words import mass_rule

_KEYS = N_(
    "Press keys into the bedding of the first half, so that both halves find each other, and let it cure; brush "
    "release on it before the second, or both grow together."
)


@dataclass(frozen=True, slots=True)
class Mix:
    """`grams` of mix, and the parts by weight of its components."""

    grams: float
    parts: Mapping[str, float]

    @property
    def masses(self) -> dict[str, float]:
        """Mass of each component, g."""
        shares = weight_shares(tuple(self.parts.values()))
        return {name: self.grams * share for name, share in zip(self.parts, shares, strict=True)}


@dataclass(frozen=True, slots=True)
class Batch:
    """Rows, figures and notes of what is mixed; `largest` is the count of pours of what is poured at once."""

    rows: tuple[Row, ...]
    figures: Mapping[str, float]
    notes: tuple[str, ...]
    largest: int


def batch(made: Plan, mix: Mix, values: Values) -> Batch:
    """The batch for the box, or for both halves where a parting line is given. Raises Refused."""
    rows = [
        Row(t("Silicone to mix"), f"{plain(mix.grams, 5)} g", mass_rule(made, values["density"], values["loss"])),
        *(
            Row(name, f"{plain(grams, 5)} g", f"{plain(mix.grams, 6)} g × {_part(mix, name)}")
            for name, grams in mix.masses.items()
        ),
    ]
    if values["parting"] is None:
        if values["below"] is not None:
            raise Refused(
                t("How much of the positive lies below the parting line is given, but not where that line is."),
                t("Give its height above the bottom of the positive."),
            )
        lot = _pours(mix.grams, values)
        rows.append(Row(t("Pours"), str(lot.count), _pour_words(lot)))
        return Batch(tuple(rows), {"pours": lot.count, "each_pour_g": lot.each_g}, (), lot.count)
    two = halves(made, values["parting"], values["below"])
    per_cm3 = mix.grams / made.silicone
    lots = []
    for name, cm3, how in (
        (
            t("Lower half"),
            two.below,
            t("up to {parting} mm of the positive, {how}", parting=plain(values["parting"]), how=two.how),
        ),
        (t("Upper half"), two.above, t("the rest of the silicone")),
    ):
        half = Mix(cm3 * per_cm3, mix.parts)
        lot = _pours(half.grams, values)
        lots.append((half, lot))
        each = " + ".join(f"{part} {plain(grams, 5)} g" for part, grams in half.masses.items())
        rule = t("{cm3} cm³ {how}; {each}. {pours}", cm3=plain(cm3, 5), how=how, each=each, pours=_pour_words(lot))
        rows.append(Row(name, f"{plain(half.grams, 5)} g", rule))
    (lower, low), (upper, up) = lots
    after = t("lower half and upper half, one after the other has cured")
    rows.append(Row(t("Pours"), f"{low.count} + {up.count}", after))
    figures = {
        "pours": low.count + up.count,
        "lower_cm3": two.below,
        "upper_cm3": two.above,
        "lower_g": lower.grams,
        "upper_g": upper.grams,
        "lower_pours": low.count,
        "upper_pours": up.count,
    }
    return Batch(tuple(rows), figures, (t(_KEYS),), max(low.count, up.count))


def kits_link(mix: Mix) -> str:
    """Where it is worked out what to buy."""
    need = "\n".join(f"{name} {plain(grams, 5)} g" for name, grams in mix.masses.items())
    return f"/work/kits?{urlencode({'need': need})}"


def _part(mix: Mix, name: str) -> str:
    return f"{number(mix.parts[name])}/{plain(sum(mix.parts.values()))}"


def _pours(grams: float, values: Values) -> Pours:
    return pours(grams, cup_holds_g=values["cup"], scale_most_g=values["maximum"], cup_g=values["cup-empty"] or 0.0)


def _pour_words(lot: Pours) -> str:
    return " ".join((t("{grams} g each pour.", grams=plain(lot.each_g, 5)), *lot.reasons))
